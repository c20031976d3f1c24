"""The cheapest answer to a cutting problem in whole numbers, with proof.

Patterns are priced in until the relaxation is solved; whole sticks from those patterns give a first answer. What a
better answer could use is then known: only patterns whose reduced cost is below the distance between answer and bound.
They are listed, all of them, nearest first, and an integer program over them settles the matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from time import monotonic

import highspy

from .integer import Found, cheapest
from .relaxed import FINE, Relaxed, relax
from .whole import Answer, Column, Whole, cost_of

HANDFUL = 1500  # patterns looked at in one go while a nearer ring can be tried
CROWD = 25_000  # patterns beyond which proof is given up


@dataclass(frozen=True, slots=True)
class Least:
    """The cheapest answer found. `bound`: no answer costs less. `near`: the patterns an equal one can use, if few."""

    answer: Answer
    cost: int
    bound: int
    near: tuple[Column, ...]

    @property
    def proven(self) -> bool:
        return self.cost <= self.bound


def least(whole: Whole, *, seconds: float = 10.0) -> Least:
    """The cheapest answer, proven or with the best bound found in the time given.

    Raises ValueError where a piece fits no stock length that never runs out.
    """
    if not all(whole.holds_always(size) for size in whole.sizes):
        raise ValueError("every piece needs a stock length that does not run out")
    until = monotonic() + seconds
    relaxed = relax(whole, _plain(whole))
    search = _Search(whole, relaxed, until)
    search.start()
    while search.goes_on():
        search.step()
    near = _ring(whole, relaxed, search.cost - relaxed.bound // FINE, HANDFUL) if search.proven else None
    return Least(search.best, search.cost, min(search.bound, search.cost), tuple(near or ()))


class _Search:
    """The best answer so far, the bound so far, and the rings of patterns already gone through."""

    def __init__(self, whole: Whole, relaxed: Relaxed, until: float):
        self.whole = whole
        self.relaxed = relaxed
        self.until = until
        self.best: Answer = _rounded_up(whole, relaxed)
        self.bound = max(0, -(-relaxed.bound // FINE))
        self.reach: int | None = None
        self.stuck = False

    @property
    def cost(self) -> int:
        return cost_of(self.whole, self.best)

    @property
    def proven(self) -> bool:
        return self.cost <= self.bound

    def goes_on(self) -> bool:
        return not self.proven and not self.stuck and monotonic() < self.until

    def start(self) -> None:
        if not self.proven:
            self._take(self._cheapest(self.relaxed.columns, min(1.0, self._left())).answer)

    def step(self) -> None:
        """One ring of patterns, all of them: its cheapest answer, and the bound it proves."""
        ring = self._next_ring()
        if ring is None:
            self.stuck = True
            return
        columns = list(dict.fromkeys((*ring, *self.best)))
        found = self._cheapest(columns, self._left())
        self._take(found.answer)
        outside = (self.relaxed.bound + self.reach * FINE) // FINE + 1
        self.bound = max(self.bound, min(found.bound, outside))
        self.stuck = not found.proven

    def _cheapest(self, columns: Sequence[Column], seconds: float) -> Found:
        most = self.cost if set(self.best) <= set(columns) else highspy.kHighsInf
        return cheapest(self.whole, columns, seconds=seconds, cost=(self.bound, most))

    def _next_ring(self) -> list[Column] | None:
        widest = self.cost - 1 - self.relaxed.bound // FINE
        if self.reach is not None:
            self.reach = min(widest, max(1, self.reach * 4))
            return _ring(self.whole, self.relaxed, self.reach, CROWD)
        self.reach = widest
        while (ring := _ring(self.whole, self.relaxed, self.reach, HANDFUL)) is None and self.reach:
            self.reach //= 4
        return ring or _ring(self.whole, self.relaxed, self.reach, CROWD)

    def _take(self, answer: Answer | None) -> None:
        if answer is not None and cost_of(self.whole, answer) < self.cost:
            self.best = answer

    def _left(self) -> float:
        return max(0.01, self.until - monotonic())


def _ring(whole: Whole, relaxed: Relaxed, reach: int, most: int) -> list[Column] | None:
    """All full patterns whose reduced cost is at most `reach`; None if they are more than `most`."""
    floor = [one.cost * FINE + rent - reach * FINE for one, rent in zip(whole.bins, relaxed.rent, strict=True)]
    found = list(islice(relaxed.values.at_least(floor), most + 1))
    return found if len(found) <= most else None


def _plain(whole: Whole) -> list[Column]:
    """Sticks of one kind of piece each."""
    places = range(len(whole.sizes))
    return [
        Column(number, tuple(min(whole.counts[i], one.room // size) if i == place else 0 for i in places))
        for place, size in enumerate(whole.sizes)
        for number, one in enumerate(whole.bins)
        if size <= one.room
    ]


def _rounded_up(whole: Whole, relaxed: Relaxed) -> Answer:
    """Always an answer: the relaxation's whole sticks, then what is missing by the sticks worth most for their cost."""
    answer: Answer = {}
    missing = list(whole.counts)
    for column, share in zip(relaxed.columns, relaxed.shares, strict=True):
        _cut(answer, missing, column, int(share + 1e-9))
    endless = [column for column in relaxed.columns if whole.bins[column.bin].limit is None]
    while any(missing):
        column = max(endless, key=lambda one: _use(whole, relaxed, one, missing))
        _cut(answer, missing, column, 1)
    return answer


def _cut(answer: Answer, missing: list[int], column: Column, times: int) -> None:
    if times:
        answer[column] = answer.get(column, 0) + times
        missing[:] = [max(0, left - times * taken) for left, taken in zip(missing, column.pattern, strict=True)]


def _use(whole: Whole, relaxed: Relaxed, column: Column, missing: list[int]) -> tuple[float, int]:
    used = [min(left, taken) for left, taken in zip(missing, column.pattern, strict=True)]
    worth = sum(value * count for value, count in zip(relaxed.values.worth, used, strict=True))
    return worth / max(whole.bins[column.bin].cost, 1), sum(used)
