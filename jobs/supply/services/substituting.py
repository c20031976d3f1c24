"""Another thing in place of what was drawn: the dock is worked out again with it, and both names stay on record."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from contractor.company.current import units
from contractor.company.journal import log_change
from contractor.company.models import Staff
from contractor.quantities import say
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import Finding, Sentence, SpecFaults
from estimating.engine.result import Estimate
from estimating.engine.spec_file import load_spec
from estimating.quotes.models import Quote
from estimating.quotes.services import spec_swapped
from jobs.supply.models import Need, Receipt, Stock

from .advising import goods_moved
from .asides import give_up
from .ledger import said
from .needs import cancel_need

# What differs and matters: holes decide whether it fits, height and lift how the dock lies.
COMPARED = (
    ("shape", "Shape", ""),
    ("length_in", "Length", "in"),
    ("width_in", "Width", "in"),
    ("height_in", "Height", "in"),
    ("thickness_in", "Thickness", "in"),
    ("weight_lb", "Weight", "lb"),
    ("rated_lift_lb", "Rated lift", "lb"),
    ("flange_holes", "Holes in the flange", ""),
    ("holes", "Holes", ""),
    ("finish", "Finish", ""),
    ("treatment", "Treatment", ""),
    ("working_load_lb", "Working load", "lb"),
)
CASES = ("dead_wet", "dead_seasoned", "spread")  # the rest are for the spec page


@dataclass(frozen=True, slots=True)
class Substitution:
    """How many of the other thing, why, and whether the customer agreed."""

    quantity: Decimal
    reason: str
    customer_agreed: bool = False


@dataclass(frozen=True, slots=True)
class LevelChange:
    """The deck above the water, one corner, before and after, inches; the case as the firm calls it."""

    case: Sentence
    before_in: float | None  # None: it sinks or turns over
    after_in: float | None


@dataclass(frozen=True, slots=True)
class Consequences:
    """What differs with the other thing: sizes and lift in words, freeboard as worked out, what the engine now says."""

    facts: tuple[tuple[str, str, str], ...]  # (what, as drawn, instead)
    levels: tuple[LevelChange, ...]
    findings: tuple[Finding, ...]  # that were not there before
    trouble: str  # why the dock could not be worked out with it; empty if it could


@dataclass(frozen=True, slots=True)
class CameInstead:
    """A thing on the truck in place of what a job's need asked for; whether it may do is still to be decided."""

    need: Need
    came: Stock


def came_instead(receipt: Receipt) -> list[CameInstead]:
    """The needs that something else was kept for, as long as they lack the thing that was drawn."""
    found = []
    for line in receipt.lines.all():
        if line.instead_of_id and line.accepted:
            needs = Need.objects.missing().of_open_jobs().in_full().filter(stock=line.instead_of_id)
            found += [CameInstead(need, line.stock) for need in needs.first_needed_first()]
    return found


def consequences(need: Need, *, instead: Stock, on: date) -> Consequences:
    """Work the job's dock out again with another thing in place of the drawn one. Nothing is changed."""
    facts = _facts(need.stock, instead)
    quote = Quote.objects.filter(job=need.job, state="accepted").first()
    if quote is None:
        return Consequences(facts, (), (), "There is no accepted dock to work out.")
    catalogue, rules = engine_catalogue(on=on), firm_rules(on=on)
    drawn = load_spec(quote.figures["spec"])
    other = spec_swapped(drawn, need.stock.item.code, instead.item.code)
    if other == drawn:
        return Consequences(facts, (), (), "The drawing does not name this part by itself: compare the sizes by hand.")
    try:
        before, after = estimate(drawn, catalogue, rules), estimate(other, catalogue, rules)
    except SpecFaults:
        return Consequences(facts, (), (), "The dock cannot be worked out with it.")
    known = {finding.key for finding in before.design.findings}
    new = tuple(finding for finding in after.design.findings if finding.key not in known)
    return Consequences(facts, _levels(before, after), new, "")


@transaction.atomic
def substitute(need: Need, *, instead: Stock, facts: Substitution, by: Staff) -> Need:
    """Let so many of another thing do for this need. Both names stay on record. Raises ValidationError."""
    held = Need.objects.select_for_update().get(pk=need.pk)
    if not 0 < facts.quantity <= held.quantity - held.issued:
        raise ValidationError({"quantity": f"{said(held.quantity - held.issued)} are still to be had."})
    if instead.pk == held.stock_id:
        raise ValidationError({"instead": "That is the same thing."})
    if not facts.reason.strip():
        raise ValidationError({"reason": "Say why, and who agreed."})
    why = f"{instead} instead: {facts.reason.strip()}"
    made = Need.objects.create(
        job=held.job,
        stock=instead,
        instead_of=held.instead_of or held.stock,
        quantity=facts.quantity,
        stage=held.stage,
        section=held.section,
        needed_by=held.needed_by,
        signed_on=held.signed_on,
        revision=held.revision,
        reason=facts.reason.strip(),
    )
    goods_moved([held.stock_id, instead.pk])
    _shrink(held, facts.quantity, why=why, by=by)
    after = {"drawn": str(need.stock), "instead": str(instead), "quantity": facts.quantity, "why": facts.reason}
    log_change(held.job, did="took another thing", by=by, after={**after, "customer agreed": facts.customer_agreed})
    return made


def _shrink(held: Need, quantity: Decimal, *, why: str, by: Staff) -> None:
    spare = max(quantity - held.missing, Decimal(0))
    if spare:
        held = give_up(held, quantity=spare, by=by, reason=why)
    if held.quantity > quantity:
        Need.objects.filter(pk=held.pk).update(quantity=held.quantity - quantity)
    else:
        cancel_need(held, reason=why[:300], by=by)


def _facts(drawn: Stock, instead: Stock) -> tuple[tuple[str, str, str], ...]:
    rows = [("Thing", str(drawn), str(instead))]
    for field, label, unit in COMPARED:
        old, new = getattr(drawn.item, field), getattr(instead.item, field)
        if old != new:
            rows.append((label, _figure(old, unit), _figure(new, unit)))
    return tuple(rows)


def _figure(value: object, unit: str) -> str:
    if value in (None, ""):
        return "unknown"
    return say(value, unit, units()) if unit else str(value)


def _levels(before: Estimate, after: Estimate) -> tuple[LevelChange, ...]:
    if before.afloat is None or after.afloat is None:
        return ()
    pairs = ((before.afloat.case(kind), after.afloat.case(kind)) for kind in CASES)
    return tuple(
        LevelChange(old.name, old.least_freeboard_in, new.least_freeboard_in) for old, new in pairs if old and new
    )
