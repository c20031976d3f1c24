"""Days as numbers and as bits: where each stage could stand with each crew if nothing else were planned."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import reduce
from itertools import accumulate
from operator import or_

from .problem import PlanBoat, PlanCrew, PlanProblem, PlanStage, Window


@dataclass(frozen=True, slots=True)
class CrewDays:
    """The days a crew works, in order, as days since the first of the plan; a stage takes some that follow on."""

    crew: PlanCrew
    worked: tuple[int, ...]
    place_of: tuple[int, ...]  # for every day: how many worked days lie before it
    bits_before: tuple[int, ...]  # for every worked day and the end: those before it, as bits of calendar days


@dataclass(frozen=True, slots=True)
class Slots:
    """Where a stage may start with one crew: bit i stands for the crew's i-th worked day."""

    crew: int
    starts: int


@dataclass(frozen=True, slots=True)
class Work:
    """A stage with everything the search asks of it."""

    stage: PlanStage
    job: int
    number: int
    duration: int  # in worked days
    place: str
    after: tuple[int, ...]
    before: tuple[int, ...]
    slots: tuple[Slots, ...]


@dataclass(frozen=True, slots=True)
class Calendar:
    """A problem made ready. Raises ValueError for a stage after one that is not there, or after itself."""

    problem: PlanProblem
    days: int
    crews: tuple[CrewDays, ...]
    works: tuple[Work, ...]
    jobs: tuple[tuple[int, ...], ...]  # the stages of each job
    boats: dict[str, tuple[PlanBoat, ...]]
    boat_out: dict[str, int]  # bits of calendar days
    in_order: tuple[int, ...]
    due: tuple[int | None, ...]  # by job

    def day(self, number: int) -> date:
        return self.problem.first_day + timedelta(days=number)

    def number(self, day: date) -> int:
        return (day - self.problem.first_day).days

    @classmethod
    def of(cls, problem: PlanProblem) -> "Calendar":
        days = (problem.last_day - problem.first_day).days + 1
        crews = tuple(_crew_days(crew, problem, days) for crew in problem.crews)
        flat = [(number, job, stage) for number, (job, stage) in enumerate(_stages(problem))]
        numbers = {stage.key: number for number, _, stage in flat}
        missing = {key for _, _, stage in flat for key in stage.after} - numbers.keys()
        if missing:
            raise ValueError(f"a stage comes after {sorted(missing)[0]!r}, which is not in the plan")
        followers: dict[int, list[int]] = {}
        for number, _, stage in flat:
            for key in stage.after:
                followers.setdefault(numbers[key], []).append(number)
        slotting = _Slotting(problem, crews, days)
        works = tuple(
            Work(
                stage,
                job,
                number,
                stage.duration_days,
                problem.jobs[job].place if stage.place is None else stage.place,
                tuple(numbers[key] for key in stage.after),
                tuple(followers.get(number, ())),
                tuple(slotting.of(stage)),
            )
            for number, job, stage in flat
        )
        jobs = tuple(tuple(w.number for w in works if w.job == j) for j in range(len(problem.jobs)))
        kinds = {boat.kind for boat in problem.boats}
        boats = {kind: tuple(boat for boat in problem.boats if boat.kind == kind) for kind in kinds}
        out = {boat.key: _bits(_numbers(boat.out_on, problem, days)) for boat in problem.boats}
        due = tuple(None if job.due is None else (job.due - problem.first_day).days for job in problem.jobs)
        return cls(problem, days, crews, works, jobs, boats, out, _sorted_by_order(works), due)


def allowed(stage: PlanStage, day: date) -> bool:
    """Whether the stage's own gates leave a day open: date, windows, days it may not touch."""
    if stage.earliest is not None and day < stage.earliest:
        return False
    return day not in stage.not_on and (not stage.windows or any(window.holds(day) for window in stage.windows))


def able(crew: PlanCrew, stage: PlanStage, day: date) -> bool:
    """Whether enough people with the skills asked for are there on a day."""
    people = min([crew.people, *(count for on, count in crew.fewer if on == day)])
    lacking = {skill for on, skill in crew.lacking if on == day}
    return people >= stage.people and stage.skills <= crew.skills - lacking


