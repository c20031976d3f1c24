"""What the schedule asks of the yard and tells it."""

from dataclasses import dataclass
from datetime import date

from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.schedule.gates import MaterialsFacts
from jobs.supply import services as supply
from jobs.supply.models import Need

NEEDS_GOODS = frozenset({"framing", "flotation", "decking", "anchoring"})


@dataclass(frozen=True, slots=True)
class Goods:
    """What a job's stages wait for, and the stages for which goods were ever listed."""

    waiting: dict[str, MaterialsFacts]
    listed: frozenset[str]

    def of(self, stage: str) -> MaterialsFacts:
        if stage in self.waiting:
            return self.waiting[stage]
        if stage in self.listed:
            return MaterialsFacts(True, None, "All goods are here and set aside.")
        if stage in NEEDS_GOODS and not self.listed:
            return MaterialsFacts(False, None, "The goods of this job are not listed yet.")
        return MaterialsFacts(True, None, "It needs no goods.")


def goods_of(job: Job) -> Goods:
    """The goods of all stages of a job, in a few questions."""
    standing = supply.materials_by_stage(job)
    waiting = {stage: MaterialsFacts(one.ready, one.expected_on, one.words) for stage, one in standing.items()}
    listed = Need.objects.standing().filter(job=job).values_list("stage", flat=True).distinct()
    return Goods(waiting, frozenset(listed))


def tell_starts(job: Job, *, starts: dict[str, date], by: Staff | None) -> None:
    """The days by which goods are needed follow the days of the stages."""
    if starts:
        supply.retime_needs(job=job, starts=starts, by=by)
