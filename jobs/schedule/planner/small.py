"""A handful of stages: every order and every crew tried, so that the plan is the best there is."""

from collections.abc import Callable

from .board import Board, Standing
from .calendar import Calendar, Work
from .pins import put_pins
from .travel import Roads

MOST_STAGES = 9
MOST_TRIES = 60_000


def best_of_all(
    calendar: Calendar, roads: Roads, going_on: Callable[[], bool]
) -> tuple[tuple[Standing | None, ...], float] | None:
    """The cheapest plan and its cost, or None when there is too much to try or no plan holds every stage.

    In some best plan no stage could start earlier without another crossing its crew's way; every such plan comes up
    when stages are placed in the order of their starts, each behind the last of its crew. Only costs that grow with
    time or distance are counted, so an unfinished plan that costs more than a finished one is given up.
    """
    loose = [work.number for work in calendar.works if work.stage.pinned is None]
    if not loose or len(loose) > MOST_STAGES or len(loose) < len(calendar.works):
        return None
    trial = _Trial(calendar, roads, going_on)
    trial.go_on(len(loose))
    return None if trial.cut_short or trial.best is None else (trial.best, trial.least)


class _Trial:
    def __init__(self, calendar: Calendar, roads: Roads, going_on: Callable[[], bool]) -> None:
        self.board, self.calendar, self.going_on = Board(calendar, roads), calendar, going_on
        put_pins(self.board)
        self.best: tuple[Standing | None, ...] | None = None
        self.least = float("inf")
        self.tries = 0

    @property
    def cut_short(self) -> bool:
        return self.tries > MOST_TRIES

    def go_on(self, left: int) -> None:
        if self.cut_short:
            return
        if not left:
            cost = self.board.cost()
            if cost < self.least - 1e-12:
                self.best, self.least = tuple(self.board.at), cost
            return
        for work, standing in self._next_steps():
            self.tries += 1 if self.going_on() else MOST_TRIES + 1
            self.board.put(work.number, standing)
            if self._least_cost() < self.least - 1e-12:
                self.go_on(left - 1)
            self.board.take(work.number)

    def _next_steps(self) -> list[tuple[Work, Standing]]:
        steps = []
        latest = max((one.first for one in self.board.at if one), default=0)
        for work in self.calendar.works:
            if self.board.at[work.number] is not None:
                continue
            released = self.board.released(work)
            if released is None:
                continue
            for slots in work.slots:
                after_all = max((one.last + 1 for one in self.board.at if one and one.crew == slots.crew), default=0)
                standing = self.board.first_free(work, slots.crew, slots.starts, max(released, after_all, latest))
                if standing is not None:
                    steps.append((work, standing))
        return sorted(steps, key=lambda step: step[1].last)

    def _least_cost(self) -> float:
        problem = self.calendar.problem
        late = sum(job.weight * self._late_so_far(number) for number, job in enumerate(problem.jobs))
        return late + self.board.miles_out() / problem.late_day_miles

    def _late_so_far(self, job: int) -> int:
        due = self.calendar.problem.jobs[job].due
        if due is None:
            return 0
        ends = [one.last for number in self.calendar.jobs[job] if (one := self.board.at[number])]
        return max(0, max(ends, default=0) - self.calendar.number(due))
