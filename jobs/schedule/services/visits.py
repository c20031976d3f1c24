"""Stages that are done in one go: what the planner puts on days is a visit, not seven half days."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.records.models import Job
from jobs.schedule.gates import StageFacts, in_water
from jobs.schedule.models import JobStage

from .facts import launches_first, stage_facts
from .shop import Shop

TOGETHER = (frozenset({"layout", "framing"}), frozenset({"flotation", "launch", "decking"}))
LAST = frozenset({"anchoring", "handover"})


@dataclass(frozen=True, slots=True)
class Visit:
    """Stages of one job one crew does one after the other, on the days that follow."""

    job: Job
    stages: tuple[JobStage, ...]
    facts: tuple[StageFacts, ...]

    @property
    def key(self) -> str:
        return self.stages[0].key

    @property
    def hours(self) -> Decimal:
        return sum((stage.planned_hours for stage in self.stages), Decimal(0))

    @property
    def name(self) -> str:
        return ", ".join(stage.get_stage_display() for stage in self.stages)

    @property
    def pinned_on(self) -> date | None:
        return next((stage.starts_on for stage in self.stages if stage.pinned), None)

    @property
    def starts_on(self) -> date | None:
        return min((stage.starts_on for stage in self.stages if stage.starts_on), default=None)

    @property
    def ends_on(self) -> date | None:
        return max((stage.ends_on for stage in self.stages if stage.ends_on), default=None)

    @property
    def crew_id(self) -> int | None:
        return self.stages[0].crew_id


def visits_of(job: Job, shop: Shop, *, split: str = "") -> tuple[Visit, ...]:
    """The open stages of a job from `with_facts`, put together where they may be done in one go.

    `split` is the key of a stage that begins a visit of its own.
    """
    groups: list[list[JobStage]] = []
    for stage in job.stages_here:
        stage.job = job
        if stage.is_done:
            continue
        if groups and stage.key != split and _belongs(groups[-1], stage):
            groups[-1].append(stage)
        else:
            groups.append([stage])
    return tuple(_visit(job, group, shop) for group in groups)


def spread(stages: Iterable[JobStage], days: tuple[date, ...]) -> dict[str, tuple[date, date]]:
    """First and last day of each stage when all of them share these days by their hours.

    A stage starts on the day the one before it ends.
    """
    found, before = {}, Decimal(0)
    listed = list(stages)
    total = sum((stage.planned_hours for stage in listed), Decimal(0)) or Decimal(1)
    for stage in listed:
        after = before + stage.planned_hours
        first = min(int(before / total * len(days)), len(days) - 1)
        last = max(first, min(math.ceil(after / total * len(days)) - 1, len(days) - 1))
        found[stage.stage] = (days[first], days[last])
        before = after
    return found


def _visit(job: Job, stages: list[JobStage], shop: Shop) -> Visit:
    return Visit(job, tuple(stages), tuple(stage_facts(stage, shop) for stage in stages))


def _belongs(group: list[JobStage], stage: JobStage) -> bool:
    """Whether a stage is done in one go with those before it: of a kind, and not elsewhere on the board."""
    together = next((one for one in (*TOGETHER, LAST) if stage.stage in one), frozenset())
    return (
        group[-1].stage in together and not _stands_apart(group[-1], stage) and not _waits_for_water(group[-1], stage)
    )


def _stands_apart(before: JobStage, stage: JobStage) -> bool:
    if not stage.is_placed or not before.is_placed:
        return stage.is_placed != before.is_placed
    return stage.crew_id != before.crew_id or stage.starts_on > before.ends_on or stage.pinned != before.pinned


def _waits_for_water(before: JobStage, stage: JobStage) -> bool:
    """The first stage in the water stands apart where the calendar of that water does not let it at all times."""
    job = stage.job
    first = launches_first(job)
    wet = in_water(stage.stage, launch_first=first) and not in_water(before.stage, launch_first=first)
    return wet and (job.site.ice not in ("none", "unknown") or bool(_windows_of(job)))


def _windows_of(job: Job) -> list[object]:
    of_permits = [window for permit in job.permits.all() for window in permit.work_windows.all()]
    return [*job.site.work_windows.all(), *of_permits]
