"""How much load it takes: counts and turning points of many loadings searched side by side, each round one solve.

It is taken that more of the same load is never better.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import floor
from typing import Self

import numpy as np

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.flotation.immersion import Array
from estimating.engine.flotation.loads import dead_weights, live_weights
from estimating.engine.flotation.prepared import Settled
from estimating.engine.flotation.results import Equilibrium, Outcome
from estimating.engine.proof import Turn

from .model import Model
from .places import dead_loadings
from .solving import Solved, load_case

SHARES = 16
AT_ONCE = 4
OUTCOMES = tuple(Outcome)


def turning_points(dock: DockAfloat, model: Model, failing: Sequence[Solved]) -> list[tuple[Turn, ...]]:
    """For each solved case the states it passes as its live load grows, each with the load that brings it.

    To a 256th of the load. Raises DidNotSettle.
    """
    if not failing:
        return []
    cases = [load_case(model, one.loading) for one in failing]
    rows = _Rows(
        dock,
        np.stack([dead_weights(dock.assembly, case) for case in cases]),
        np.stack([live_weights(dock.assembly, case.live) for case in cases]),
        model.water.lb_per_in3,
    )
    coarse = np.linspace(0.0, 1.0, SHARES + 1)
    grid = [(case, share) for case in range(len(cases)) for share in coarse]
    severity = np.maximum.accumulate(rows.severity(grid).reshape(len(cases), -1), axis=1)
    steps = [
        (case, before, after)
        for case in range(len(cases))
        for before, after in pairwise(range(SHARES + 1))
        if severity[case, before] < severity[case, after]
    ]
    fine = [(case, coarse[before] + k / SHARES**2) for case, before, _ in steps for k in range(1, SHARES)]
    finer = rows.severity(fine).reshape(len(steps), -1) if steps else np.zeros((0, 0))
    found: list[list[Turn]] = [[] for _ in cases]
    for case in range(len(cases)):
        if severity[case, 0]:
            found[case].append(Turn(OUTCOMES[severity[case, 0]].value, 0.0))
    for (case, before, after), own in zip(steps, finer, strict=True):
        reached = severity[case, before]
        for k, state in enumerate((*own, severity[case, after]), start=1):
            if state > reached:
                reached = state
                load = (coarse[before] + k / SHARES**2) * failing[case].loading.live_lb
                found[case].append(Turn(OUTCOMES[int(state)].value, load))
    return [tuple(turns) for turns in found]


@dataclass(frozen=True, slots=True)
class _Rows:
    dock: DockAfloat
    dead: Array
    live: Array
    water_lb_per_in3: float

    def severity(self, rows: Sequence[tuple[int, float]]) -> Array:
        return self.settle(rows).severity

    def settle(self, rows: Sequence[tuple[int, float]]) -> Settled:
        return self.dock.settle(self.weights(rows), np.full(len(rows), self.water_lb_per_in3))

    def weights(self, rows: Sequence[tuple[int, float]]) -> Array:
        which, times = (np.array(column) for column in zip(*rows, strict=True))
        return self.dead[which] + times[:, None, None] * self.live[which]


@dataclass(frozen=True, slots=True)
class Aboard:
    """The dock with so many of a crowd: severity of the outcome, clearance to the nearest float top or deck edge."""

    severity: int
    clearance_in: float
    tilt_deg: float
    freeboard_in: float

    @classmethod
    def of(cls, level: Equilibrium) -> Self:
        """As solved already."""
        deck, top = level.least_freeboard_in or 0.0, level.least_top_clearance_in or 0.0
        return cls(level.outcome.severity, min(deck, top), level.most_tilt_deg or 0.0, deck)

    @property
    def fails(self) -> bool:
        return self.severity > 0 or self.clearance_in <= 0

    @property
    def why(self) -> str:
        return OUTCOMES[self.severity].value if self.severity else "float tops under"


@dataclass(slots=True)
class Crowd:
    """A crowd that grows: one person's loads, and about how many the dock will hold. `seen` is what was solved."""

    person: tuple[PointLoad, ...]
    guess: float
    most: int = 0
    seen: dict[int, Aboard] = field(default_factory=dict)

    @property
    def holds(self) -> int:
        """The most of those solved, below `next`, that leave all dry; -1 if not even nobody does."""
        return max((count for count, own in self.seen.items() if not own.fails and count < self.next), default=-1)

    @property
    def next(self) -> int:
        """The fewest of those solved that do not; `most` and one more if all of them do."""
        return min((count for count, aboard in self.seen.items() if aboard.fails), default=self.most + 1)

    def wanted(self) -> list[int]:
        """Counts to solve next: near the guess at first, then between what holds and what does not."""
        if 0 in self.seen and self.seen[0].fails:
            return []
        if not self.seen:
            near = floor(min(self.guess, self.most))
            counts = {round(0.85 * near), near, near + 1}
            return sorted({min(max(count, 1), self.most) for count in counts})
        low, high = max(self.holds, 0), self.next
        if high - low <= 1:
            return []
        if high not in self.seen:  # all of them hold so far
            return sorted({min(self.most, count) for count in self._further(low)})
        if low in self.seen and not self.seen[high].severity:
            return self._near_crossing(low, high)
        inner = np.unique(np.linspace(low, high, min(AT_ONCE, high - low) + 1).astype(int))[1:]
        return [int(count) for count in inner if int(count) not in self.seen]

    def _further(self, low: int) -> tuple[int, ...]:
        """Counts about where the clearance, on a straight line through the last two, comes to nothing; or by leaps."""
        leap = low + 1 + low // 8
        before = max((count for count in self.seen if count < low), default=low)
        lost = self.seen[before].clearance_in - self.seen[low].clearance_in
        if lost > 0:
            crossing = low + floor((low - before) * self.seen[low].clearance_in / lost)
            if crossing < leap:
                return tuple(max(crossing, low) + step for step in (1, 2, 3))
        return leap, low + 1 + low // 3

    def _near_crossing(self, low: int, high: int) -> list[int]:
        """Counts about where the clearance, on a straight line between two that were solved, comes to nothing."""
        above, below = self.seen[low].clearance_in, self.seen[high].clearance_in
        crossing = low + floor((high - low) * above / (above - below))
        counts = {min(max(crossing + step, low + 1), high - 1) for step in (-1, 0, 1, 2)}
        return sorted(counts - self.seen.keys())


