"""What no plan can beat: a mixed-integer program of when each job could be complete, over HiGHS.

One variable says for each job and day whether it is complete by then. All work that must be over by a day has to fit
into the days the crews work until then, from the first day on and from every later day on which more work is let in;
so too for each skilled share of the crews and for each kind of boat. Whatever breaks no gate keeps to these, so the
least cost they leave is below every plan's.
"""

from collections.abc import Callable, Sequence
from math import isfinite
from threading import Thread
from time import monotonic

import highspy
import numpy as np

from estimating.engine.solver import QuietSolver

from .calendar import Calendar
from .earliest import earliest_ends
from .rows import Family, add_rows, families_of
from .travel import Roads

STEPS = (3, 1)  # every third looked-at day first: that says in a fraction of the time which rows bind
LEAST_GAP = 1e-4
MOST_ROWS = 5  # of one family in one round: more make each round slower than they save rounds
LEAST_BREACH = 1e-4  # days
NEVER, ALWAYS = 0, 1  # columns


Ends = dict[int, float]
"""By job: the day on which the relaxed program has it complete, each part of it counted by its share."""

Rows = list[tuple[int, int]]
"""By number of the family and place in it."""

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
    """When each job with a due date could be complete."""

    def __init__(self, calendar: Calendar) -> None:
        self.calendar = calendar
        self.jobs = [j for j, job in enumerate(calendar.problem.jobs) if job.due is not None and job.stages]
        self.families = families_of(calendar, self.jobs)
        ends = earliest_ends(calendar)
        self.late, self.first = _late_days(calendar, self.jobs), [ends[job] for job in self.jobs]
        self.floor, self.ends = 0.0, Ends()

    def solve(self, seconds: float, hear: Hear) -> float:
        """The least weighted lateness: over few days, over all, and at last with jobs complete or not, nothing between.

        Rows are added as the last answer breaks them; those that bind are kept for the next step.
        """
        if not self.jobs:
            return 0.0
        until, rows = monotonic() + seconds, Rows()
        for step in STEPS:
            grid = _Grid(self.families, self.late, self.first, step)
            self.floor = max(self.floor, grid.never_done)
            solver = _quiet_solver()
            solver.passModel(grid.model())
            if not self._in_rounds(solver, grid, rows, until, hear):
                return self.floor
            binding = np.array(solver.getSolution().row_dual)[-len(rows) :] if rows else ()
            rows = [row for row, price in zip(rows, binding, strict=True) if price]
        return max(self.floor, self._all_late + self._in_whole_days(solver, until))

    @property
    def _all_late(self) -> float:
        return float(self.late.sum())

    def _in_rounds(self, solver: highspy.Highs, grid: "_Grid", rows: Rows, until: float, hear: Hear) -> bool:
        """Whether the program was solved to its end, with nothing more that breaks; `rows` grows."""
        add_rows(solver, grid.families, rows)
        while monotonic() < until and hear(self.floor, self.ends):
            # The solver's clock goes on from run to run.
            solver.setOptionValue("time_limit", solver.getRunTime() + max(until - monotonic(), 0.01))
            solver.run()
            if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
                return False
            self.floor = max(self.floor, self._all_late + solver.getInfo().objective_function_value)
            answer = np.array(solver.getSolution().col_value)
            # The share of a job that is not complete on a day puts its end off by as much.
            self.ends = dict(zip(self.jobs, (1 - answer[grid.column]).sum(axis=1).tolist(), strict=True))
            broken = [
                (number, place)
                for number, family in enumerate(grid.families)
                for place in family.broken(answer, most=MOST_ROWS, least_breach=LEAST_BREACH)
            ]
            if not broken:
                return hear(self.floor, self.ends)
            rows += broken
            add_rows(solver, grid.families, broken)
        return False

    def _in_whole_days(self, solver: highspy.Highs, until: float) -> float:
        model, solver = solver.getLp(), _quiet_solver()
        model.integrality_ = [highspy.HighsVarType.kInteger] * model.num_col_
        solver.passModel(model)
        solver.setOptionValue("time_limit", max(until - monotonic(), 0.01))
        solver.run()
        bound = float(solver.getInfo().mip_dual_bound)
        return bound if isfinite(bound) else -float("inf")


class _Grid:
    """The program's columns: each says of a job and a day, complete by the end of it.

    A day on which no row looks at the job is as good as the next on which one does, and after the last the job is
    complete; so there are columns for those days only, or for every so manieth of them. In between, the cost goes by
    the next column and the rows by the one before: what a plan does still fits, and costs no less than it says here.
    """

    def __init__(self, looking: Sequence[Family], late: np.ndarray, first: Sequence[int], step: int) -> None:
        jobs, days = late.shape
        looked_at = np.zeros(late.size, dtype=bool)
        for family in looking:
            looked_at[family.columns] = True
        self.column, before = np.full((jobs, days), NEVER, dtype=np.int32), np.full((jobs, days), NEVER, dtype=np.int32)
        every, self.breaks = np.arange(days), [2]
        for job, days_of_job in enumerate(looked_at.reshape(jobs, days)):
            own = np.flatnonzero(days_of_job)
            own = own[own >= first[job]][::-step][::-1]
            after = np.searchsorted(own, every)
            self.column[job] = np.where(after < own.size, self.breaks[-1] + after, ALWAYS)
            self.column[job, : first[job]] = NEVER
            until = np.searchsorted(own, every, side="right") - 1
            before[job] = np.where(until >= 0, self.breaks[-1] + until, NEVER)
            self.breaks.append(self.breaks[-1] + own.size)
        self.families = [family.onto(before) for family in looking]
        self.cost = -np.bincount(self.column.ravel(), late.ravel(), self.breaks[-1])

    @property
    def never_done(self) -> float:
        """What is late whatever is done."""
        return -float(self.cost[NEVER])

    def model(self) -> highspy.HighsLp:
        """Complete stays complete: of two columns of a job that follow on, earlier - later <= 0."""
        cost = self.cost
        earlier = np.setdiff1d(np.arange(2, cost.size), np.array(self.breaks) - 1)
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


def _quiet_solver() -> highspy.Highs:
    solver = QuietSolver()
    for name, value in (("random_seed", 1), ("mip_rel_gap", LEAST_GAP)):
        solver.setOptionValue(name, value)
    return solver


def _late_days(calendar: Calendar, jobs: Sequence[int]) -> np.ndarray:
    """By job and day: what it costs that the job is not complete on that day."""
    late = np.zeros((len(jobs), calendar.days))
    for place, job in enumerate(jobs):
        late[place, max(0, calendar.due[job] or 0) :] = calendar.problem.jobs[job].weight
    return late
