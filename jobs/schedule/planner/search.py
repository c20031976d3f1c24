"""Good plans in seconds: jobs placed one by one in an order, which is then changed as long as that helps.

A job further forward or back means that all behind it are placed again, so what it frees is used. At the end, when the
order is as good as it gets, some jobs are taken off here and there and placed again.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from math import exp
from random import Random

from .board import Board, Standing
from .calendar import Calendar, Slots, Work
from .orders import Group, Rank, by_ends, hanging_together, hopeless, simple_ranks, sought_after
from .pins import put_pins
from .travel import Roads

Saved = tuple[Standing | None, ...]
FAULT_WEIGHT = 1000.0  # late days: nothing that can be put in turn before a pin is left behind it to be quicker
END_WEIGHT = 1e-4  # ends matter only between plans that cost the same
SEED = 20
HEAT = 0.001  # of the plan's cost
ORDER_SHARE = 0.75  # of the time for the order
STRIDE = 3.0  # places a job moves forward or back, as a standard deviation
MOVES = (1, 1, 2)
SPARING = (0.0, 4.0, 8.0, 16.0)  # days later that a stage may end, to leave a crew alone that can do all the work
SPARING_STRIDE = 3.0
AT_ONCE = (1, 1, 2, 2, 3, 4, 6, 8)  # jobs taken off
NOISES = (0.0, 0.0, 0.5, 2.0)  # days by which a crew may look better than it is
LEEWAY = 1.01  # a new order has more in it than one that was worked on for long


class Search:
    """The best plan so far, and ways to a better one."""

    def __init__(self, calendar: Calendar, roads: Roads) -> None:
        self.calendar = calendar
        self.board = Board(calendar, roads)
        self.random = Random(SEED)
        self.loose = [group for group in hanging_together(calendar) if self._movable(group)]
        self.held = [work for work in calendar.works if work.stage.pinned is not None and work.after]
        self.ranks = simple_ranks(calendar)
        self.options = _options(calendar)
        self.hopeless = hopeless(calendar)
        pinned = {work.number for work in self.held}
        self.urgent = {group for group in self.loose if pinned & set(group)}
        put_pins(self.board)
        self.order, self.sparing = self.loose, 0.0  # what the plan on the board came from
        self.best, self.best_cost, self.now_cost = self._saved(), float("inf"), float("inf")
        self.best_faults = 0
        for rank in self.ranks:
            self._try(rank)

    def try_order(self, ends: Mapping[int, float]) -> None:
        """Place all jobs in the order of these ends, and go on from there unless the plan on the board is better."""
        self._try(partial(by_ends, calendar=self.calendar, ends=ends))

    def cost(self) -> float:
        """What the plan costs; stages left out and late ends tell plans of the same cost apart."""
        return self.board.cost() + END_WEIGHT * self.board.last_days + FAULT_WEIGHT * self._faults()

    def _faults(self) -> int:
        """Stages left out, though they could be placed, and stages that end too late for a pin behind them."""
        return len(self.board.at) - self.board.count - self.hopeless + self._run_into_pins()

    def improve(self, share: Callable[[], float]) -> Iterator[float]:
        """Takes some work off and places it again, over and over; yields the best cost after every round.

        `share` says how much of the time is gone, 0 to 1; a worse plan is gone on with less and less often.
        """
        orders = True
        while self.loose and (gone := share()) < 1:
            if orders and gone > ORDER_SHARE:
                orders = False
                self.back_to_best()
            undo = self._reorder() if orders else self._place_some_again()
            cost = self.cost()
            heat = max(HEAT * self.best_cost, 0.05) * (1 - gone) ** 2 + 1e-6
            if cost < self.now_cost or self.random.random() < exp((self.now_cost - cost) / heat):
                self.now_cost = cost
                self._keep_if_best()
            else:
                undo()
            yield self.best_cost

    def back_to_best(self) -> None:
        self._restore(self.best)
        self.now_cost = self.best_cost

    def _try(self, rank: Rank) -> None:
        """The plans that an order of the jobs gives, with the able crews spared more and more.

        Jobs with stages to be over before a pin are placed first.
        """
        order = sorted(self.loose, key=lambda group: (group not in self.urgent, rank(group)))
        stood, cost = self._saved(), self.now_cost
        tried = [(self._cost_of(order, sparing), sparing) for sparing in SPARING]
        least, sparing = min(tried)
        if least < cost * LEEWAY:
            self.order, self.sparing, self.now_cost = order, sparing, self._cost_of(order, sparing)
        else:
            self._restore(stood)
            self.now_cost = cost

    def _cost_of(self, order: list[Group], sparing: float) -> float:
        self._take_off(self.loose)
        self._place(order, 0.0, sparing)
        self.now_cost = self.cost()
        self._keep_if_best()
        return self.now_cost

    def _keep_if_best(self) -> None:
        if self.now_cost < self.best_cost - 1e-9:
            self.best, self.best_cost, self.best_faults = self._saved(), self.now_cost, self._faults()

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

    def _reorder(self) -> Callable[[], None]:
        """A job or two further forward or back, and everything from there on placed again; answers how to undo it."""
        before = self.order, self.sparing
        order, last = self.order.copy(), len(self.order) - 1
        first = last
        for _ in range(self.random.choice(MOVES)):
            place = self.random.randint(0, last)
            to = min(max(0, place + round(self.random.gauss(0, STRIDE))), last)
            order.insert(to, order.pop(place))
            first = min(first, place, to)
        if self.random.random() < 0.3:
            self.sparing = max(0.0, self.sparing + self.random.gauss(0, SPARING_STRIDE))
        self.order = order
        put_back = self._place_again(order[first:], 0.0, self.sparing)

        def undo() -> None:
            self.order, self.sparing = before
            put_back()

        return undo

    def _place_some_again(self) -> Callable[[], None]:
        count = min(len(self.loose), self.random.choice(AT_ONCE))
        chosen = self._neighbours(count) if self.random.random() < 0.6 else self.random.sample(self.loose, count)
        if self.random.random() < 0.5:
            chosen.sort(key=self._end)
            chosen.insert(self.random.randrange(count), chosen.pop(self.random.randrange(count)))
        else:
            self.random.shuffle(chosen)
        return self._place_again(chosen, self.random.choice(NOISES), self.random.choice(SPARING))

    def _place_again(self, groups: list[Group], noise: float, sparing: float) -> Callable[[], None]:
        """Take these off and place them in this order; answers how to undo it."""
        stood = [(n, standing) for group in groups for n in group if (standing := self.board.at[n])]
        self._take_off(groups)
        self._place(groups, noise, sparing)
        return partial(self._put_back, groups, stood)

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
        near = [(abs(self._end(group) - first), self.random.random(), group) for group in self.loose]
        return [group for _, _, group in sorted(near)[:count]]

    def _end(self, group: Group) -> int:
        return max(standing.last if (standing := self.board.at[n]) else self.calendar.days for n in group)

    def _place(self, groups: list[Group], noise: float, sparing: float) -> None:
        for number in (number for group in groups for number in group):
            work = self.calendar.works[number]
            if work.stage.pinned is None and self.board.at[number] is None:
                standing = self._best_place(work, noise, sparing)
                if standing is not None:
                    self.board.put(number, standing)

    def _best_place(self, work: Work, noise: float, sparing: float) -> Standing | None:
        """The crew with which it ends first; a detour counts as its share of a day."""
        board, crews = self.board, self.calendar.crews
        released = board.released(work)
        if released is None:
            return None
        best, best_crew, least = -1, 0, float("inf")
        a_mile = (1 + noise) / self.calendar.problem.late_day_miles
        for slots, dear in self.options[work.number]:
            crew = slots.crew
            slot = board.first_slot(work, crew, slots.starts, released)
            if slot < 0:
                continue
            worked = crews[crew].worked
            price = worked[slot + work.duration - 1] + sparing * dear
            if price >= least:
                continue
            price += board.added_miles(crew, worked[slot], work.place) * a_mile + noise * self.random.random()
            if price < least:
                best, best_crew, least = slot, crew, price
        return None if best < 0 else board.standing(work, best_crew, best)

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


def _options(calendar: Calendar) -> list[list[tuple[Slots, float]]]:
    """For each stage where it may stand, and how much more its crew is sought after than the least sought."""
    shares = sought_after(calendar)
    options = []
    for work in calendar.works:
        least = min((shares[slots.crew] for slots in work.slots), default=0.0)
        options.append([(slots, shares[slots.crew] - least) for slots in work.slots])
    return options
