"""What the spec page says about a revision beside the dock itself."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass

from contractor.company.models import ChangeLog
from estimating.engine.reasons import Finding
from estimating.engine.result import Design
from jobs.records.models import Job, SpecRevision
from jobs.records.models.held_to import against


def last_saved(revision: SpecRevision) -> datetime.datetime:
    """When the revision was last changed."""
    entry = ChangeLog.objects.about(revision).newest_first().filter(did__in=("made", "changed")).first()
    return entry.at if entry else revision.created_at


def limit_checks(job: Job) -> Callable[[Design], tuple[Finding, ...]]:
    """What the rules at the site and the job's permits have against a dock."""
    return against(job)


@dataclass(frozen=True, slots=True)
class Clearance:
    """How much water floats must keep under them at low water, inches, and whose rule that is."""

    least_in: float
    by: str


def clearances(job: Job) -> list[Clearance]:
    """What the rules at the site and the job's permits ask under the floats; the firm's own rule is the engine's."""
    asked = [("the rules at the site", job.site), *((permit.authority, permit) for permit in job.permits.all())]
    return [Clearance(limits.least_clearance_in, by) for by, limits in asked if limits.least_clearance_in is not None]
