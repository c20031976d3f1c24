"""The catalogue and the firm's rules as the engine takes them, on a day."""

from collections import defaultdict
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from contractor.company.current import firm
from contractor.company.models import Company, LoadCase, OverheadMode, PaymentStep, TaxRate, Trigger
from contractor.company.models import DepositRule as Limit
from contractor.company.models import TaxMode as Mode
from estimating.catalogue.models import (
    Fixing,
    Item,
    JointRule,
    JointRulePart,
    Kind,
    LabourFactor,
    LabourRate,
    LiftBasis,
    Price,
    StandingChoices,
    Stick,
)
from estimating.catalogue.models.items import GOODS, WOOD
from estimating.engine import parts
from estimating.engine.lumber import weight_lb_per_ft, wood_density_lb_per_cuft

from .choices import CHOICE_LABELS, CHOICES, ESSENTIAL
from .prices import current_prices, firm_currency
from .refusals import CatalogueNotReady

TAX_MODES = {
    Mode.SHOP_PAYS: "shop_is_end_user",
    Mode.MATERIALS: "separated_materials",
    Mode.WHOLE_PRICE: "whole_price",
    Mode.BOTH: "end_user_and_whole_price",
    Mode.EXEMPT: "exempt",
}
TAXED_TO_CUSTOMER = (Mode.MATERIALS, Mode.WHOLE_PRICE, Mode.BOTH)
SHARE = Decimal("0.000001")
HUNDRED = Decimal(100)


def engine_catalogue(*, on: date) -> parts.Catalogue:
    """Everything in the catalogue with the prices that count on this day.

    Retired items are in it, so that a spec that names one can still be worked out; pages that offer a choice take
    `Item.objects.offered()` instead. Raises CatalogueNotReady, a SpecFaults, while `catalogue_gaps` has something to
    say: a standing choice that every dock needs is missing.
    """
    standing = StandingChoices.objects.first() or StandingChoices(pk=1)
    if gaps := _gaps(standing):
        raise CatalogueNotReady(gaps)
    shelf = _Shelf(on)
    return parts.Catalogue(
        lumber={item.code: shelf.lumber(item) for item in shelf.items if item.kind in WOOD},
        floats={item.code: shelf.float_item(item) for item in shelf.items if item.kind == Kind.FLOAT},
        goods={item.code: shelf.good(item) for item in shelf.items if item.kind in GOODS},
        joint_rules=shelf.joint_rules(),
        standing=shelf.standing(standing),
        currency=firm_currency(),
        on=on,
        stale_after_days=standing.stale_after_days,
    )


def firm_rules(*, on: date) -> parts.FirmRules:
    """The firm's money and hours rules, with the tax rates in force on this day."""
    company = firm() or Company()
    habits = StandingChoices.objects.first() or StandingChoices(pk=1)
    per_hour = company.overhead_mode == OverheadMode.PER_HOUR
    deposit, instalments = _payments(company, list(PaymentStep.objects.all()))
    return parts.FirmRules(
        labour_rates=tuple(_rate(rate) for rate in LabourRate.objects.all()),
        labour_factors=tuple(parts.LabourFactor(f.when, f.name, f.factor) for f in LabourFactor.objects.all()),
        wage_per_hour=company.wage_per_hour,
        burden_percent=company.burden_percent,
        mileage_rate=company.mileage_rate,
        overhead_per_hour=company.overhead_figure if per_hour else None,
        overhead_percent=None if per_hour else company.overhead_figure,
        margin_percent=company.margin_percent,
        floor_margin_percent=company.floor_margin_percent,
        contingency_percent=company.contingency_percent,
        contingency_unknown_percent=company.contingency_unknown_percent,
        rounding_step=Decimal(company.price_step),
        tax=_tax(company, on),
        deposit=deposit,
        instalments=instalments,
        hours_rounding=habits.hours_rounding,
        live_load_psf=company.live_load_psf,
        person_lb=company.person_weight_lb,
        freight=habits.freight,
        leftovers_to_stock=habits.leftovers_to_stock,
        day_hours=habits.day_hours,
        travel_mph=habits.travel_mph,
        flotation=_flotation(company),
        range=parts.RangeRules(
            comfortable=company.ramp_comfortable,
            steep=company.ramp_steep,
            refuse=company.ramp_refuse,
            clearance_in=company.float_clearance_in,
        ),
        mooring=_mooring(company),
        saw=parts.SawRules(kerf_in=company.kerf_in, end_trim_in=company.end_trim_in),
    )


