"""Two weeks of days and crews, gathered so that screen and paper only print."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.records.models import Job
from jobs.schedule.gates import Gates, read_gates
from jobs.schedule.models import JobStage, WeatherLog

from .board_water import Delivery, WaterRow, deliveries_on, waters_on
from .facts import stage_facts, with_facts
from .problem import HORIZON_DAYS
from .shop import Shop, Team
from .stages import open_accepted
from .visits import visits_of

WEEKS = 2
ONE_DAY = timedelta(days=1)
QUIET = ("previous", "crew", "boat", "workday")  # what the chart itself shows
ROOMY_BOXES, ROOMY_LINES = 3, 8
NUMBERS = ("no crew", "one crew", "two crews", "three crews", "four crews", "five crews", "six crews")


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a box is dashed: the number of its tag and the sentence below the chart."""

    number: int
    stage: JobStage
    gates: Gates
    breaks: bool  # it stands before it may

    @property
    def sentences(self) -> tuple[str, ...]:
        """The governing one first, then whatever else is open."""
        others = [gate.words for gate in self.gates.open_gates if gate.kind not in QUIET]
        return tuple(dict.fromkeys([self.gates.governor, *others]))


Reasons = dict[tuple[int, bool, tuple[str, ...]], Reason]


@dataclass(frozen=True, slots=True)
class Block:
    """One box: stages of one job a crew does on days that follow each other. `span` counts columns."""

    job: Job
    stages: tuple[JobStage, ...]
    what: str
    span: int
    reason: Reason | None
    done: bool
    begins: bool
    pinned: bool

    @property
    def stage(self) -> JobStage:
        return self.stages[0]


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a crew's row from one day on: boxes, or why there are none."""

    day: date
    span: int
    blocks: tuple[Block, ...]
    note: str = ""
    free: bool = False


@dataclass(frozen=True, slots=True)
class HoursCell:
    day: date
    hours: Decimal
    share: int  # of the hours there are, to five percent


@dataclass(frozen=True, slots=True)
class CrewRow:
    team: Team
    people: str
    hours_a_day: Decimal
    cells: tuple[Cell, ...]
    hours: tuple[HoursCell, ...]


@dataclass(frozen=True, slots=True)
class Day:
    day: date
    today: bool
    new_week: bool
    holiday: str


@dataclass(frozen=True, slots=True)
class DayLine:
    """The same by day, for a narrow screen."""

    day: Day
    lines: tuple[tuple[CrewRow, Cell], ...]


@dataclass(frozen=True, slots=True)
class Waiting:
    """A signed job that is not on the wall: its next stage, the earliest day, what governs."""

    job: Job
    stage: JobStage
    gates: Gates


@dataclass(frozen=True, slots=True)
class Board:
    first: date
    last: date
    days: tuple[Day, ...]
    rows: tuple[CrewRow, ...]
    reasons: tuple[Reason, ...]
    waiting: tuple[Waiting, ...]
    by_day: tuple[DayLine, ...]
    weather: tuple[WeatherLog, ...]
    deliveries: tuple[Delivery, ...]
    waters: tuple[WaterRow, ...]

    @property
    def crews_said(self) -> str:
        count = len(self.rows)
        return NUMBERS[count] if count < len(NUMBERS) else f"{count} crews"

    @property
    def is_roomy(self) -> bool:
        """Little enough to say for big letters on one sheet of paper."""
        boxes = max((len(cell.blocks) for row in self.rows for cell in row.cells), default=0)
        return len(self.rows) * max(boxes, 1) <= ROOMY_BOXES and len(self.reasons) + len(self.waiting) <= ROOMY_LINES

    @property
    def earlier(self) -> date:
        return self.first - timedelta(weeks=WEEKS)

    @property
    def later(self) -> date:
        return self.first + timedelta(weeks=WEEKS)


def board_from(day: date, *, today: date) -> Board:
    """The two weeks that begin with the week of a day, as of today."""
    open_accepted()
    shop = Shop(on=today)
    first = day - timedelta(days=day.isoweekday() - 1)
    last = first + timedelta(weeks=WEEKS) - ONE_DAY
    days = _days(first, last, shop)
    shown = JobStage.objects.between(first, last).in_full().order_by("starts_on", "position")
    jobs = {job.pk: job for job in with_facts(Job.objects.filter(build_stages__in=shown).distinct().in_full())}
    reasons: Reasons = {}
    by_crew: dict[int, list[JobStage]] = {}
    for stage in shown:
        stage.job = jobs[stage.job_id]
        by_crew.setdefault(stage.crew_id, []).append(stage)
    rows = tuple(_row(team, by_crew.get(team.crew.pk, []), days, shop, reasons) for team in shop.teams)
    return Board(
        first=first,
        last=last,
        days=days,
        rows=rows,
        reasons=tuple(reasons.values()),
        waiting=_waiting(shop),
        by_day=tuple(_line(one, rows) for one in days if one.day >= today or last < today),
        weather=tuple(WeatherLog.objects.filter(day__range=(first, last), struck_out=False).select_related("crew")),
        deliveries=deliveries_on([one.day for one in days]),
        waters=waters_on([one.day for one in days], shown, today=today),
    )


