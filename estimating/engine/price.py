"""The price, built up in one fixed order from materials to what the customer pays; every line adds up by pencil."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from .cents import CENT, ZERO, cents, share, to_step
from .labour import trips
from .parts import Catalogue, FirmRules
from .payments import old_limit, plan
from .reasons import Amount, Fault, Finding, Reason, Sentence, SpecFaults, Step
from .result import Design, Labour, PriceBuildUp, PriceLine, Takeoff, TakeoffLine
from .spec import Allowance
from .taxes import MODE_WORDS, purchase_tax, sales_taxes, tax_findings

STOCK_GROUPS = ("hardware", "fasteners", "anchors and chain")
SPECIAL_ORDER_GROUPS = ("floats", "ramp")
HUNDRED = Decimal(100)


def price(design: Design, takeoff: Takeoff, labour: Labour, rules: FirmRules, catalogue: Catalogue) -> PriceBuildUp:
    """Materials to total in the order of the trade, each line to the cent, sums of the rounded lines.

    Profit is a margin on the price, not a markup on the cost; rounding is a line of its own. Raises SpecFaults when
    the firm's margin is not below 100 % or its overhead is given both ways or not at all. Sources: COMMON_PRACTICE for
    the order, FIRM for the figures.
    """
    _check_rules(rules)
    ledger = Ledger()
    materials = _materials(takeoff, rules, ledger)
    _work(design, labour, rules, ledger)
    direct = ledger.sum("direct", "Direct cost", "materials to permit fees")
    break_even = _break_even(design, labour, rules, ledger, direct)
    before = with_margin(break_even, rules.margin_percent)
    ledger.add("profit", "Profit", f"{_plain(rules.margin_percent)} % of the price", before - break_even, _PROFIT)
    ledger.sum("before_rounding", "Price before rounding", "break-even and profit")
    asked = to_step(before, rules.rounding_step)
    ledger.add("rounding", "Rounding", _rounding_words(rules.rounding_step), asked - before, _ROUNDING)
    ledger.sum("price", "Price", "before sales tax", kind="total")
    materials_part = cents(asked * materials / direct) if direct else ZERO
    taxes = tuple(sales_taxes(asked, materials_part, rules.tax))
    for tax in taxes:
        how = f"{_plain(tax.percent)} % of {tax.taxable:,.2f}"
        ledger.add("sales_tax", tax.name, how, tax.amount, _firm(MODE_WORDS[rules.tax.mode]))
    total = ledger.sum("total", "Customer pays", "price and sales tax", kind="total")
    profit = asked - break_even
    floor = with_margin(break_even, rules.floor_margin_percent)
    payments = plan(total, rules.deposit, rules.instalments, special_order_cost(takeoff))
    findings = (*_findings(design, asked, floor, rules), *payments.findings, *old_limit(rules.deposit, catalogue.on))
    return PriceBuildUp(
        lines=tuple(ledger.lines),
        direct=direct,
        break_even=break_even,
        before_rounding=before,
        rounding=asked - before,
        price=asked,
        sales_taxes=tuple((tax.name, tax.percent, tax.taxable, tax.amount) for tax in taxes),
        total=total,
        profit=profit,
        margin_percent=_percent(profit, asked),
        markup_percent=_percent(profit, break_even),
        floor_price=floor,
        add_percent_slip=cents(break_even + share(break_even, rules.margin_percent)),
        payments=payments.payments,
        currency=catalogue.currency,
        findings=findings,
    )


def _firm(text: str, steps: tuple[Step, ...] = ()) -> Reason:
    return Reason(Sentence(text), "FIRM", steps)


_PROFIT = _firm("Margin on the price: price = break-even ÷ (1 − margin). Adding the same percent falls short.")
_ROUNDING = _firm("To the firm's step, shown as its own line, never inside tax.")


class Ledger:
    """Lines in order with a running sum, so that no sum is ever anything but its rounded lines."""

    def __init__(self) -> None:
        self.lines: list[PriceLine] = []
        self._running = ZERO

    def add(self, code: str, name: str, how: str, amount: Decimal, reason: Reason) -> Decimal:
        self._running += amount
        self.lines.append(PriceLine(code, name, how, amount, "cost", reason))
        return amount

    def sum(self, code: str, name: str, how: str, *, kind: str = "sum") -> Decimal:
        steps = tuple(Step(Sentence("{0}", (line.name,)), _money(line.amount)) for line in self._since_last_sum())
        total = Step(Sentence("{0}", (name,)), _money(self._running), total=True)
        reason = Reason(Sentence("Sum of the lines above."), "COMMON_PRACTICE", (*steps, total))
        self.lines.append(PriceLine(code, name, how, self._running, kind, reason))
        return self._running

    def _since_last_sum(self) -> list[PriceLine]:
        sums = [index for index, line in enumerate(self.lines) if line.kind != "cost"]
        return self.lines[sums[-1] if sums else 0 :]


def with_margin(cost: Decimal, margin_percent: Decimal) -> Decimal:
    """The price that leaves so many percent of itself above a cost, to the cent. Raises ValueError from 100 % up.

    >>> with_margin(Decimal("5935.41"), Decimal("12"))
    Decimal('6744.78')
    """
    if margin_percent >= HUNDRED:
        raise ValueError("a margin must be below 100 % of the price")
    return cents(cost * HUNDRED / (HUNDRED - margin_percent))


def margin_of_markup(markup_percent: Decimal) -> Decimal:
    """The margin on price that a markup on cost comes to, in percent.

    >>> margin_of_markup(Decimal(25))
    Decimal('20')
    """
    return markup_percent * HUNDRED / (HUNDRED + markup_percent)


def burdened_wage(rules: FirmRules) -> Decimal:
    """Wage with its burden, to the cent, so that hours times it can be checked by pencil."""
    return cents(rules.wage_per_hour * (HUNDRED + rules.burden_percent) / HUNDRED)


def _check_rules(rules: FirmRules) -> None:
    faults = []
    for name in ("margin_percent", "floor_margin_percent"):
        if getattr(rules, name) >= HUNDRED:
            faults.append(Fault(f"rules.{name}", Sentence("A margin is part of the price: below 100 %.")))
    if (rules.overhead_per_hour is None) == (rules.overhead_percent is None):
        words = Sentence("Give overhead by the hour or as a percent of cost: one of the two.")
        faults.append(Fault("rules.overhead_per_hour", words))
    if faults:
        raise SpecFaults(faults)


def _materials(takeoff: Takeoff, rules: FirmRules, ledger: Ledger) -> Decimal:
    """Materials, left-overs, purchase tax and freight; returns what materials cost the job with all of these."""
    reason = _firm("Packs and sticks at their price.", _by_group(takeoff.lines))
    bought = ledger.add("materials", "Materials", f"{len(takeoff.lines)} lines", takeoff.materials_cost, reason)
    if rules.leftovers_to_stock:
        credit = sum((leftover_value(line) for line in takeoff.lines), ZERO)
        reason = _firm("What is left goes on the shelf.")
        bought += ledger.add("leftovers", "Left-overs to stock", "opened packs, at cost", -credit, reason)
    tax = purchase_tax(bought, rules.tax)
    how = f"{_plain(rules.tax.purchase_tax_percent)} % of {bought:,.2f}" if tax else "none in this tax mode"
    ledger.add("purchase_tax", "Purchase tax", how, tax, _firm(MODE_WORDS[rules.tax.mode]))
    freight = ledger.add("freight", "Freight", "as set", cents(rules.freight), _firm("The firm's figure for a job."))
    return bought + tax + freight


def _by_group(lines: Iterable[TakeoffLine]) -> tuple[Step, ...]:
    sums: dict[str, Decimal] = {}
    for line in lines:
        sums[line.group] = sums.get(line.group, ZERO) + line.cost
    total = Step(Sentence("Materials"), _money(sum(sums.values(), ZERO)), total=True)
    return (*(Step(Sentence(group.capitalize()), _money(amount)) for group, amount in sums.items()), total)


def leftover_value(line: TakeoffLine) -> Decimal:
    """What the unused part of opened packs is worth at cost; waste allowed for and offcuts are not counted back."""
    if line.group not in STOCK_GROUPS or not line.bought:
        return ZERO
    return cents((line.bought - line.with_waste) * line.cost / line.bought)


def _work(design: Design, labour: Labour, rules: FirmRules, ledger: Ledger) -> None:
    work, wage = design.spec.work, burdened_wage(rules)
    how = f"{_plain(labour.hours)} h × {wage:,.2f}"
    words = f"Wage {rules.wage_per_hour:,.2f} with {_plain(rules.burden_percent)} % burden."
    ledger.add("labour", "Labour", how, cents(labour.hours * wage), _firm(words, labour.reason.steps))
    hires = [
        Allowance(f"{h.name}, {_plain(h.days)} d × {h.rate_per_day:,.2f}", cents(h.days * h.rate_per_day))
        for h in work.equipment
    ]
    _allowances("equipment", "Equipment", hires, ledger)
    _allowances("subcontract", "Subcontract", work.subcontracts, ledger)
    _mobilization(design, labour, rules, ledger)
    _allowances("permit", "Permit fees", work.permit_fees, ledger)


def _allowances(code: str, name: str, sums: Iterable[Allowance], ledger: Ledger) -> None:
    rounded = [(one.name, cents(one.amount)) for one in sums]
    total = sum((amount for _, amount in rounded), ZERO)
    steps = (
        *(Step(Sentence("{0}", (what,)), _money(amount)) for what, amount in rounded),
        Step(Sentence(name), _money(total), total=True),
    )
    how = ", ".join(what for what, _ in rounded) or "none"
    ledger.add(code, name, how, total, _firm("As set on the spec, at cost.", steps))


def _mobilization(design: Design, labour: Labour, rules: FirmRules, ledger: Ledger) -> None:
    count, wage = trips(design, labour.net_hours, rules), burdened_wage(rules)
    miles = 2 * Decimal(repr(design.spec.place.one_way_miles or 0))
    driven, paid = cents(miles * count * rules.mileage_rate), cents(labour.travel_hours * wage)
    by_road = f"{_plain(miles)} mi × {count} trips × {_at_least_cents(rules.mileage_rate)}"
    by_hour = f"{_plain(labour.travel_hours)} h × {wage:,.2f}"
    steps = (
        Step(Sentence("{0}", (by_road,)), _money(driven)),
        Step(Sentence("{0}", (by_hour,)), _money(paid)),
        Step(Sentence("Mobilization"), _money(driven + paid), total=True),
    )
    reason = _firm("Miles there and back for every trip, and the crew's hours on the road.", steps)
    ledger.add("mobilization", "Mobilization", f"{by_road} + {by_hour}", driven + paid, reason)


def _break_even(design: Design, labour: Labour, rules: FirmRules, ledger: Ledger, direct: Decimal) -> Decimal:
    permit = next(line.amount for line in ledger.lines if line.code == "permit")
    percent, why = contingency_percent(design, rules)
    how = f"{_plain(percent)} % of {direct - permit:,.2f}, permit fees left out"
    ledger.add("contingency", "Contingency", how, cents(share(direct - permit, percent)), why)
    if rules.overhead_per_hour is not None:
        hours = labour.hours + labour.travel_hours
        how = f"{_plain(hours)} h × {rules.overhead_per_hour:,.2f}, travel included"
        reason = _firm("Yearly overhead ÷ yearly crew hours, for every hour of this job.")
        ledger.add("overhead", "Overhead", how, cents(hours * rules.overhead_per_hour), reason)
    else:
        how = f"{_plain(rules.overhead_percent)} % of {direct:,.2f}"
        reason = _firm("A percent of direct cost.")
        ledger.add("overhead", "Overhead", how, cents(share(direct, rules.overhead_percent)), reason)
    return ledger.sum("break_even", "Break-even", "direct cost, contingency and overhead")


def contingency_percent(design: Design, rules: FirmRules) -> tuple[Decimal, Reason]:
    """The spec's own contingency, or the firm's: the greater one where the bottom is unknown."""
    given = design.spec.work.contingency_percent
    if given is not None:
        return given, _firm("As set on the spec.")
    if design.spec.place.bottom.strip().lower() in ("", "unknown"):
        return rules.contingency_unknown_percent, _firm("Bottom unknown: the firm's greater contingency.")
    return rules.contingency_percent, _firm("The firm's contingency for what is inside the scope and not yet known.")


def special_order_cost(takeoff: Takeoff) -> Decimal:
    """What the goods cost that are ordered for this job alone: floats and a bought ramp. A deposit rule may ask."""
    return sum((line.cost for line in takeoff.lines if line.group in SPECIAL_ORDER_GROUPS), ZERO)


def _findings(design: Design, asked: Decimal, floor: Decimal, rules: FirmRules) -> Iterator[Finding]:
    yield from tax_findings(rules.tax)
    if asked < floor:
        headline = Sentence("{0} is below the floor of {1}.", (_money(asked), _money(floor)))
        cure = Sentence("Raise the margin, or let the owner approve it by name.")
        yield Finding("check", headline, cure, "", "FIRM", "below_floor")
    if design.spec.place.one_way_miles is None and design.spec.work.travel_hours is None:
        headline = Sentence("The way to the site is unknown: nothing is priced for getting there.")
        cure = Sentence("Give the distance one way, or the hours on the road.")
        yield Finding("check", headline, cure, "place.one_way_miles", "FIRM", "distance_unknown")


def _rounding_words(step: Decimal) -> str:
    return f"to the nearest {_plain(step)}" if step else "none"


def _percent(part: Decimal, whole: Decimal) -> Decimal:
    return (part * HUNDRED / whole).quantize(CENT) if whole else ZERO


def _money(amount: Decimal) -> Amount:
    return Amount(amount, "money")


def _plain(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _at_least_cents(rate: Decimal) -> str:
    return f"{rate:.2f}" if rate == cents(rate) else _plain(rate)