def _stages(problem: PlanProblem) -> Iterator[tuple[int, PlanStage]]:
    for number, job in enumerate(problem.jobs):
        for stage in job.stages:
            yield number, stage


def _crew_days(crew: PlanCrew, problem: PlanProblem, days: int) -> CrewDays:
    worked = tuple(sorted(_numbers(crew.works_on, problem, days)))
    place_of, count = [], 0
    for day in range(days + 1):
        place_of.append(count)
        count += count < len(worked) and worked[count] == day
    bits_before = accumulate((1 << day for day in worked), or_, initial=0)
    return CrewDays(crew, worked, tuple(place_of), tuple(bits_before))


class _Slotting:
    """Where stages may start. Most ask for the same days, people and skills, so what was found once is kept."""

    def __init__(self, problem: PlanProblem, crews: tuple[CrewDays, ...], days: int) -> None:
        self.problem, self.crews, self.days = problem, crews, days
        self.kinds = {boat.kind for boat in problem.boats}
        self._fine: dict[tuple[int, int, int, frozenset[str]], int] = {}

    def of(self, stage: PlanStage) -> Iterator[Slots]:
        if stage.pinned is not None or not set(stage.boats) <= self.kinds:
            return
        open_days = self._open_days(stage)
        for number, crew in enumerate(self.crews):
            if stage.crew and stage.crew != crew.crew.key:
                continue
            starts = fine = self._fine_days(stage, number, open_days)
            for step in range(1, stage.duration_days):
                starts &= fine >> step
            if starts:
                yield Slots(number, starts)

    def _open_days(self, stage: PlanStage) -> int:
        """The days that the stage's own gates leave open, as `allowed` says of each, in bits of calendar days."""
        windows = (self._from_to(window.opens, window.closes) for window in stage.windows or (Window(),))
        open_days = reduce(or_, windows) & self._from_to(stage.earliest, None)
        return open_days & ~_bits(_numbers(stage.not_on, self.problem, self.days))

    def _from_to(self, opens: date | None, closes: date | None) -> int:
        first = 0 if opens is None else min(max(0, (opens - self.problem.first_day).days), self.days)
        last = self.days - 1 if closes is None else min((closes - self.problem.first_day).days, self.days - 1)
        return ((1 << (last + 1 - first)) - 1) << first if last >= first else 0

    def _fine_days(self, stage: PlanStage, number: int, open_days: int) -> int:
        """The worked days on which the crew can do the stage, in bits of its worked days."""
        key = (number, open_days, stage.people, stage.skills)
        if key not in self._fine:
            crew, first = self.crews[number], self.problem.first_day
            worked = enumerate(crew.worked)
            open_places = [(place, day) for place, day in worked if open_days >> day & 1]
            special = {day for day, _ in (*crew.crew.fewer, *crew.crew.lacking)}
            usual = stage.people <= crew.crew.people and stage.skills <= crew.crew.skills
            self._fine[key] = _bits(
                place
                for place, day in open_places
                if (usual if (on := first + timedelta(days=day)) not in special else able(crew.crew, stage, on))
            )
        return self._fine[key]


def _numbers(days_on: Iterable[date], problem: PlanProblem, days: int) -> list[int]:
    numbers = ((day - problem.first_day).days for day in days_on)
    return [number for number in numbers if 0 <= number < days]


def _bits(numbers: Iterable[int]) -> int:
    bits = 0
    for number in numbers:
        bits |= 1 << number
    return bits


def _sorted_by_order(works: tuple[Work, ...]) -> tuple[int, ...]:
    """Every stage behind those it comes after."""
    left = {work.number: len(work.after) for work in works}
    ready = [number for number, count in left.items() if not count]
    order = []
    while ready:
        number = ready.pop(0)
        order.append(number)
        for follower in works[number].before:
            left[follower] -= 1
            if not left[follower]:
                ready.append(follower)
    if len(order) < len(works):
        raise ValueError("stages wait for each other in a circle")
    return tuple(order)
