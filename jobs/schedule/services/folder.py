"""Everything the schedule page of one job says, and what a crew reads of its days."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.records.models import Job, ShoreKind
from jobs.schedule.gates import DepositFacts, Gates, StageFacts, read_gates
from jobs.schedule.models import Crew, DelayLog, DepositIn, JobPlan, JobStage, Waiver

from .facts import plan_of, read_afresh, stage_facts
from .shop import Shop
from .spine import line_of
from .stages import opened

SHOWN_BACK = timedelta(days=60)


@dataclass(frozen=True, slots=True)
class StageRow:
    stage: JobStage
    gates: Gates
    breaks: bool  # it stands before it may
    may_be_done: bool


@dataclass(frozen=True, slots=True)
class JobSchedule:
    """One job's stages with all their gates, and what was paid, risked and delayed."""

    job: Job
    rows: tuple[StageRow, ...]
    plan: JobPlan
    at_fixed_dock: bool
    deposit: DepositFacts
    money_in: tuple[DepositIn, ...]
    risks: tuple[Waiver, ...]
    delays: tuple[DelayLog, ...]
    hours: Decimal
    today: date

    @property
    def next_row(self) -> StageRow | None:
        """The first stage that is not done."""
        return next((row for row in self.rows if not row.stage.is_done), None)

    @property
    def spine(self) -> tuple[dict[str, object], ...]:
        """The stages as the spine draws them; launch belongs to flotation there."""
        first = self.next_row
        return tuple(_segment(row, first, self.today) for row in self.rows if row.stage.stage != "launch")


def job_schedule(job: Job, *, on: date) -> JobSchedule:
    """The page of one job as of a day."""
    read_afresh(opened(job))
    shop = Shop(on=on)
    facts: list[StageFacts] = []
    rows = []
    for stage in job.stages_here:
        stage.job = job
        facts.append(stage_facts(stage, shop))
        rows.append(_row(stage, read_gates(facts[-1]), rows))
    return JobSchedule(
        job=job,
        rows=tuple(rows),
        plan=plan_of(job),
        at_fixed_dock=job.site.shore_kind == ShoreKind.FIXED_DOCK,
        deposit=facts[0].deposit if facts else DepositFacts(),
        money_in=tuple(DepositIn.objects.filter(job=job)),
        risks=tuple(Waiver.objects.filter(job=job)),
        delays=tuple(DelayLog.objects.filter(job=job)),
        hours=sum((row.stage.planned_hours for row in rows), Decimal(0)),
        today=on,
    )


def days_of_crew(crew: Crew, *, on: date) -> list[JobStage]:
    """What stands in a crew's calendar: from two months back on."""
    stages = JobStage.objects.placed().in_full().filter(crew=crew, ends_on__gte=on - SHOWN_BACK)
    return list(stages.order_by("starts_on", "position"))


def _row(stage: JobStage, gates: Gates, before: list[StageRow]) -> StageRow:
    breaks = bool(
        stage.starts_on and not stage.is_done and (gates.earliest is None or gates.earliest > stage.starts_on)
    )
    ready = not stage.is_done and not stage.held_why and all(row.stage.is_done for row in before)
    return StageRow(stage, gates, breaks, ready)


def _segment(row: StageRow, first: StageRow | None, today: date) -> dict[str, object]:
    stage = row.stage
    begun = row is first and stage.starts_on is not None and stage.starts_on <= today
    return {
        "name": stage.get_stage_display(),
        "state": "done" if stage.is_done else "now" if begun else "",
        "line": line_of(stage),
        "held": stage.held_why if stage.held_why and row is first else "",
    }
