"""Good plans in seconds: jobs placed one by one, then some taken off and placed again, as long as that helps."""

from collections.abc import Callable, Iterator
from functools import partial
from math import exp
from random import Random

from .board import Board, Standing
from .calendar import Calendar, Work
from .pins import put_pins
from .travel import Roads

Group = tuple[int, ...]
Saved = tuple[Standing | None, ...]
END_WEIGHT = 1e-4  # ends matter only between plans that cost the same
SEED = 20
HEAT = 0.004  # of the first plan's cost
LOOK_AHEAD = (10.0, 30.0, 60.0)  # days


class Search:
    """The best plan so far, and ways to a better one."""

    def __init__(self, calendar: Calendar, roads: Roads) -> None:
        self.calendar = calendar
        self.board = Board(calendar, roads)
        self.random = Random(SEED)
        self.loose = [group for group in _hanging_together(calendar) if self._movable(group)]
        self.held = [work for work in calendar.works if work.stage.pinned is not None and work.after]
        self.ranks = [partial(rank, calendar=calendar) for rank in (by_due, by_weight, *map(_by_both, LOOK_AHEAD))]
        put_pins(self.board)
        self._start_well()
        self.best, self.best_cost = self._saved(), self.cost()

    def _start_well(self) -> None:
        """The best of the plans that simple orders of the jobs give."""
        least, best = float("inf"), self.ranks[0]
        for rank in self.ranks:
            self._take_off(self.loose)
            self._place(sorted(self.loose, key=rank), 0.0)
            cost = self.cost()
            if cost < least:
                least, best = cost, rank
        self._take_off(self.loose)
        self._place(sorted(self.loose, key=best), 0.0)

    def cost(self) -> float:
        """What the plan costs; stages left out and late ends tell plans of the same cost apart."""
        stood = [standing.last for standing in self.board.at if standing]
        missing = len(self.board.at) - len(stood)
        return self.board.cost() + END_WEIGHT * sum(stood) + missing + self._run_into_pins()

    def improve(self, share: Callable[[], float]) -> Iterator[float]:
        """Takes some work off and places it again, over and over; yields the best cost after every round.

        `share` says how much of the time is gone, 0 to 1; a worse plan is gone on with less and less often.
        """
        now_cost = self.best_cost
        hot = max(HEAT * self.best_cost, 0.05)
        while self.loose and (gone := share()) < 1:
            chosen = self._chosen()
            stood = [(n, standing) for group in chosen for n in group if (standing := self.board.at[n])]
            self._place_again(chosen)
            cost = self.cost()
            heat = hot * (1 - gone) ** 3 + 1e-6
            if cost < now_cost or self.random.random() < exp((now_cost - cost) / heat):
                now_cost = cost
            else:
                self._put_back(chosen, stood)
            if now_cost < self.best_cost - 1e-9:
                self.best, self.best_cost = self._saved(), now_cost
            yield self.best_cost

    def back_to_best(self) -> None:
        self._restore(self.best)

    def _run_into_pins(self) -> int:
        """Stages that end too late for one that the owner put on its day."""
        if not self.held:
            return 0
        at = self.board.at
        return sum(
            pin.first <= before.last
            for work in self.held
            if (pin := at[work.number])
            for number in work.after
            if (before := at[number])
        )

    def _chosen(self) -> list[Group]:
        count = min(len(self.loose), self.random.choice((1, 1, 2, 2, 3, 4, 6, 8)))
        return self._neighbours(count) if self.random.random() < 0.6 else self.random.sample(self.loose, count)

    def _place_again(self, chosen: list[Group]) -> None:
        self._take_off(chosen)
        noise = self.random.choice((0.0, 0.0, 0.5, 2.0))
        self.random.shuffle(chosen)
        if self.random.random() < 0.5:
            chosen.sort(key=self.random.choice(self.ranks))
        self._place(chosen, noise)

    def _take_off(self, groups: list[Group]) -> None:
        for number in (number for group in groups for number in group):
            if self.calendar.works[number].stage.pinned is None:
                self.board.take(number)

    def _put_back(self, groups: list[Group], stood: list[tuple[int, Standing]]) -> None:
        self._take_off(groups)
        for number, standing in stood:
            if self.board.at[number] is None:
                self.board.put(number, standing)

    def _neighbours(self, count: int) -> list[Group]:
        """Work whose last days lie close together: it stands in each other's way."""
        first = self._end(self.random.choice(self.loose))
        return sorted(self.loose, key=lambda group: (abs(self._end(group) - first), self.random.random()))[:count]

    def _end(self, group: Group) -> int:
        return max(standing.last if (standing := self.board.at[n]) else self.calendar.days for n in group)

    def _place(self, groups: list[Group], noise: float) -> None:
        for number in (number for group in groups for number in group):
            work = self.calendar.works[number]
            if work.stage.pinned is None and self.board.at[number] is None:
                standing = self._best_place(work, noise)
                if standing is not None:
                    self.board.put(number, standing)

    def _best_place(self, work: Work, noise: float) -> Standing | None:
        """The crew with which it ends first; a detour counts as its share of a day."""
        released = self.board.released(work)
        if released is None:
            return None
        best, least = None, float("inf")
        a_mile = (1 + noise) / self.calendar.problem.late_day_miles
        for slots in work.slots:
            standing = self.board.first_free(work, slots.crew, slots.starts, released)
            if standing is None:
                continue
            if standing.last >= least:
                continue
            detour = self.board.added_miles(slots.crew, standing.first, work.place)
            price = standing.last + detour * a_mile + noise * self.random.random()
            if price < least:
                best, least = standing, price
        return best

    def _movable(self, group: Group) -> bool:
        return any(self.calendar.works[number].stage.pinned is None for number in group)

    def _saved(self) -> Saved:
        return tuple(self.board.at)

    def _restore(self, saved: Saved) -> None:
        for number, standing in enumerate(self.board.at):
            if standing is not saved[number]:
                self.board.take(number)
        for number, standing in enumerate(saved):
            if standing is not None and self.board.at[number] is None:
                self.board.put(number, standing)