def _flotation(company: Company) -> parts.FlotationRules:
    asked = {
        "firm": company.asks_firm,
        "landing-float": company.asks_landing_float,
        "reservoir-dock": company.asks_reservoir,
        "lake-town": company.asks_lake_town,
    }
    cases = LoadCase.objects.all()
    return parts.FlotationRules(
        rule_sets=tuple(name for name, chosen in asked.items() if chosen),
        half_psf=company.half_load_psf,
        edge_people=company.edge_people,
        end_people=company.end_people,
        crowd_inset_in=company.crowd_inset_in,
        heavy_lb=company.heavy_load_lb,
        heavy_inset_in=company.heavy_inset_in,
        ramp_psf=company.ramp_load_psf,
        tilt_deg=company.tilt_limit_deg,
        posted_share=company.posted_share,
        hinge_step_in=company.hinge_step_in,
        hand_lift_lb=company.hand_lift_lb,
        frame_buoyancy=company.frame_buoyancy,
        names={case.kind: case.name for case in cases if case.name and not case.stands},
        left_out=tuple(case.kind for case in cases if not case.tried),
        own_cases=tuple(
            parts.OwnCase(case.kind, case.name, case.stands, case.people, case.load_lb) for case in cases if case.stands
        ),
    )


def _mooring(company: Company) -> parts.MooringRules:
    return parts.MooringRules(
        waves_in=company.chain_waves_in,
        tie_off_in=company.chain_tie_off_in,
        least_scope=company.chain_scope,
        wander_in=company.chain_wander_in,
        wind_mph=company.wind_mph,
        wave_wind_mph=company.wave_wind_mph,
        wind_drag=company.wind_drag,
        current_drag=company.current_drag,
        boat_profile_in=company.boat_profile_in,
        chain_share_percent=company.chain_share_percent,
        holding_factor=company.anchor_factor,
    )


def catalogue_gaps() -> list[str]:
    """What must be chosen before any dock can be worked out, a sentence each."""
    return _gaps(StandingChoices.objects.first() or StandingChoices(pk=1))


def _gaps(standing: StandingChoices) -> list[str]:
    open_choices = [name for name in ESSENTIAL if getattr(standing, f"{name}_id") is None]
    return [f"Choose the usual {CHOICE_LABELS[name].lower()}." for name in open_choices]


def lumber_weights(item: Item) -> tuple[float, float]:
    """Pounds per foot wet and seasoned: as typed, or worked out from specific gravity and moisture (NDS_DENSITY)."""
    return _weight(item, item.wet_lb_per_ft, item.wet_moisture_percent), _weight(
        item, item.seasoned_lb_per_ft, item.seasoned_moisture_percent
    )


def _weight(item: Item, typed: float | None, moisture_percent: float | None) -> float:
    if typed is not None:
        return typed
    density = wood_density_lb_per_cuft(specific_gravity=item.specific_gravity, moisture_percent=moisture_percent)
    return weight_lb_per_ft(thickness_in=item.thickness_in, width_in=item.width_in, density_lb_per_cuft=density)


class _Shelf:
    """The tables read once each: a spec page asks for the catalogue with every keystroke that settles."""

    def __init__(self, on: date) -> None:
        self.prices = {place: _price(price) for place, price in current_prices(on=on).items()}
        self.trusted_over_in = (firm() or Company()).stick_over_in
        self.items = list(Item.objects.defer("notes", "shelf"))
        self.codes = {item.pk: item.code for item in self.items}
        self.sticks = defaultdict(list)
        for item_id, pk, length_in in Stick.objects.filter(offered=True).values_list("item_id", "pk", "length_in"):
            self.sticks[item_id].append(parts.Stick(length_in, self.prices.get((item_id, pk))))
        self.fixings = defaultdict(list)
        for item_id, part_id, quantity in Fixing.objects.values_list("item_id", "part_id", "quantity"):
            self.fixings[item_id].append(parts.Use(self.codes[part_id], quantity))

    def lumber(self, item: Item) -> parts.Lumber:
        wet, seasoned = lumber_weights(item)
        worked_out = item.wet_lb_per_ft is None or item.seasoned_lb_per_ft is None
        return parts.Lumber(
            code=item.code,
            name=item.name,
            nominal=item.nominal,
            thickness_in=item.thickness_in,
            width_in=item.width_in,
            sticks=tuple(self.sticks[item.pk]),
            wet_lb_per_ft=wet,
            seasoned_lb_per_ft=seasoned,
            weight_source=item.weight_source or ("NDS_DENSITY" if worked_out else ""),
            species=item.species,
            treatment=item.treatment,
            decking=item.kind == Kind.DECKING,
            waste_percent=item.waste_percent,
            support_spacing_in=item.support_spacing_in,
            trusted_over_in=self.trusted_over_in,
        )

    def float_item(self, item: Item) -> parts.FloatItem:
        return parts.FloatItem(
            code=item.code,
            name=item.name,
            length_in=item.length_in,
            width_in=item.width_in,
            height_in=item.height_in,
            weight_lb=item.weight_lb,
            rated_lift_lb=item.rated_lift_lb,
            lift_is_net=item.lift_basis == LiftBasis.NET,
            source=item.source,
            source_date=item.source_date,
            price=self.prices.get((item.pk, None)),
            fixings=tuple(self.fixings[item.pk]),
            shape=item.shape,
        )

    def good(self, item: Item) -> parts.Good:
        return parts.Good(
            code=item.code,
            name=item.name,
            kind=item.kind,
            use_unit=item.use_unit,
            pack_size=item.pack_size,
            price=self.prices.get((item.pk, None)),
            weight_lb=item.weight_lb or 0.0,
            waste_percent=item.waste_percent,
            submerged_weight_lb=item.submerged_weight_lb,
            width_in=item.width_in,
            length_in=item.length_in,
            symbol=item.symbol,
            labour_h=item.labour_h,
            fixings=tuple(self.fixings[item.pk]),
            chain_grade=item.chain_grade,
            chain_size_in=item.chain_size_in,
            working_load_lb=item.working_load_lb,
        )

    def joint_rules(self) -> tuple[parts.JointRule, ...]:
        uses = defaultdict(list)
        lines = JointRulePart.objects.values_list("rule_id", "per_bolt", "item_id", "quantity")
        for rule_id, per_bolt, item_id, quantity in lines:
            uses[rule_id, per_bolt].append(parts.Use(self.codes[item_id], quantity))
        return tuple(
            parts.JointRule(
                place=rule.place,
                name=rule.name,
                parts=tuple(uses[rule.pk, False]),
                bolts=rule.bolts,
                bolt=self.codes.get(rule.bolt_id, ""),
                per_bolt=tuple(uses[rule.pk, True]),
                dock_over_in=rule.dock_over_in,
                dock_to_in=float("inf") if rule.dock_to_in is None else rule.dock_to_in,
            )
            for rule in JointRule.objects.in_order()
        )

    def standing(self, row: StandingChoices) -> parts.StandingChoices:
        return parts.StandingChoices(
            **{name: self.codes.get(getattr(row, f"{name}_id"), "") for name in CHOICES},
            gap_in=row.gap_in,
            stringer_spacing_in=row.stringer_spacing_in,
            cross_spacing_in=row.cross_spacing_in,
            anchor_offset_in=row.anchor_offset_in,
        )


