"""What the spec page says about a revision beside the dock itself."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass

from contractor.company.models import ChangeLog
from estimating.engine.reasons import Amount, Finding, Sentence
from estimating.engine.result import Design
from estimating.engine.water.grounding import grounding, grounding_findings
from jobs.records.models import Job, SpecRevision

from .holding import broken_limits

ASK_FIRST = Sentence("Change the spec, or ask them first.")


def last_saved(revision: SpecRevision) -> datetime.datetime:
    """When the revision was last changed."""
    entry = ChangeLog.objects.about(revision).newest_first().filter(did__in=("made", "changed")).first()
    return entry.at if entry else revision.created_at


def limit_checks(job: Job) -> Callable[[Design], tuple[Finding, ...]]:
    """What the rules at the site and the job's permits have against a dock."""
    limits = [("The rules at the site", job.site), *((permit.authority, permit) for permit in job.permits.all())]

    def checks(dock: Design) -> tuple[Finding, ...]:
        over = tuple(
            Finding(
                "check",
                Sentence(
                    "{0}: {1} {2} at most; this dock is {3}.",
                    (broken.by, Amount(broken.most, broken.unit), broken.words, Amount(broken.dock, broken.unit)),
                ),
                ASK_FIRST,
                source="FIRM",
                code="over_limit",
            )
            for broken in broken_limits(dock, limits)
        )
        return (*over, *_too_near_the_bottom(dock, job))

    return checks


@dataclass(frozen=True, slots=True)
class Clearance:
    """How much water floats must keep under them at low water, inches, and whose rule that is."""

    least_in: float
    by: str


def clearances(job: Job) -> list[Clearance]:
    """What the rules at the site and the job's permits ask under the floats; the firm's own rule is the engine's."""
    asked = [("the rules at the site", job.site), *((permit.authority, permit) for permit in job.permits.all())]
    return [Clearance(limits.least_clearance_in, by) for by, limits in asked if limits.least_clearance_in is not None]


def _too_near_the_bottom(dock: Design, job: Job) -> list[Finding]:
    at_low = grounding(dock, level="low", level_in=dock.spec.place.water.low_in)
    return [
        finding
        for asked in clearances(job)
        for finding in grounding_findings(at_low, clearance_in=asked.least_in, by=asked.by)
        if finding.code == "clearance"
    ]
