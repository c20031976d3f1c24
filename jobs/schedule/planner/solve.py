"""A plan for all open work, how far it can be from the best, and what else would move if one stage did."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from time import monotonic

from .board import Board, Standing
from .bound import Bound
from .calendar import Calendar, Work
from .pins import broken_by_pins, put_pins
from .problem import Change, Moved, Plan, PlanProblem, Progress, Start, Unplaced
from .search import Search
from .small import best_of_all
from .travel import Roads
from .wording import governor_of, why_not_placed

BOUND_SHARE = 0.95  # of the time: it is worked out beside the search
TELLING_S = 0.05
SAY_EVERY_S = 0.2
CLOSE_ENOUGH = 1e-6
TURN_S = 0.0002


def plan(problem: PlanProblem, *, seconds: float, progress: Progress | None = None) -> Plan:
    """The best plan found in the time, with a bound that no plan can beat. Breaks no gate; pins stay.

    `progress` hears the best cost so far and the bound a few times a second; once it answers True the best plan so
    far is what comes back. Raises ValueError for a stage that waits for one that is not there, or in a circle.
    """
    began, calendar, roads = monotonic(), Calendar.of(problem), Roads(problem)
    search = Search(calendar, roads)
    talk = _Talk(progress, search.board.cost())
    talk.say(0.0, now=True)
    tried = best_of_all(calendar, roads, lambda: monotonic() - began < seconds / 2)
    if tried is not None:
        return _told(calendar, _restored(calendar, roads, tried[0]), tried[1], talk)
    with _short_turns():
        bound = _search(search, calendar, roads, talk, until=began + seconds - TELLING_S)
    return _told(calendar, search.board, bound, talk)


def _search(search: Search, calendar: Calendar, roads: Roads, talk: "_Talk", *, until: float) -> float:
    """Better and better plans until then, the best of them left on the board; what comes back is the bound."""
    searching = monotonic()
    bound = Bound(calendar, roads, seconds=(until - searching) * BOUND_SHARE)
    ends = bound.ends
    for _ in search.improve(lambda: 1.0 if talk.stopped else (monotonic() - searching) / (until - searching)):
        if bound.ends and bound.ends is not ends:
            ends = bound.ends
            search.try_order(ends)
        talk.hear(search.best, search.best_cost, search.board)
        talk.say(bound.value)
        if not search.best_faults and talk.cost <= bound.value + CLOSE_ENOUGH:
            break
    search.back_to_best()
    return bound.wait(0.0 if talk.stopped else until - monotonic())


@contextmanager
def _short_turns() -> Iterator[None]:
    """The bound takes the interpreter a thousand times for an instant; at the usual 5 ms a turn it would only wait."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(TURN_S)
    try:
        yield
    finally:
        sys.setswitchinterval(usual)


def moved(problem: PlanProblem, plan: Plan, change: Change) -> tuple[Moved, ...]:
    """Everything else that would move if one stage did: only what has to, and no farther than it has to.

    Stages are kept where the plan has them unless the changed one takes their crew, boat or turn. Pinned stages and
    stages for which no day is left come back with `now` None. Raises KeyError for a stage that is not in the plan.
    """
    was = {start.stage: start for start in plan.starts}
    stood = was[change.stage]
    wanted = replace(stood, first=change.start, crew=change.crew or stood.crew)
    calendar = Calendar.of(_with_pin(problem, change.stage, wanted))
    board = Board(calendar, Roads(problem))
    keys = {work.stage.key: work for work in calendar.works}
    put_pins(board)
    changed = board.at[keys[change.stage].number]
    pins = [work for work in calendar.works if work.stage.pinned is not None and work.stage.key != change.stage]
    clashing = [_clash_with_pin(board, work, was.get(work.stage.key), changed) for work in pins]
    others = sorted(
        (s for s in plan.starts if board.at[keys[s.stage].number] is None), key=lambda s: (s.first, s.stage)
    )
    shifted = [_shift(board, keys[start.stage], start) for start in _each_after_its_own(others, keys)]
    return tuple(one for one in (*clashing, *shifted) if one is not None)


class _Talk:
    """What the one who waits is told, and whether to stop."""

    def __init__(self, progress: Progress | None, cost: float) -> None:
        self.progress, self.cost, self.stopped, self._said, self._best = progress, cost, False, 0.0, None

    def hear(self, best: object, best_cost: float, board: Board) -> None:
        if best is not self._best:
            self._best = best
            self.cost = min(self.cost, board.cost() if tuple(board.at) == best else self.cost)

    def say(self, bound: float, *, now: bool = False) -> None:
        if self.progress is None or (not now and monotonic() - self._said < SAY_EVERY_S):
            return
        self._said = monotonic()
        self.stopped = bool(self.progress(self.cost, min(bound, self.cost))) or self.stopped


