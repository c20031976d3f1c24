"""What no plan can beat: a mixed-integer program of when each job could be complete, over HiGHS.

One variable says for each job and day whether it is complete by then. All work that must be over by a day has to fit
into the days the crews work until then, from the first day on and from every later day on which more work is let in;
so too for each skilled share of the crews and for each kind of boat. Whatever breaks no gate keeps to these, so the
least cost they leave is below every plan's.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import isfinite
from threading import Thread
from time import monotonic

import highspy
import numpy as np

from estimating.engine.solver import QuietSolver

from .calendar import Calendar, Work
from .travel import Roads

LEAST_GAP = 1e-4
MOST_ROWS = 5  # of one family in one round: more make each round slower than they save rounds
LEAST_BREACH = 1e-4  # days
NEVER, ALWAYS = 0, 1  # columns


@dataclass(frozen=True, slots=True)
class Row:
    """A sum of completions, each times days of work, that fits into so many days of capacity."""

    columns: np.ndarray
    days: np.ndarray
    most: float


Ends = dict[int, float]
"""By job: the day on which the relaxed program has it complete, each part of it counted by its share."""

Hear = Callable[[float, Ends], bool]


class Bound:
    """The bound in the making beside the search: the solver leaves the other core alone. `value` is always proven.

    `ends` changes with every answer of the relaxed program: a good order for the jobs of a plan.
    """

    def __init__(self, calendar: Calendar, roads: Roads, *, seconds: float) -> None:
        self.value, self.wanted, self.ends = 0.0, True, Ends()
        self._thread = Thread(target=self._work, args=(calendar, roads, seconds), daemon=True)
        self._thread.start()

    def _work(self, calendar: Calendar, roads: Roads, seconds: float) -> None:
        self._hear(least_cost(calendar, roads, seconds=seconds, hear=self._hear), self.ends)

    def _hear(self, bound: float, ends: Ends) -> bool:
        self.value, self.ends = max(self.value, bound), ends
        return self.wanted

    def wait(self, seconds: float) -> float:
        """What there is after so long at most; then no more is asked for."""
        self._thread.join(max(seconds, 0.0))
        self.wanted = False
        return self.value


def least_cost(calendar: Calendar, roads: Roads, *, seconds: float, hear: Hear = lambda _bound, _ends: True) -> float:
    """A proven lower bound on `Plan.cost`; whatever time there is, what comes back is proven.

    `hear` is told each better bound and answers whether a better one still is wanted.
    """
    problem = calendar.problem
    miles = roads.least({work.place for work in calendar.works}) / problem.late_day_miles
    before = sum(
        job.weight * max(0, -calendar.number(job.due)) for job in problem.jobs if job.due is not None and job.stages
    )
    always = miles + before
    return always + _Program(calendar).solve(seconds, lambda late, ends: hear(always + late, ends))


class _Program:
    """Columns say of a job and a day: complete by the end of it. Only for jobs with a due date.

    A day on which no row looks at the job is as good as the next on which one does, and after the last the job is
    complete; so columns stand for those days only, `column[job, day]` is the one that a day goes by.
    """

    def __init__(self, calendar: Calendar) -> None:
        self.calendar = calendar
        self.heads = _heads(calendar)
        self.proving = _proving(calendar)
        self.jobs = [j for j, job in enumerate(calendar.problem.jobs) if job.due is not None and job.stages]
        self.place = {job: i for i, job in enumerate(self.jobs)}
        looking = [family for resource in self._resources() for family in self._families(*resource)]
        self.column, self.breaks = self._columns(looking)
        self.families = [family.onto(self.column) for family in looking]

    def solve(self, seconds: float, hear: Hear) -> float:
        """The least weighted lateness. Rows are added as the last answer breaks them, then days are made whole."""
        if not self.jobs:
            return 0.0
        until = monotonic() + seconds
        late = self._late_days()
        cost = -np.bincount(self.column.ravel(), late.ravel(), int(self.breaks[-1]))
        all_late, floor, ends = float(late.sum()), -float(cost[NEVER]), Ends()
        solver = _quiet_solver()
        solver.passModel(self._model(cost))
        while monotonic() < until and hear(floor, ends):
            # The solver's clock goes on from run to run.
            solver.setOptionValue("time_limit", solver.getRunTime() + max(until - monotonic(), 0.01))
            solver.run()
            if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
                return floor
            floor = max(floor, all_late + solver.getInfo().objective_function_value)
            answer = np.array(solver.getSolution().col_value)
            ends = self._ends(answer)
            broken = [row for family in self.families for row in family.broken(answer)]
            if not broken:
                break
            _add_rows(solver, broken)
        if not hear(floor, ends):
            return floor
        return max(floor, all_late + self._in_whole_days(solver, until))

    def _ends(self, answer: np.ndarray) -> Ends:
        """The share of a job that is not complete on a day puts its end off by as much."""
        return dict(zip(self.jobs, (1 - answer[self.column]).sum(axis=1).tolist(), strict=True))

    def _in_whole_days(self, solver: highspy.Highs, until: float) -> float:
        model, solver = solver.getLp(), _quiet_solver()
        model.integrality_ = [highspy.HighsVarType.kInteger] * model.num_col_
        solver.passModel(model)
        solver.setOptionValue("time_limit", max(until - monotonic(), 0.01))
        solver.run()
        bound = float(solver.getInfo().mip_dual_bound)
        return bound if isfinite(bound) else -float("inf")

    def _late_days(self) -> np.ndarray:
        """By job and day: what it costs that the job is not complete on that day."""
        late = np.zeros((len(self.jobs), self.calendar.days))
        for i, job in enumerate(self.jobs):
            late[i, max(0, self.calendar.due[job] or 0) :] = self.calendar.problem.jobs[job].weight
        return late

    def _columns(self, looking: list["Family"]) -> tuple[np.ndarray, np.ndarray]:
        """The column of every job and day, and where the columns of each job begin. Two are fixed: never, always."""
        days = self.calendar.days
        looked_at = np.zeros(len(self.jobs) * days, dtype=bool)
        for family in looking:
            looked_at[family.columns] = True
        column, breaks = np.zeros((len(self.jobs), days), dtype=np.int32), [2]
        for i, job in enumerate(self.jobs):
            end = min(self._earliest_end(job), days)
            own = np.flatnonzero(looked_at[i * days : (i + 1) * days])
            own = own[own >= end]
            place = np.searchsorted(own, np.arange(days))
            column[i] = np.where(place < own.size, breaks[-1] + place, ALWAYS)
            column[i, :end] = NEVER
            breaks.append(breaks[-1] + own.size)
        return column, np.array(breaks)

    def _model(self, cost: np.ndarray) -> highspy.HighsLp:
        """Complete stays complete: of two columns of a job that follow on, earlier - later <= 0."""
        earlier = np.setdiff1d(np.arange(2, cost.size), self.breaks - 1)
        lower, upper = np.zeros(cost.size), np.ones(cost.size)
        lower[ALWAYS], upper[NEVER] = 1.0, 0.0
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = cost.size, earlier.size
        model.col_cost_, model.col_lower_, model.col_upper_ = cost, lower, upper
        model.row_lower_, model.row_upper_ = np.full(earlier.size, -highspy.kHighsInf), np.zeros(earlier.size)
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.start_ = np.arange(earlier.size + 1, dtype=np.int32) * 2
        model.a_matrix_.index_ = np.column_stack([earlier, earlier + 1]).astype(np.int32).ravel()
        model.a_matrix_.value_ = np.tile([1.0, -1.0], earlier.size)
        return model

    def _families(self, works: list[Work], capacity: np.ndarray) -> Iterator["Family"]:
        """One for every day on which work is let in: stages that cannot start before it share what is left from it."""
        counted = [work for work in works if work.job in self.place and work.stage.pinned is None]
        for release in sorted({0, *(self.heads[work.number] for work in counted)}):
            let_in = [work for work in counted if self.heads[work.number] >= release]
            if let_in and release < self.calendar.days:
                yield Family.of(self, let_in, capacity, release)

    def _resources(self) -> Iterator[tuple[list[Work], np.ndarray]]:
        """Stages that draw on the same crews, or on the same kind of boat, with what there is of it on each day."""
        calendar = self.calendar
        working = np.zeros((len(calendar.crews), calendar.days))
        for number, crew in enumerate(calendar.crews):
            working[number, list(crew.worked)] = 1
        shares = {frozenset(slots.crew for slots in work.slots) for work in calendar.works} - {frozenset()}
        shares.add(frozenset(range(len(calendar.crews))))
        for share in sorted(shares, key=sorted):
            works = [w for w in calendar.works if {slots.crew for slots in w.slots} <= share and w.slots]
            yield works, working[sorted(share)].sum(axis=0)
        anybody = working.max(axis=0, initial=0)
        for kind, boats in calendar.boats.items():
            wanting = [work for work in calendar.works if kind in work.stage.boats]
            afloat = sum(
                np.array([1 - (calendar.boat_out[b.key] >> day & 1) for day in range(calendar.days)]) for b in boats
            )
            yield wanting, afloat * anybody

    def proven_by(self, work: Work, days: np.ndarray, left: int) -> np.ndarray:
        """For each day: by when the job must be complete, to prove all but `left` days of a stage over by that day."""
        ends = np.minimum(days + 1 + left, self.calendar.days + 1)
        return np.minimum(self.proving[work.number][ends] - 1, self.calendar.days - 1)

    def _earliest_end(self, job: int) -> int:
        """The first day on which the job could be complete if it had the crews to itself."""
        ends = [self._first_end(work) for number in self.calendar.jobs[job] for work in [self.calendar.works[number]]]
        return max(ends, default=0)

    def _first_end(self, work: Work) -> int:
        return _first_end(self.calendar, work, self.heads[work.number])


@dataclass(frozen=True, slots=True)
class Family:
    """The rows of one resource from one day on: for each later day, what must be over by it fits into what there is.

    `columns[piece, day]`: the completion (job * days + day, or `onto` a program its column) that makes a day's piece of
    a stage be over by that day; `room[day]` in days of a crew.
    """

    columns: np.ndarray
    durations: np.ndarray
    room: np.ndarray
    days: np.ndarray

    @classmethod
    def of(cls, program: _Program, works: list[Work], capacity: np.ndarray, release: int) -> "Family":
        days = program.calendar.days
        room = np.cumsum(capacity[release:])
        durations = np.array([float(work.stage.duration_days) for work in works])
        tight = np.flatnonzero((room < durations.sum()) & (capacity[release:] > 0)) + release
        pieces = [(work, left) for work in works for left in range(work.stage.duration_days)]
        columns = np.array(
            [program.place[work.job] * days + program.proven_by(work, tight, left) for work, left in pieces]
        ).reshape(len(pieces), tight.size)
        return cls(columns, np.ones(len(pieces)), room[tight - release], tight)

    def onto(self, column: np.ndarray) -> "Family":
        """The same in the program's own columns."""
        return replace(self, columns=column.ravel()[self.columns])

    def broken(self, answer: np.ndarray) -> Iterator[Row]:
        """The rows that an answer breaks most."""
        over = self.durations @ answer[self.columns] - self.room if self.days.size else np.zeros(0)
        for day in np.argsort(-over)[:MOST_ROWS]:
            if over[day] <= LEAST_BREACH:
                return
            columns, where = np.unique(self.columns[:, day], return_inverse=True)
            yield Row(columns.astype(np.int32), np.bincount(where, self.durations), float(self.room[day]))


