"""What a job needs, from its takeoff: added on acceptance, and changed only after somebody saw the difference."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.models import Item
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.pipeline import estimate
from estimating.engine.result_file import estimate_as_dict
from estimating.engine.spec_file import load_spec
from estimating.quotes.models import Quote
from estimating.quotes.services import spec_as_accepted
from jobs.records.models import Job, SpecRevision
from jobs.supply.models import Need, OrderShare, Stock

from .advising import goods_moved
from .asides import give_up
from .ledger import ZERO, said, stock_of
from .sticks import in_cheapest_sticks
from .wanted import Wanted, wanted_from

BEFORE_STAGE = 3  # working days between goods and the start of their stage
UNPLANNED = 15  # working days after signing, while no day is wanted or planned


@dataclass(frozen=True, slots=True)
class Change:
    """One line of what a changed spec means for the goods: so many more, or fewer, and what becomes of those."""

    item: Item
    length_in: float
    stage: str
    section: str
    had: Decimal
    wants: Decimal
    put_back: Decimal  # comes free on the shelf
    on_order: Decimal  # ordered for this job and now spare: cancel or keep for the yard
    bring_back: Decimal  # the crew has it already

    @property
    def more(self) -> Decimal:
        return max(self.wants - self.had, ZERO)

    @property
    def fewer(self) -> Decimal:
        return max(self.had - self.wants, ZERO)


@dataclass(frozen=True, slots=True)
class Difference:
    """Everything a revision changes; `unknown` are codes the catalogue no longer has."""

    letter: str
    changes: tuple[Change, ...]
    unknown: tuple[str, ...]


def working_days_before(day: date, count: int) -> date:
    """So many days of work earlier, Saturdays and Sundays left out.

    >>> working_days_before(date(2026, 5, 7), 3)
    datetime.date(2026, 5, 4)
    >>> working_days_before(date(2026, 5, 4), 1)
    datetime.date(2026, 5, 1)
    """
    return _step(day, count, timedelta(days=-1))


def working_days_after(day: date, count: int) -> date:
    return _step(day, count, timedelta(days=1))


def _step(day: date, count: int, one: timedelta) -> date:
    while count:
        day += one
        count -= day.weekday() < 5
    return day


@transaction.atomic
def needs_from_quote(quote: Quote, *, by: Staff | None) -> Difference:
    """What the accepted quote's takeoff needs, its lumber in the cheapest sticks, once; asked again it adds nothing."""
    if Need.objects.filter(job=quote.job).exists():
        return Difference(quote.spec_letter, (), ())
    found = difference(quote.job, letter=quote.spec_letter, figures=figures_accepted(quote))
    apply_difference(quote.job, found, by=by, signed_on=quote.accepted_on, reason=f"Quote {quote.letter} accepted")
    return found


def difference_to(job: Job, revision: SpecRevision, *, on: date) -> Difference:
    """What this revision would add, cancel and return. Nothing moves. Raises SpecFaults, CatalogueNotReady."""
    worked = estimate(load_spec(revision.document), engine_catalogue(on=on), firm_rules(on=on), proof=False)
    return difference(job, letter=revision.letter, figures=estimate_as_dict(worked))


def difference(job: Job, *, letter: str, figures: Mapping[str, Any]) -> Difference:
    """What these figures need against what the job's spec has asked for so far. Needs typed by hand stay out of it."""
    wanted = in_cheapest_sticks(wanted_from(figures), figures, on=timezone.localdate())
    return _difference(job, letter, wanted, _drawn(job))


def stick_difference(job: Job, *, letter: str, sticks: Iterable[Wanted]) -> Difference:
    """The same for its lumber alone: these sticks against those its spec has asked for so far."""
    return _difference(job, letter, tuple(sticks), _drawn(job).of_sticks())


def _drawn(job: Job) -> QuerySet[Need]:
    return Need.objects.standing().in_full().filter(job=job).exclude(revision="")


