"""Defects: opened by a measure or by somebody, open until signed off with a reason."""

import datetime
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.fieldwork.documents.facts import STAGES
from jobs.fieldwork.models import Defect, Severity, WorkOrder
from jobs.records.models import Job
from jobs.schedule.models import JobStage
from jobs.schedule.services import hold_stage, release_stage
from jobs.schedule.services.stages import opened

OURS = "A defect, not signed off yet."  # how what we write on the board ends
ALSO = ". Also: "  # between what somebody else holds a stage for, and ours
LONGEST = 300


class ReasonMissing(ValueError):
    """Nobody signs a defect off without saying why."""


def open_defects(job: Job) -> tuple[Defect, ...]:
    """What is not right and not signed off, the newest first."""
    return tuple(Defect.objects.filter(job=job).open())


def holding_defects(job: Job, stage: str) -> tuple[Defect, ...]:
    """The open defects that hold this stage."""
    return tuple(Defect.objects.filter(job=job).holding(stage))


def defect_words(job: Job, stage: str) -> str:
    """Why a stage is held by defects, in one sentence; empty if it is not. The board may not let it go meanwhile."""
    held = holding_defects(job, stage)
    if not held:
        return ""
    more = f" And {len(held) - 1} more." if len(held) > 1 else ""
    return f"{held[0].words.rstrip('.')}.{more} {OURS}"


def next_stage(stage: str, job: Job | None = None) -> str:
    """The stage after this one, in the order the job is built where that is planned; empty after hand-over."""
    planned = JobStage.objects.filter(job=job).order_by("position").values_list("stage", flat=True) if job else ()
    order = [one for one in planned if one in STAGES] or list(STAGES)
    place = order.index(stage) + 1 if stage in order else len(order)
    return order[place] if place < len(order) else ""


@dataclass(frozen=True, slots=True)
class Found:
    """What is not right: where, which blank showed it, how bad, and who puts it right by when."""

    words: str
    place: str = ""
    key: str = ""
    severity: str = Severity.MUST
    owner: Staff | None = None
    due_on: datetime.date | None = None


@transaction.atomic
def open_defect(job: Job, found: Found, *, stage: str, by: Staff, order: WorkOrder | None = None) -> Defect:
    """Write down what is not right; what must be put right holds the next stage.

    A measure that is still open under the same blank is not opened twice.
    """
    standing = Defect.objects.filter(job=job, stage=stage, key=found.key).open().first() if found.key else None
    if standing is not None:
        return standing
    defect = Defect(
        job=job,
        stage=stage,
        holds_stage=next_stage(stage, job) if found.severity == Severity.MUST else "",
        order=order,
        key=found.key,
        words=found.words[:300],
        place=found.place[:120],
        severity=found.severity,
        owner=found.owner,
        due_on=found.due_on,
        found_by=by,
        found_by_name=by.name,
    )
    defect.full_clean()
    defect.save()
    log_made(defect, by=by, facts={"words": defect.words, "holds_stage": defect.holds_stage})
    _tell_board(defect, by=by)
    return defect


@transaction.atomic
def sign_off(defect: Defect, *, reason: str, seen_version: int, by: Staff) -> Defect:
    """Close a defect, saying how it was put right or why it may stay. Raises ReasonMissing, ChangedMeanwhile."""
    if not reason.strip():
        raise ReasonMissing("Say how it was put right, or why it may stay.")
    changes = {"signed_off_at": timezone.now(), "signed_off_by_name": by.name, "reason": reason.strip()[:300]}
    closed = save_if_unchanged(defect, seen_version, changes, by=by, did="signed off")
    _tell_board(closed, by=by)
    return closed


def _tell_board(defect: Defect, *, by: Staff) -> None:
    """What the board says of the stage it holds, after the open defects; what somebody else wrote there stays."""
    job, stage = opened(defect.job), defect.holds_stage
    standing = JobStage.objects.filter(job=job, stage=stage).values_list("held_why", flat=True).first()
    if standing is None:
        return
    theirs, also, _ = standing.partition(ALSO)
    if not also and standing.endswith(OURS):
        theirs = ""
    ours = defect_words(job, stage)
    why = f"{theirs.rstrip('.')}{ALSO}{ours}" if theirs and ours else ours or theirs
    if len(why) > LONGEST:
        why = f"{why[: LONGEST - len(OURS) - 2].rstrip()}… {OURS}"
    if why and why != standing:
        hold_stage(job, stage, why, by)
    elif not why and standing:
        release_stage(job, stage, by, reason=defect.reason)
