"""Holds set and cleared by hand, each with who acts and why."""

from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.supply.models import Hold


@transaction.atomic
def set_hold(job: Job, *, kind: str, words: str, by: Staff | None, **facts: Any) -> Hold:
    """Say that a job waits for something no record knows of.

    `facts` may give since, who_acts, promised_on, check_on and stages. Raises ValidationError.
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
