"""The first catalogue of a firm: trade sizes, invented round prices marked as starter figures, starter hours."""

from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.models import (
    Item,
    JointRule,
    Kind,
    LabourFactor,
    LabourRate,
    LiftBasis,
    StandingChoices,
    Stick,
)
from estimating.engine import parts
from estimating.engine.catalogue_file import starter_catalogue

from .items import ItemDraft, change_item, make_item
from .prices import PriceFacts, add_price, firm_currency
from .rules import CHOICES, PartLine, make_joint_rule


@dataclass(frozen=True)
class Started:
    """How much was added."""

    items: int
    joint_rules: int
    labour_rates: int


@transaction.atomic
def load_starter(*, by: Staff | None) -> Started:
    """Fill the catalogue from the starter file; whatever is there already stays as it is.

    Starter prices are invented, so they are taken in the firm's currency and never dated later than today.
    """
    standing = _only_one_at_a_time()
    catalogue, _ = starter_catalogue()
    before = Item.objects.count()
    made = _add_items(catalogue, by)
    rules = 0 if JointRule.objects.exists() else _add_joint_rules(catalogue.joint_rules, by)
    rates = load_starter_hours()
    if before == 0:
        _set_standing(standing, catalogue)
    log_change(standing, did="took in the starter catalogue", by=by, after={"items": len(made), "joint_rules": rules})
    return Started(len(made), rules, rates)


@transaction.atomic
def load_starter_hours() -> int:
    """Labour rates and factors alone, for a firm that begins with an import or an empty catalogue."""
    rules = starter_catalogue()[1]
    known = set(LabourRate.objects.values_list("code", flat=True))
    rates = [
        LabourRate(position=place, **{name: getattr(rate, name) for name in rate.__slots__})
        for place, rate in enumerate(rules.labour_rates)
        if rate.code not in known
    ]
    LabourRate.objects.bulk_create(rates)
    known = set(LabourFactor.objects.values_list("when", flat=True))
    LabourFactor.objects.bulk_create(
        LabourFactor(position=place, when=factor.when, name=factor.name, factor=factor.factor)
        for place, factor in enumerate(rules.labour_factors)
        if factor.when not in known
    )
    return len(rates)


def _only_one_at_a_time() -> StandingChoices:
    """Locks the one row, so that a double click finds the first click's work done."""
    StandingChoices.objects.get_or_create(pk=1)
    return StandingChoices.objects.select_for_update().get(pk=1)


def _add_items(catalogue: parts.Catalogue, by: Staff | None) -> list[Item]:
    known = set(Item.objects.values_list("code", flat=True))
    wanted = [*catalogue.goods.values(), *catalogue.lumber.values(), *catalogue.floats.values()]
    entries = [entry for entry in wanted if entry.code not in known]
    made = [make_item(_draft(entry), by=by) for entry in entries]
    by_code = {item.code: item for item in Item.objects.all()}
    for item, entry in zip(made, entries, strict=True):
        _fix_and_price(item, entry, by_code, by)
    return made


def _draft(entry: parts.Lumber | parts.FloatItem | parts.Good) -> ItemDraft:
    if isinstance(entry, parts.Lumber):
        kind = Kind.DECKING if entry.decking else Kind.LUMBER
        return ItemDraft(
            kind, _facts(entry), code=entry.code, stick_lengths_in=[stick.length_in for stick in entry.sticks]
        )
    if isinstance(entry, parts.FloatItem):
        basis = LiftBasis.NET if entry.lift_is_net else LiftBasis.GROSS
        return ItemDraft(Kind.FLOAT, {**_facts(entry), "lift_basis": basis}, code=entry.code)
    return ItemDraft(entry.kind, _facts(entry), code=entry.code)


def _facts(entry: Any) -> dict[str, Any]:
    """The engine's facts carry the same names as ours."""
    return {name: getattr(entry, name) for name in entry.__slots__}


def _fix_and_price(item: Item, entry: Any, by_code: dict[str, Item], by: Staff | None) -> None:
    uses = getattr(entry, "fixings", ())
    if uses:
        fixings = [(by_code[use.code], use.quantity) for use in uses]
        item = change_item(item, ItemDraft(item.kind, {}, fixings=fixings), seen_version=item.version, by=by)
    sticks = {stick.length_in: stick for stick in item.sticks.all()}
    priced = [(stick.price, sticks[stick.length_in]) for stick in getattr(entry, "sticks", ())]
    for price, stick in priced or [(entry.price, None)]:
        if price is not None:
            _add_starter_price(item, price, stick, by)


def _add_starter_price(item: Item, price: parts.Price, stick: Stick | None, by: Staff | None) -> None:
    facts = PriceFacts(
        amount=price.amount,
        currency=firm_currency(),
        dated=min(price.dated, timezone.localdate()),
        valid_until=price.valid_until,
        starter=True,
    )
    add_price(item, facts, stick=stick, by=by)


def _add_joint_rules(rules: tuple[parts.JointRule, ...], by: Staff | None) -> int:
    by_code = {item.code: item for item in Item.objects.all()}
    for rule in rules:
        lines = [PartLine(by_code[use.code], use.quantity) for use in rule.parts]
        lines += [PartLine(by_code[use.code], use.quantity, per_bolt=True) for use in rule.per_bolt]
        facts = {
            "place": rule.place,
            "name": rule.name,
            "dock_over_in": rule.dock_over_in,
            "dock_to_in": None if rule.dock_to_in == float("inf") else rule.dock_to_in,
            "bolts": rule.bolts,
            "bolt": by_code[rule.bolt] if rule.bolt else None,
        }
        make_joint_rule(facts=facts, parts=lines, by=by)
    return len(rules)


def _set_standing(row: StandingChoices, catalogue: parts.Catalogue) -> None:
    standing = catalogue.standing
    by_code = {item.code: item for item in Item.objects.all()}
    for name in CHOICES:
        setattr(row, name, by_code[getattr(standing, name)])
    for name in ("gap_in", "stringer_spacing_in", "cross_spacing_in", "anchor_offset_in"):
        setattr(row, name, getattr(standing, name))
    row.stale_after_days = catalogue.stale_after_days
    row.version += 1
    row.save()
