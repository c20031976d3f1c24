"""Holds set by hand, each with who acts and why; cleared by hand, or by the record that shows their end."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.quotes.models import Quote
from jobs.records.models import Job, Permit, PermitState
from jobs.records.models.saying import day_said
from jobs.supply.models import KNOWN_KINDS, Hold, HoldKind, Need

from .coming import covers

KIND_OF_ITEM = {"float": "floats", "lumber": "lumber", "decking": "lumber"}
GOODS = (HoldKind.FLOATS, HoldKind.HARDWARE, HoldKind.LUMBER)


@transaction.atomic
def set_hold(job: Job, *, kind: str, words: str, by: Staff | None, **facts: Any) -> Hold:
    """Say that a job waits for something no record knows of.

    `facts` may give since, who_acts, promised_on, check_on, stages and ends_itself, which is so for a kind that records
    show the end of unless somebody says otherwise. Raises ValidationError.
    """
    hold = Hold(
        job=job,
        kind=kind,
        words=words.strip(),
        since=facts.get("since") or timezone.localdate(),
        who_acts=(facts.get("who_acts") or "").strip() or job.owner.name,
        promised_on=facts.get("promised_on"),
        check_on=facts.get("check_on"),
        stages=list(facts.get("stages") or ()),
        ends_itself=kind in KNOWN_KINDS and facts.get("ends_itself", True),
        set_by=by,
        set_by_name=by.name if by else "Wharfwright",
    )
    hold.full_clean()
    hold.save()
    log_change(job, did="held", by=by, after={"waits for": str(hold), "who acts": hold.who_acts})
    return hold


@transaction.atomic
def clear_hold(hold: Hold, *, reason: str, by: Staff | None, on: date | None = None) -> Hold:
    """It holds no more, for a reason; cleared twice it stays as it was cleared first. Raises ValidationError."""
    held = Hold.objects.select_for_update().get(pk=hold.pk)
    if held.cleared_on:
        return held
    held.cleared_on, held.cleared_reason = on or timezone.localdate(), reason.strip()
    held.cleared_by_name = by.name if by else "Wharfwright"
    held.full_clean()
    held.save()
    log_change(held.job, did="cleared a hold", by=by, after={"waited for": str(held), "why": held.cleared_reason})
    return held


def holds_of(job: Job) -> list[Hold]:
    """What holds this job by word of somebody, longest first."""
    return list(Hold.objects.filter(job=job, cleared_on=None))


@transaction.atomic
def end_holds(job: Job, *, kinds: Iterable[str], why: str) -> list[Hold]:
    """What these holds waited for is on record: those that end by themselves do, with the why in the history."""
    found = Hold.objects.filter(job=job, cleared_on=None, ends_itself=True, kind__in=list(kinds))
    return [clear_hold(hold, reason=why[:300], by=None) for hold in found]


def signature_came(quote: Quote, *, by: Staff | None) -> None:
    """A quote was accepted."""
    when = f" {_day(quote.accepted_on)}" if quote.accepted_on else ""
    end_holds(quote.job, kinds=[HoldKind.SIGNATURE], why=f"Quote {quote.letter} was signed{when}.")


def permit_came(permit: Permit, *, by: Staff | None) -> None:
    """A permit was noted or changed: when every one that is needed is granted, nothing waits for it any more."""
    today = timezone.localdate()
    states = [one.state(on=today) for one in Permit.objects.filter(job=permit.job_id)]
    if all(state in (PermitState.ISSUED, PermitState.IN_FORCE, PermitState.NOT_NEEDED) for state in states):
        granted = f"granted {_day(permit.issued_on)}" if permit.needed else "not needed"
        end_holds(permit.job, kinds=[HoldKind.PERMIT], why=f"The permit of {permit.authority} is {granted}.")


def goods_came(stock_ids: Iterable[int], *, how: str) -> None:
    """Goods are in the yard: jobs that waited for their kind, and now have all of it here, wait for it no more."""
    waiting = Hold.objects.filter(cleared_on=None, ends_itself=True, kind__in=GOODS, job__ending="")
    served = Need.objects.standing().filter(stock__in=list(stock_ids), job__in=waiting.values("job_id"))
    asked = {(need.job_id, _kind(need)) for need in served.select_related("stock__item")}
    if not asked:
        return
    short = {(one.need.job_id, one.need.need_id) for one in covers({job for job, _ in asked}) if not one.is_here}
    lacking = Need.objects.filter(pk__in=[need for _, need in short]).select_related("stock__item")
    still = {(need.job_id, _kind(need)) for need in lacking}
    for hold in waiting.filter(job__in={job for job, _ in asked}).select_related("job"):
        key, verb = (hold.job_id, hold.kind), "are" if hold.kind == HoldKind.FLOATS else "is"
        if key in asked and key not in still:
            end_holds(hold.job, kinds=[hold.kind], why=f"{how}: its {hold.get_kind_display()} {verb} in the yard.")


def _kind(need: Need) -> str:
    return KIND_OF_ITEM.get(need.stock.item.kind, "hardware")


def _day(day: date) -> str:
    return day_said(day, short=True, weekday=True)