def by_due(group: Group, *, calendar: Calendar) -> tuple[float, int]:
    """The earliest due date first, less the days of work to be done by then."""
    days, due, _ = _facts(group, calendar)
    return (due - days, group[0])


def by_weight(group: Group, *, calendar: Calendar) -> tuple[float, int]:
    """Most weight for the least work first (the rule of Smith, best when everything is late)."""
    days, _, weight = _facts(group, calendar)
    return (-weight / max(days, 1), group[0])


def _by_both(look_ahead: float) -> Callable[..., tuple[float, int]]:
    """Weight over work, the more the closer the due date (apparent tardiness cost)."""

    def by_both(group: Group, *, calendar: Calendar) -> tuple[float, int]:
        days, due, weight = _facts(group, calendar)
        return (-weight / max(days, 1) * exp(-max(0.0, min(due, 1e6) - days) / look_ahead), group[0])

    return by_both


def _facts(group: Group, calendar: Calendar) -> tuple[int, float, float]:
    """Days of work, the first due date (inf when there is none) and the weight of jobs that hang together."""
    works = [calendar.works[number] for number in group]
    jobs = {work.job for work in works}
    due = min((due for job in jobs if (due := calendar.due[job]) is not None), default=float("inf"))
    return sum(w.stage.duration_days for w in works), due, sum(calendar.problem.jobs[job].weight for job in jobs)


def _hanging_together(calendar: Calendar) -> list[Group]:
    """Jobs whose stages wait for each other, as one list of stages in an order that keeps every "after"."""
    head = list(range(len(calendar.jobs)))

    def find(job: int) -> int:
        while head[job] != job:
            job = head[job]
        return job

    for work in calendar.works:
        for number in work.after:
            head[find(work.job)] = find(calendar.works[number].job)
    groups: dict[int, list[int]] = {}
    for number in calendar.in_order:
        groups.setdefault(find(calendar.works[number].job), []).append(number)
    return [tuple(groups[head]) for head in sorted(groups)]