def _difference(job: Job, letter: str, wanted: Sequence[Wanted], needs: Iterable[Need]) -> Difference:
    items = {item.code: item for item in Item.objects.filter(code__in={one.code for one in wanted})}
    wants = {_key(items[w.code].pk, w.length_in, w.stage, w.section): w.quantity for w in wanted if w.code in items}
    standing: dict[Key, list[Need]] = {}
    for need in needs:
        drawn = need.instead_of or need.stock
        standing.setdefault(_key(drawn.item_id, drawn.length_in, need.stage, need.section), []).append(need)
    by_id = {item.pk: item for item in items.values()}
    drawn = [need.instead_of or need.stock for rows in standing.values() for need in rows]
    by_id |= {stock.item_id: stock.item for stock in drawn}
    ordered = _on_order(job)
    changes = []
    for key in sorted({*wants, *standing}):
        had = sum((need.quantity for need in standing.get(key, ())), ZERO)
        if wants.get(key, ZERO) != had:
            changes.append(_change(key, by_id[key[0]], standing.get(key, []), wants.get(key, ZERO), ordered))
    return Difference(letter, tuple(changes), tuple(sorted({w.code for w in wanted} - set(items))))


@transaction.atomic
def apply_difference(
    job: Job, found: Difference, *, by: Staff | None, reason: str, signed_on: date | None = None
) -> list[Need]:
    """Change the job's needs as was shown: add, shrink, cancel. What is set aside beyond the need comes free."""
    signed_on = signed_on or _signed_on(job)
    made = []
    for change in found.changes:
        if change.fewer:
            _shrink(job, change, by=by, reason=reason)
        else:
            made.append(_grow(job, change, found.letter, signed_on=signed_on, reason=reason))
    if found.changes:
        goods_moved(Need.objects.filter(job=job).values_list("stock_id", flat=True))
        said_all = [f"{said(c.had)} to {said(c.wants)} {c.item}" for c in found.changes]
        log_change(job, did="changed goods", by=by, after={"spec": found.letter, "goods": said_all, "why": reason})
    return made


@transaction.atomic
def add_need(job: Job, *, stock: Stock, facts: Mapping[str, Any], by: Staff) -> Need:
    """Something the takeoff did not foresee: quantity, stage, needed_by and a reason. Raises ValidationError."""
    need = Need(job=job, stock=stock, signed_on=_signed_on(job), **facts)
    if not need.reason.strip():
        raise ValidationError({"reason": "Say why the job needs it."})
    need.full_clean()
    need.save()
    goods_moved([stock.pk])
    log_change(job, did="needs more", by=by, after={"goods": str(need), "why": need.reason})
    return need


@transaction.atomic
def cancel_need(need: Need, *, reason: str, by: Staff) -> Need:
    """The job needs it no more; what was set aside comes free. What the crew has stays with the crew."""
    if need.set_aside:
        need = give_up(need, quantity=need.set_aside, by=by, reason=reason)
    held = Need.objects.select_for_update().get(pk=need.pk)
    held.cancelled_at, held.cancelled_reason = timezone.now(), reason.strip()
    held.full_clean()
    held.save()
    goods_moved([held.stock_id])
    log_change(held.job, did="needs no more", by=by, after={"goods": str(held), "why": reason})
    return held


@transaction.atomic
def retime_needs(*, job: Job, starts: Mapping[str, date], by: Staff | None) -> int:
    """Move what the job needs to three working days before the stages start; returns how many lines moved."""
    moved = 0
    for stage, starts_on in starts.items():
        day = working_days_before(starts_on, BEFORE_STAGE)
        moved += Need.objects.standing().filter(job=job, stage=stage).exclude(needed_by=day).update(needed_by=day)
    if moved:
        goods_moved(Need.objects.standing().filter(job=job).values_list("stock_id", flat=True))
        log_change(
            job, did="needs its goods on other days", by=by, after={"starts": {s: str(d) for s, d in starts.items()}}
        )
    return moved


