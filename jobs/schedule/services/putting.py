"""Stages put on their days: written down, logged, and told to the yard. Nothing moves in any other way."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.schedule.models import Crew, JobStage, ScheduleRules

from .goods import tell_starts
from .problem import StageDays


class BoardChanged(Exception):
    """Somebody moved work since this was worked out; nothing was saved."""


@dataclass(frozen=True, slots=True)
class OffTheBoard:
    """A stage for which no day is left."""

    stage: JobStage
    why: str


def hold_board() -> None:
    """Make everybody else who puts work on days wait until this transaction ends; before any mark is read.

    Two moves of different stages touch no row in common, and could put one crew in two places at once.
    """
    ScheduleRules.objects.get_or_create(pk=1)
    ScheduleRules.objects.select_for_update().get(pk=1)


def mark_of_board() -> str:
    """A mark that changes with every stage that is moved, pinned, held or done."""
    rows = JobStage.objects.order_by("pk").values_list("pk", "version")
    return hashlib.sha256(repr(list(rows)).encode()).hexdigest()


@transaction.atomic
def put_stages(
    days: Iterable[StageDays], *, by: Staff | None, pinned: frozenset[int] = frozenset(), did: str = "moved"
) -> list[JobStage]:
    """Write new days; `pinned` names the stages that stay there. Raises ChangedMeanwhile."""
    saved = []
    for one in days:
        pin = one.stage.pinned or one.stage.pk in pinned
        changes = {"crew": _crew(one), "starts_on": one.first, "ends_on": one.last, "pinned": pin}
        saved.append(save_if_unchanged(one.stage, one.stage.version, changes, by=by, did=did))
    _tell_yard(saved, by)
    return saved


@transaction.atomic
def take_off(stages: Iterable[JobStage], *, by: Staff | None) -> list[JobStage]:
    """Off the board, days and crew forgotten. Raises ChangedMeanwhile."""
    changes = {"crew": None, "starts_on": None, "ends_on": None, "pinned": False}
    return [save_if_unchanged(stage, stage.version, changes, by=by, did="took off the board") for stage in stages]


@transaction.atomic
def let_move(stage: JobStage, *, seen_version: int, by: Staff | None) -> JobStage:
    """A pinned stage may be moved by the next plan again. Raises ChangedMeanwhile."""
    return save_if_unchanged(stage, seen_version, {"pinned": False}, by=by, did="unpinned")


def _crew(one: StageDays) -> Crew:
    return Crew.objects.get(pk=one.crew_id)


def _tell_yard(saved: list[JobStage], by: Staff | None) -> None:
    by_job: dict[int, dict[str, date]] = {}
    jobs = {}
    for stage in saved:
        if stage.starts_on:
            jobs[stage.job_id] = stage.job
            by_job.setdefault(stage.job_id, {})[stage.stage] = stage.starts_on
    for job_id, starts in by_job.items():
        tell_starts(jobs[job_id], starts=starts, by=by)