def _restored(calendar: Calendar, roads: Roads, saved: tuple[Standing | None, ...]) -> Board:
    board = Board(calendar, roads)
    for number, standing in enumerate(saved):
        if standing is not None:
            board.put(number, standing)
    return board


def _told(calendar: Calendar, board: Board, bound: float, talk: _Talk) -> Plan:
    starts = [_start(board, work) for work in calendar.works if board.at[work.number]]
    starts.sort(key=lambda start: (start.first, start.crew, start.stage))
    missing = [work for work in calendar.works if board.at[work.number] is None]
    cost = board.cost()
    late = ((job.key, board.late_days(number)) for number, job in enumerate(calendar.problem.jobs))
    return Plan(
        tuple(starts),
        tuple((key, days) for key, days in late if days),
        board.miles(),
        cost,
        min(bound, cost),
        tuple(Unplaced(w.stage.key, calendar.problem.jobs[w.job].key, why_not_placed(board, w)) for w in missing),
        broken_by_pins(board),
        talk.stopped,
        {start.stage: start for start in starts},
    )


def _start(board: Board, work: Work) -> Start:
    calendar, standing = board.calendar, board.at[work.number]
    assert standing is not None
    return Start(
        work.stage.key,
        calendar.problem.jobs[work.job].key,
        calendar.crews[standing.crew].crew.key,
        calendar.day(standing.first),
        calendar.day(standing.last),
        standing.boats,
        governor_of(board, work),
    )


def _with_pin(problem: PlanProblem, key: str, wanted: Start) -> PlanProblem:
    jobs = tuple(
        replace(
            job,
            stages=tuple(
                replace(stage, pinned=wanted.first, current_crew=wanted.crew) if stage.key == key else stage
                for stage in job.stages
            ),
        )
        for job in problem.jobs
    )
    return replace(problem, jobs=jobs)


def _clash_with_pin(board: Board, work: Work, start: Start | None, changed: Standing | None) -> Moved | None:
    if start is None or changed is None:
        return None
    calendar = board.calendar
    same_crew = calendar.crews[changed.crew].crew.key == start.crew
    first, last = calendar.number(start.first), calendar.number(start.last)
    if same_crew and first <= changed.last and changed.first <= last:
        return Moved(work.stage.key, start.job, start, None, "it is pinned on these days with the same crew")
    released = board.released(work) if work.after else None
    if released is not None and released > first:
        return Moved(work.stage.key, start.job, start, None, "it is pinned on a day before what it waits for ends")
    return None


def _keep(board: Board, work: Work, start: Start) -> bool:
    """Put a stage back where it stood, when that is still free and in turn."""
    calendar = board.calendar
    crew = next((n for n, days in enumerate(calendar.crews) if days.crew.key == start.crew), None)
    if crew is None:
        return False
    released = board.released(work)
    first = calendar.number(start.first)
    if released is None or released > first:
        return False
    standing = board.fits(work, crew, first)
    if standing is None:
        return False
    board.put(work.number, standing)
    return True


def _each_after_its_own(starts: list[Start], keys: dict[str, Work]) -> list[Start]:
    """By day, and never before what they wait for, whatever the plan said."""
    left = {start.stage: start for start in starts}
    ordered: list[Start] = []

    def add(start: Start) -> None:
        if left.pop(start.stage, None) is None:
            return
        for key in keys[start.stage].stage.after:
            if key in left:
                add(left[key])
        ordered.append(start)

    for start in starts:
        add(start)
    return ordered


def _shift(board: Board, work: Work, start: Start) -> Moved | None:
    if _keep(board, work, start):
        return None
    calendar = board.calendar
    released = board.released(work)
    not_before = max(released or 0, calendar.number(start.first))
    choices = [board.first_free(work, slots.crew, slots.starts, not_before) for slots in work.slots]
    free = [one for one in choices if one is not None]
    if released is None or not free:
        return Moved(work.stage.key, start.job, start, None, why_not_placed(board, work))
    own = start.crew
    best = min(free, key=lambda one: (one.last, calendar.crews[one.crew].crew.key != own, one.crew))
    board.put(work.number, best)
    now = _start(board, work)
    return Moved(work.stage.key, start.job, start, now, now.governor)