def _quiet_solver() -> highspy.Highs:
    solver = QuietSolver()
    for name, value in (("random_seed", 1), ("mip_rel_gap", LEAST_GAP)):
        solver.setOptionValue(name, value)
    return solver


def _add_rows(solver: highspy.Highs, rows: list[Row]) -> None:
    starts = np.cumsum([0, *(row.columns.size for row in rows)])[:-1].astype(np.int32)
    indices = np.concatenate([row.columns for row in rows])
    values = np.concatenate([row.days for row in rows])
    upper = np.array([row.most for row in rows])
    lower = np.full(len(rows), -highspy.kHighsInf)
    solver.addRows(len(rows), lower, upper, indices.size, starts, indices, values)


def _heads(calendar: Calendar) -> list[int]:
    """The first day on which each stage could start, were there nothing else to do."""
    ends = [0] * len(calendar.works)
    heads = [0] * len(calendar.works)
    for number in calendar.in_order:
        work = calendar.works[number]
        heads[number] = max((ends[before] + 1 for before in work.after), default=0)
        if work.stage.pinned is not None:
            heads[number] = min(max(0, calendar.number(work.stage.pinned)), calendar.days)
        ends[number] = _first_end(calendar, work, heads[number])
        heads[number] = max(heads[number], _first_start(calendar, work, heads[number]))
    return heads


