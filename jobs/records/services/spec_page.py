"""What the spec page says about a revision beside the dock itself."""

import datetime
from collections.abc import Callable

from contractor.company.models import ChangeLog
from estimating.engine.reasons import Amount, Finding, Sentence
from estimating.engine.result import Design
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
        return tuple(
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

    return checks