Key = tuple[int, float, str, str]


def _key(item_id: int, length_in: float, stage: str, section: str) -> Key:
    return item_id, length_in, stage, section


def figures_accepted(quote: Quote) -> Mapping[str, Any]:
    """The frozen figures, or those of the dock with the options the customer took."""
    spec = spec_as_accepted(quote)
    if spec is None:
        return quote.figures
    on = quote.accepted_on
    return estimate_as_dict(estimate(spec, engine_catalogue(on=on), firm_rules(on=on), proof=False))


def _signed_on(job: Job) -> date:
    return (
        Quote.objects.filter(job=job, state="accepted").values_list("accepted_on", flat=True).first()
        or timezone.localdate()
    )


def _needed_by(job: Job, stage: str, signed_on: date) -> date:
    """Beside its fellows of the stage; else before the day it is wanted; else some weeks after signing."""
    known = Need.objects.standing().filter(job=job, stage=stage).values_list("needed_by", flat=True).first()
    if known:
        return known
    if job.wanted_by and job.wanted_by > signed_on:
        return working_days_before(job.wanted_by, BEFORE_STAGE)
    return working_days_after(signed_on, UNPLANNED)


def _on_order(job: Job) -> dict[int, Decimal]:
    """How many of each stock are still owed on lines that name this job."""
    owed: dict[int, Decimal] = {}
    for share in OrderShare.objects.filter(need__job=job, line__order__state__in=["draft", "sent"]).select_related(
        "line"
    ):
        owed[share.line.stock_id] = owed.get(share.line.stock_id, ZERO) + min(share.quantity, share.line.owed)
    return owed


def _change(key: Key, item: Item, rows: list[Need], wants: Decimal, ordered: Mapping[int, Decimal]) -> Change:
    had = sum((need.quantity for need in rows), ZERO)
    issued = sum((need.issued for need in rows), ZERO)
    aside = sum((need.set_aside for need in rows), ZERO)
    fewer = max(had - wants, ZERO)
    missing = had - issued - aside
    on_order = min(fewer, missing, sum((ordered.get(need.stock_id, ZERO) for need in rows), ZERO))
    put_back = min(max(fewer - missing, ZERO), aside)
    return Change(item, *key[1:], had, wants, put_back, on_order, max(fewer - missing - put_back, ZERO))


def _grow(job: Job, change: Change, letter: str, *, signed_on: date, reason: str) -> Need:
    return Need.objects.create(
        job=job,
        stock=stock_of(change.item, change.length_in),
        quantity=change.more,
        stage=change.stage,
        section=change.section,
        needed_by=_needed_by(job, change.stage, signed_on),
        signed_on=signed_on,
        revision=letter,
        reason=reason,
    )


def _shrink(job: Job, change: Change, *, by: Staff | None, reason: str) -> None:
    """Take what is too much off the newest needs first: what is missing, then what lies aside; the crew's part last."""
    stock = stock_of(change.item, change.length_in)
    drawn = Q(instead_of=None, stock=stock) | Q(instead_of=stock)
    rows = Need.objects.standing().filter(drawn, job=job, stage=change.stage, section=change.section)
    left = change.fewer
    for need in rows.exclude(revision="").order_by("-pk"):
        part = min(left, need.quantity)
        left -= part
        _take_off(need, part, by=by, reason=reason)


def _take_off(need: Need, part: Decimal, *, by: Staff | None, reason: str) -> None:
    spare = min(max(part - need.missing, ZERO), need.set_aside)
    if spare:
        need = give_up(need, quantity=spare, by=by, reason=reason)
    held = Need.objects.select_for_update().get(pk=need.pk)
    stays = max(held.quantity - part, held.issued)
    if stays > 0:
        held.quantity = stays
    else:
        held.cancelled_at, held.cancelled_reason = timezone.now(), reason
    held.save()