def _proving(calendar: Calendar) -> list[np.ndarray]:
    """For each stage and day: the first day on which the job can be complete if the stage ends on that day.

    So a job that is complete before has had the stage end before; the day of a stage that has others of its own behind
    it has to be over before those. A pin may stand against the order, so nothing hangs on one.
    """
    days = calendar.days
    complete: list[np.ndarray] = [np.arange(days + 2)] * len(calendar.works)  # of the job, when the stage ends on a day
    for number in reversed(calendar.in_order):
        work = calendar.works[number]
        behind = [calendar.works[n] for n in work.before]
        for after in (one for one in behind if one.stage.pinned is None and one.job == work.job):
            ends = _first_ends(calendar, after)
            from_next_day = ends[np.minimum(np.arange(days + 2) + 1, days)]
            complete[number] = np.maximum(complete[number], complete[after.number][np.minimum(from_next_day, days)])
    return complete


def _first_ends(calendar: Calendar, work: Work) -> np.ndarray:
    """For every day: the first on which the stage can end if it starts no earlier than that day."""
    ends = np.full(calendar.days + 1, calendar.days)
    for slots in work.slots:
        worked = calendar.crews[slots.crew].worked
        for slot in range(len(worked) - work.stage.duration_days + 1):
            if slots.starts >> slot & 1:
                ends[worked[slot]] = min(ends[worked[slot]], worked[slot + work.stage.duration_days - 1])
    return np.minimum.accumulate(ends[::-1])[::-1]


def _first_end(calendar: Calendar, work: Work, not_before: int) -> int:
    if work.stage.pinned is not None:
        return not_before
    return min((end for _, end in _first_slots(calendar, work, not_before)), default=calendar.days)


def _first_start(calendar: Calendar, work: Work, not_before: int) -> int:
    if work.stage.pinned is not None:
        return not_before
    return min((start for start, _ in _first_slots(calendar, work, not_before)), default=calendar.days)


def _first_slots(calendar: Calendar, work: Work, not_before: int) -> Iterator[tuple[int, int]]:
    for slots in work.slots:
        days = calendar.crews[slots.crew]
        low = days.place_of[min(not_before, calendar.days)]
        left = (slots.starts >> low) << low
        if left:
            first = (left & -left).bit_length() - 1
            yield days.worked[first], days.worked[first + work.stage.duration_days - 1]