def _days(first: date, last: date, shop: Shop) -> tuple[Day, ...]:
    """Days of the week that are worked, and any other on which work stands."""
    busy = {
        one.starts_on + timedelta(days=n)
        for one in shop.standing
        if one.starts_on <= last and one.ends_on >= first
        for n in (0, (one.ends_on - one.starts_on).days)
    }
    found = []
    for step in range((last - first).days + 1):
        day = first + timedelta(days=step)
        if day.isoweekday() in shop.work_days.week or day in busy:
            new_week = bool(found) and found[-1].day.isocalendar().week != day.isocalendar().week
            found.append(Day(day, day == shop.today, new_week, shop.holidays.get(day, "")))
    return tuple(found)


def _row(team: Team, stages: list[JobStage], days: tuple[Day, ...], shop: Shop, reasons: Reasons) -> CrewRow:
    people = ", ".join(person.name.split()[0] for person in team.people) or "nobody yet"
    a_day = Decimal(len(team.people)) * shop.rules.day_hours
    hours = tuple(_hours(day.day, stages, a_day, shop) for day in days)
    return CrewRow(team, people, a_day, tuple(_cells(team, stages, days, shop, reasons)), hours)


def _cells(team: Team, stages: list[JobStage], days: tuple[Day, ...], shop: Shop, reasons: Reasons):
    """From left to right; days with the same stages on them make one cell."""
    index = 0
    while index < len(days):
        here = _on(stages, days[index].day)
        end = index + 1
        while end < len(days) and not days[end].new_week and here and _on(stages, days[end].day) == here:
            end += 1
        day = days[index].day
        if here:
            yield Cell(day, end - index, _blocks(here, day, end - index, shop, reasons))
        else:
            yield Cell(day, 1, (), *_empty(team, days[index], shop))
        index = end


def _on(stages: list[JobStage], day: date) -> list[JobStage]:
    return [one for one in stages if one.starts_on <= day <= one.ends_on]


def _empty(team: Team, day: Day, shop: Shop) -> tuple[str, bool]:
    if day.holiday and not shop.work_days.works(day.day):
        return day.holiday, False
    away = next((one.why for one in team.away if one.member_id is None and one.first_on <= day.day <= one.last_on), "")
    if away:
        return away, False
    if not team.there_on(day.day):
        return "Nobody is there", False
    return "", day.day >= shop.today


def _blocks(stages: list[JobStage], day: date, span: int, shop: Shop, reasons: Reasons) -> tuple[Block, ...]:
    by_job: dict[int, list[JobStage]] = {}
    for stage in stages:
        by_job.setdefault(stage.job_id, []).append(stage)
    return tuple(_block(own, day, span, shop, reasons) for own in by_job.values())


def _block(own: list[JobStage], day: date, span: int, shop: Shop, reasons: Reasons) -> Block:
    what = ", ".join(one.get_stage_display() for one in own)
    done = all(one.is_done for one in own)
    reason = None if done else next(filter(None, (_reason(one, shop, reasons) for one in own)), None)
    begins = any(one.starts_on == day for one in own)
    return Block(own[0].job, tuple(own), what, span, reason, done, begins, any(one.pinned for one in own))


def _reason(stage: JobStage, shop: Shop, reasons: Reasons) -> Reason | None:
    """Why a stage is not certain; one sentence for the stages of a visit that wait for the same."""
    if stage.is_done or stage.starts_on < shop.today:
        return None
    gates = read_gates(stage_facts(stage, shop))
    breaks = gates.earliest is None or gates.earliest > stage.starts_on
    waits = [gate for gate in gates.open_gates if gate.kind not in QUIET]
    if not breaks and not waits:
        return None
    key = (stage.job_id, breaks, tuple(sorted(gate.words for gate in waits)))
    return reasons.setdefault(key, Reason(len(reasons) + 1, stage, gates, breaks))


def _hours(day: date, stages: list[JobStage], a_day: Decimal, shop: Shop) -> HoursCell:
    """The planned hours of each stage, shared evenly over its days."""
    hours = Decimal(0)
    for one in _on(stages, day):
        days = sum(
            shop.work_days.works(one.starts_on + timedelta(days=n))
            for n in range((one.ends_on - one.starts_on).days + 1)
        )
        hours += one.planned_hours / max(days, 1)
    share = min(100, round(float(hours / a_day) * 20) * 5) if a_day else 0
    return HoursCell(day, hours.quantize(Decimal("0.1")), share)


def _line(day: Day, rows: tuple[CrewRow, ...]) -> DayLine:
    return DayLine(day, tuple((row, _cell_of(row, day.day)) for row in rows))


def _cell_of(row: CrewRow, day: date) -> Cell:
    """The cell a day lies in, found from the left."""
    found = row.cells[0]
    for cell in row.cells:
        if cell.day <= day:
            found = cell
    return found


def _waiting(shop: Shop) -> tuple[Waiting, ...]:
    """Signed, not on the wall yet: the first stage of each job that has no day."""
    jobs = with_facts(
        Job.objects.open()
        .in_full()
        .filter(build_stages__done_on__isnull=True, build_stages__starts_on__isnull=True, build_stages__isnull=False)
        .distinct()
    )
    found = []
    for job in jobs:
        visit = next((one for one in visits_of(job, shop) if one.starts_on is None), None)
        if visit is not None:
            found.append(Waiting(job, visit.stages[0], read_gates(visit.facts[0])))
    return tuple(
        sorted(found, key=lambda one: (one.gates.earliest or shop.today + HORIZON_DAYS * ONE_DAY, one.job.number))
    )
