"""Sticks for several jobs bought as one cut list has them: what that changes in the goods of each, then the change."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction

from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.supply.models import Need

from .cutting import CutWork, cut_work
from .needs import Difference, apply_difference, stick_difference
from .sticks import to_buy


class NotSigned(Exception):
    """Sticks are bought for signed jobs only."""


@dataclass(frozen=True, slots=True)
class JobSticks:
    """What the list changes for one job."""

    job: Job
    found: Difference


@dataclass(frozen=True, slots=True)
class Together:
    """The cheapest sticks for these jobs together, and how that differs from what they have been given."""

    work: CutWork
    jobs: tuple[JobSticks, ...]

    @property
    def changes(self) -> bool:
        return any(one.found.changes for one in self.jobs)

    @property
    def whole(self) -> bool:
        """Whether every piece can be cut; else nothing is bought by the list."""
        return not any(one.plan.too_long or one.plan.short for one in self.work.items)


def together(jobs: list[Job], *, on: date) -> Together:
    """Nothing moves. Raises NotSigned, NothingToCut, SpecFaults."""
    work = cut_work(jobs, on=on, anew=True)
    if not all(one.sold for one in work.jobs):
        raise NotSigned(", ".join(one.job.number for one in work.jobs if not one.sold))
    sticks = [stick for one in work.items for stick in to_buy(one.plan.item, one.plan, one.waste_percent)]
    rows = tuple(
        JobSticks(
            sawn.job,
            stick_difference(
                sawn.job, letter=sawn.letter, sticks=[stick for job, stick in sticks if job == sawn.job.number]
            ),
        )
        for sawn in work.jobs
    )
    return Together(work, rows)


@transaction.atomic
def buy_together(jobs: list[Job], *, on: date, by: Staff) -> Together:
    """Change the goods of these jobs to the sticks of their common list. Raises as `together`."""
    list(Need.objects.select_for_update().filter(job__in=jobs).order_by("pk"))  # one change after the other
    found = together(jobs, on=on)
    numbers = " and ".join(job.number for job in jobs)
    for one in found.jobs:
        if found.whole and one.found.changes:
            apply_difference(one.job, one.found, by=by, reason=f"Sawn together: {numbers}")
    return found
