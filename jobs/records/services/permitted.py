"""Planned days held against work dates and permits; a day may be kept against them, with a reason that stays."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction

from contractor.company.models import Staff
from estimating.engine.permitted import DateFault, date_faults
from jobs.records.models import Job, KeptCheck
from jobs.records.models.held_to import permit_days_of, windows_of
from jobs.records.models.saying import day_said

from .kept_checks import keep_check


@dataclass(frozen=True, slots=True)
class PlannedDateFault:
    """What is against a day. `kept` says who decided to live with it, when and why; empty while nobody has."""

    by: str
    code: str
    headline: str
    cure: str
    key: str
    kept: str = ""


class NothingToKeepItWith(Exception):
    """A reason is kept with the job's spec, and there is none yet."""


def planned_date_faults(job: Job, day: date) -> list[PlannedDateFault]:
    """What the site's rules and the job's permits have against in-water work on a day; nothing where it is allowed."""
    found = date_faults(day, windows=windows_of(job), permits=permit_days_of(job), say=day_said)
    if not found:
        return []
    kept = {
        check.key: check.words
        for check in KeptCheck.objects.filter(revision__job=job, key__startswith="date_").order_by("at", "pk")
    }
    return [_planned(fault, kept.get(fault.key, "")) for fault in found]


@transaction.atomic
def keep_planned_date(job: Job, day: date, *, key: str, reason: str, by: Staff) -> KeptCheck | None:
    """Keep a day against what was said of it. None where nothing by this key is against it any more.

    Raises ValidationError without a reason, NothingToKeepItWith while the job has no spec.
    """
    fault = next((one for one in planned_date_faults(job, day) if one.key == key), None)
    if fault is None:
        return None
    newest = job.spec_revisions.newest_first().first()
    if newest is None:
        raise NothingToKeepItWith(job.number)
    return keep_check(newest, key=key, headline=fault.headline, reason=reason, by=by)


def _planned(fault: DateFault, kept: str) -> PlannedDateFault:
    return PlannedDateFault(fault.by, fault.code, fault.headline, fault.cure, fault.key, kept)
