"""The stages of a job: opened with the hours that were sold, options taken among them; held, let go, done."""

from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from estimating.quotes.models import Quote
from jobs.records.models import Job
from jobs.schedule.gates import STAGE_NAMES, Gates, order_of, read_gates
from jobs.schedule.models import BuildStage, JobPlan, JobStage
from jobs.supply.services.needs import figures_accepted

from .facts import launches_first, read_afresh, stage_facts
from .shop import Shop

Holds = Callable[[Job, str], str]
_HOLDING: list[Holds] = []


def also_held_by(ask: Holds) -> None:
    """A later room asks to be heard before a stage is let go or done: it says why it holds it, or nothing."""
    if ask not in _HOLDING:
        _HOLDING.append(ask)


class NoSuchStage(KeyError):
    """The job has no such stage: no quote of it was accepted, or the word is none of ours."""


class StageNotHeldOpen(ValidationError):
    """A stage that may not be done yet; the message says why."""


def stages_of(job: Job) -> tuple[JobStage, ...]:
    """The stages of a job in the order they are built; none before a quote was accepted."""
    return tuple(read_afresh(opened(job)).stages_here)


def opened(job: Job) -> Job:
    """The job, its stages written down from the accepted quote if they were not yet."""
    if not JobStage.objects.filter(job=job).exists():
        _open_all([job])
    return job


def open_accepted() -> None:
    """Write down the stages of every job whose quote was accepted and that has none yet."""
    _open_all(Job.objects.open().filter(quotes__state="accepted", build_stages__isnull=True).distinct())


def gates_of(job: Job, stage: str, *, on: date | None = None, shop: Shop | None = None) -> Gates:
    """Every gate of one stage and the one that governs. Raises NoSuchStage."""
    if shop is None or not hasattr(job, "stages_here"):
        read_afresh(opened(job))
    found = next((one for one in job.stages_here if one.stage == stage), None)
    if found is None:
        raise NoSuchStage(stage)
    found.job = job
    return read_gates(stage_facts(found, shop or Shop(on=on or timezone.localdate())))


@transaction.atomic
def stage_done(job: Job, stage: str, on: date, by: Staff) -> JobStage:
    """Note that a stage is done. Raises NoSuchStage; StageNotHeldOpen when it is held or out of turn."""
    held = _locked(job, stage)
    if held.is_done:
        return held
    if why := held.held_why or _held_elsewhere(job, stage):
        raise StageNotHeldOpen(f"{_named(stage)} is held: {why}")
    before = JobStage.objects.filter(job=job, position__lt=held.position, done_on__isnull=True).first()
    if before is not None:
        raise StageNotHeldOpen(f"{_named(before.stage)} comes first and is not done yet.")
    if on > timezone.localdate():
        raise StageNotHeldOpen("A stage is done today or was done earlier.")
    changes = {"done_on": on, "done_by_name": by.name}
    return save_if_unchanged(held, held.version, changes, by=by, did="done")


@transaction.atomic
def stage_not_done(job: Job, stage: str, by: Staff) -> JobStage:
    """Take a mistaken tick back. Raises NoSuchStage; StageNotHeldOpen when a later stage is done already."""
    held = _locked(job, stage)
    later = JobStage.objects.filter(job=job, position__gt=held.position, done_on__isnull=False).first()
    if later is not None:
        raise StageNotHeldOpen(f"{_named(later.stage)} comes after it and is done.")
    return save_if_unchanged(held, held.version, {"done_on": None, "done_by_name": ""}, by=by, did="opened again")


@transaction.atomic
def hold_stage(job: Job, stage: str, why: str, by: Staff | None) -> JobStage:
    """Stop a stage until somebody lets it go. Raises NoSuchStage, ValidationError without a reason."""
    if not why.strip():
        raise ValidationError("Say what it waits for.")
    held = _locked(job, stage)
    changes = {"held_why": why.strip()[:300], "held_since": held.held_since or timezone.localdate(), "held_by": by}
    return save_if_unchanged(held, held.version, changes, by=by, did="held")


@transaction.atomic
def release_stage(job: Job, stage: str, by: Staff | None, *, reason: str = "") -> JobStage:
    """Let a held stage go on; the reason goes in the change log.

    Raises NoSuchStage; StageNotHeldOpen while something else holds it, such as a defect nobody signed off.
    """
    held = _locked(job, stage)
    if not held.held_why:
        return held
    if why := _held_elsewhere(job, stage):
        raise StageNotHeldOpen(f"{_named(stage)} stays held: {why}")
    changes = {"held_why": "", "held_since": None, "held_by": None}
    saved = save_if_unchanged(held, held.version, changes, by=by, did="let go")
    if reason:
        log_change(saved, did="said why it may go on", by=by, after={"reason": reason})
    return saved


@transaction.atomic
def save_plan(job: Job, *, seen_version: int, changes: dict[str, object], by: Staff | None) -> JobPlan:
    """How the job is built; its stages change their order with it. Raises ChangedMeanwhile, ValidationError."""
    plan, _ = JobPlan.objects.get_or_create(job=job)
    saved = save_if_unchanged(plan, seen_version, changes, by=by)
    job.plan = saved
    order = order_of(launch_first=launches_first(job))
    for stage in JobStage.objects.filter(job=job):
        if stage.position != order.index(stage.stage) + 1:
            JobStage.objects.filter(pk=stage.pk).update(position=order.index(stage.stage) + 1)
    return saved


def _held_elsewhere(job: Job, stage: str) -> str:
    return next((why for ask in _HOLDING if (why := ask(job, stage))), "")


def _locked(job: Job, stage: str) -> JobStage:
    opened(job)
    found = JobStage.objects.select_for_update().filter(job=job, stage=stage).first()
    if found is None:
        raise NoSuchStage(stage)
    return found


@transaction.atomic
def _open_all(jobs: Iterable[Job]) -> None:
    for job in jobs:
        quote = Quote.objects.filter(job=job, state="accepted").prefetch_related("options").first()
        if quote is None or not quote.figures:
            continue
        JobPlan.objects.get_or_create(job=job, defaults={"quote_letter": quote.letter})
        hours = figures_accepted(quote)["hours"]["stage_hours"]
        for position, stage in enumerate(order_of(launch_first=launches_first(job)), 1):
            planned = Decimal(str(hours.get(stage, 0)))
            JobStage.objects.get_or_create(
                job=job, stage=stage, defaults={"position": position, "planned_hours": planned}
            )


def _named(stage: str) -> str:
    return STAGE_NAMES[BuildStage(stage)].capitalize()
