"""The facts of each page, gathered so that the page only prints."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from contractor.company.models import Staff
from estimating.engine.reasons import SpecFaults
from jobs.fieldwork.documents.facts import STAGE_WORDS, STAGES, Work, speak
from jobs.fieldwork.models import Defect, Photo, WorkOrder
from jobs.records.models import Job
from jobs.schedule.models import JobStage

from .afloat import Lies, causes_of
from .basis import NothingToBuild, Worked, basis_of
from .defects import open_defects
from .keying import Standing, hours_of, standing_entries
from .orders import later_letter
from .planned import stages_done

AHEAD = datetime.timedelta(days=14)


@dataclass(frozen=True, slots=True)
class SheetPage:
    """What stands about a sheet beside its blanks."""

    standing: dict[str, Standing]
    conflicts: tuple[Standing, ...]
    defects: tuple[Defect, ...]
    later: str
    photos: tuple[Photo, ...]
    lies: Lies | None
    hours: float
    quoted: float


@dataclass(frozen=True, slots=True)
class StageLine:
    """One stage on the page of a job's work orders."""

    stage: str
    name: str
    order: WorkOrder | None  # under the letter the job is built from
    older: tuple[WorkOrder, ...]
    entries: int
    hours: float
    planned: str
    done: str


@dataclass(frozen=True, slots=True)
class OrdersBoard:
    """A job's work orders: what they are made from, stage by stage, and what is not right."""

    letter: str
    sold: bool
    lines: tuple[StageLine, ...]
    defects: tuple[Defect, ...]
    closed: tuple[Defect, ...]
    photos: tuple[Photo, ...]


@dataclass(frozen=True, slots=True)
class CrewLine:
    """A stage for a crew: when, where, and its sheet if it was printed."""

    stage: JobStage
    name: str
    order: WorkOrder | None
    now: bool


@dataclass(frozen=True, slots=True)
class CrewBoard:
    """What somebody works on today and next, and the sheets printed last."""

    today: tuple[CrewLine, ...]
    next: tuple[CrewLine, ...]
    last: tuple[WorkOrder, ...]
    mine: bool  # whether it is their own crew's, or everybody's


def faults_said(faults: SpecFaults) -> str:
    """Why a spec cannot be worked out."""
    return " ".join(fault.message.say(speak) for fault in faults.faults)


def find_order(number: str) -> WorkOrder | None:
    """The sheet of a number as people type it, under its last letter.

    A letter after the number asks for that one: 26-031-2 B.
    """
    words = number.upper().replace("/", " ").split()
    found = WorkOrder.objects.of_number(words[0]) if words else WorkOrder.objects.none()
    if len(words) > 1:
        found = found.filter(letter=words[1])
    return found.newest_first().first()


def sheet_page(order: WorkOrder, work: Work, worked: Worked) -> SheetPage:
    """Everything that stands about a sheet."""
    standing = standing_entries(order)
    return SheetPage(
        standing=standing,
        conflicts=tuple(one for one in standing.values() if one.differ),
        defects=tuple(one for one in open_defects(order.job) if one.stage == order.stage),
        later=later_letter(order),
        photos=tuple(Photo.objects.filter(job_id=order.job_id, stage=order.stage)),
        lies=causes_of(order, work, worked),
        hours=hours_of(order.job).get(order.stage, 0.0),
        quoted=work.hours,
    )


def orders_board(job: Job) -> OrdersBoard:
    """The page of a job's work orders."""
    try:
        basis = basis_of(job)
        letter, sold = basis.letter, basis.sold
    except NothingToBuild:
        letter, sold = "", False
    printed = list(WorkOrder.objects.filter(job=job).prefetch_related("entries").newest_first())
    facts = _Facts(letter, hours_of(job), stages_done(job), _planned(job))
    defects = Defect.objects.filter(job=job)
    return OrdersBoard(
        letter,
        sold,
        tuple(_line(stage, [order for order in printed if order.stage == stage], facts) for stage in STAGES),
        tuple(defects.open()),
        tuple(defects.filter(signed_off_at__isnull=False)),
        tuple(Photo.objects.filter(job=job)),
    )


def crew_board(person: Staff, *, on: datetime.date) -> CrewBoard:
    """Today's stages of the person's crew, or of every crew for who is in none."""
    stages = JobStage.objects.open().between(on, on + AHEAD).in_full().order_by("starts_on", "position")
    own = stages.filter(crew__members__staff=person, crew__members__active=True).distinct()
    mine = own.exists()
    rows = list(own if mine else stages)
    orders = _newest(WorkOrder.objects.filter(job_id__in={row.job_id for row in rows}))
    lines = [_crew_line(row, orders, on) for row in rows]
    last = tuple(WorkOrder.objects.in_full().order_by("-printed_at")[:8])
    return CrewBoard(
        tuple(line for line in lines if line.now), tuple(line for line in lines if not line.now), last, mine
    )


@dataclass(frozen=True, slots=True)
class _Facts:
    letter: str
    hours: dict[str, float]
    done: dict[str, str]
    planned: dict[str, str]


def _line(stage: str, printed: list[WorkOrder], facts: _Facts) -> StageLine:
    current = next((order for order in printed if order.letter == facts.letter), None)
    return StageLine(
        stage,
        STAGE_WORDS[stage].capitalize(),
        current,
        tuple(order for order in printed if order is not current),
        sum(len(order.entries.all()) for order in printed),
        facts.hours.get(stage, 0.0),
        facts.planned.get(stage, ""),
        facts.done.get(stage, ""),
    )


def _planned(job: Job) -> dict[str, str]:
    rows = JobStage.objects.filter(job=job, crew__isnull=False).select_related("crew")
    return {row.stage: f"{row.crew.name}" for row in rows}


def _newest(orders: Iterable[WorkOrder]) -> dict[tuple[int, str], WorkOrder]:
    return {(o.job_id, o.stage): o for o in sorted(orders, key=lambda one: one.position)}


def _crew_line(row: JobStage, orders: dict[tuple[int, str], WorkOrder], on: datetime.date) -> CrewLine:
    return CrewLine(row, STAGE_WORDS[row.stage], orders.get((row.job_id, row.stage)), row.starts_on <= on)