def _price(price: Price) -> parts.Price:
    return parts.Price(
        amount=price.amount,
        currency=price.currency,
        dated=price.dated,
        supplier=price.supplier.name if price.supplier else "",
        valid_until=price.valid_until,
        starter=price.starter,
    )


def _rate(rate: LabourRate) -> parts.LabourRate:
    return parts.LabourRate(
        code=rate.code,
        stage=rate.stage,
        task=rate.task,
        hours_per_unit=rate.hours_per_unit,
        unit=rate.unit,
        source=rate.source,
    )


def _tax(company: Company, on: date) -> parts.TaxMode:
    mode = company.tax_mode
    rates = TaxRate.objects.in_force(on) if mode in TAXED_TO_CUSTOMER else []
    return parts.TaxMode(
        mode=TAX_MODES[mode],
        sales_taxes=tuple((rate.name, rate.percent) for rate in rates),
        purchase_tax_percent=company.purchase_tax_percent,
    )


def _payments(company: Company, plan: list[PaymentStep]) -> tuple[parts.DepositRule, tuple[parts.Instalment, ...]]:
    """The deposit is what the plan asks on signing, held under the firm's limit; the other steps share what is left."""
    asked = sum((step.percent for step in plan if step.trigger == Trigger.SIGNING), Decimal(0))
    later = [step for step in plan if step.trigger != Trigger.SIGNING]
    return _deposit(company, asked), _instalments(later)


def _deposit(company: Company, asked: Decimal) -> parts.DepositRule:
    limit, most = company.deposit_rule, company.deposit_percent
    kind, percent = "percent", asked
    if not asked:
        kind = "none"
    elif limit == Limit.LESSER:
        kind, percent = "lesser_of_percent_and_cap", min(asked, most)
    elif limit == Limit.PERCENT:
        percent = min(asked, most)
    elif limit == Limit.GREATER and asked > most:
        kind, percent = "greater_of_percent_and_special_order", most
    return parts.DepositRule(
        kind=kind,
        percent=percent,
        cap=company.deposit_cap if limit == Limit.LESSER else Decimal(0),
        source=company.deposit_source,
        checked=company.deposit_checked_on,
    )


def _instalments(later: list[PaymentStep]) -> tuple[parts.Instalment, ...]:
    """Shares of what is left after the deposit, in percent; the last takes the rest so that they make 100 exactly."""
    whole = sum((step.percent for step in later), Decimal(0))
    if not whole:
        return ()
    shares = [(step.percent / whole * HUNDRED).quantize(SHARE, rounding=ROUND_HALF_UP) for step in later[:-1]]
    shares.append(HUNDRED - sum(shares, Decimal(0)))
    return tuple(
        parts.Instalment(str(step.get_trigger_display()), share) for step, share in zip(later, shares, strict=True)
    )