@dataclass(frozen=True, slots=True)
class Hunt:
    """Finds for every crowd how many the wet dock holds, into its `seen`; all crowds in one solve a round."""

    rows: _Rows
    crowds: tuple[Crowd, ...]

    @classmethod
    def of(cls, dock: DockAfloat, model: Model, crowds: Sequence[Crowd]) -> Self:
        dead = dead_weights(dock.assembly, load_case(model, dead_loadings()[0]))
        live = np.stack([live_weights(dock.assembly, crowd.person) for crowd in crowds])
        lift = sum(group.full_lift_in3 for group in dock.prepared.groups) * model.water.lb_per_in3
        for crowd, own in zip(crowds, live, strict=True):
            crowd.most = max(floor((lift - dead[:, 3].sum()) / own[:, 3].sum()), 0) + 2
        return cls(_Rows(dock, np.broadcast_to(dead, live.shape), live, model.water.lb_per_in3), tuple(crowds))

    def wanted(self) -> list[tuple[int, int]]:
        """The next rows: which crowd, how many of it."""
        return [(n, count) for n, crowd in enumerate(self.crowds) for count in crowd.wanted()]

    def weights(self, wanted: Sequence[tuple[int, int]]) -> Array:
        return self.rows.weights(wanted)

    def take(self, wanted: Sequence[tuple[int, int]], settled: Settled) -> None:
        """Keep what was solved."""
        deck = self.rows.dock.prepared.deck_heights_in(settled.attitude).min(1)
        tilt = np.degrees(np.arccos(np.clip(settled.attitude[:, :, 2].min(1), -1, 1)))
        clearance = np.minimum(deck, settled.lowest_top_in)
        columns = settled.severity.tolist(), clearance.tolist(), tilt.tolist(), deck.tolist()
        for (n, count), *row in zip(wanted, *columns, strict=True):
            self.crowds[n].seen[count] = Aboard(*row)

    def finish(self, nobody: Equilibrium) -> None:
        """Round after round to the end, from the wet dock with nobody aboard. Raises DidNotSettle."""
        for crowd in self.crowds:
            crowd.seen[0] = Aboard.of(nobody)
        while wanted := self.wanted():
            self.take(wanted, self.rows.settle(wanted))
