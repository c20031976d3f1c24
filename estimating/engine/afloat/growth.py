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

    def settle(self, rows: Sequence[tuple[int, float]]):
        which, times = (np.array(column) for column in zip(*rows, strict=True))
        weights = self.dead[which] + times[:, None, None] * self.live[which]
        return self.dock.settle(weights, np.full(len(rows), self.water_lb_per_in3))


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
        """The most of those solved that leave all dry; -1 if not even nobody does."""
        return max((count for count, aboard in self.seen.items() if not aboard.fails), default=-1)

    @property
    def next(self) -> int:
        """The fewest, above `holds`, that do not; `most` if none was solved."""
        return min((count for count, aboard in self.seen.items() if aboard.fails), default=self.most)

    def wanted(self) -> list[int]:
        """Counts to solve next: near the guess at first, then between what holds and what does not."""
        if 0 in self.seen and self.seen[0].fails:
            return []
        if len(self.seen) <= 1:
            near = floor(min(self.guess, self.most))
            counts = {round(0.85 * near), near, near + 1}
            return sorted({min(max(count, 1), self.most) for count in counts})
        low, high = max(self.holds, 0), self.next
        if high - low <= 1:
            return [] if high in self.seen else [high]
        if high not in self.seen:
            return sorted({min(self.most, low + 1 + low // 8), min(self.most, low + 1 + low // 3)})
        if low in self.seen and not self.seen[high].severity:
            return self._near_crossing(low, high)
        inner = np.unique(np.linspace(low, high, min(AT_ONCE, high - low) + 1).astype(int))[1:]
        return [int(count) for count in inner if int(count) not in self.seen]

    def _near_crossing(self, low: int, high: int) -> list[int]:
        """Counts about where the clearance, on a straight line between two that were solved, comes to nothing."""
        above, below = self.seen[low].clearance_in, self.seen[high].clearance_in
        crossing = low + floor((high - low) * above / (above - below))
        counts = {min(max(crossing + step, low + 1), high - 1) for step in (-1, 0, 1, 2)}
        return sorted(counts - self.seen.keys())


def count_crowds(dock: DockAfloat, model: Model, crowds: Sequence[Crowd]) -> None:
    """Find for every crowd how many the wet dock holds, into `seen`, which has nobody aboard. Raises DidNotSettle."""
    if not crowds:
        return
    dead = _dead(dock, model)
    live = np.stack([live_weights(dock.assembly, crowd.person) for crowd in crowds])
    lift = sum(group.full_lift_in3 for group in dock.prepared.groups) * model.water.lb_per_in3
    for crowd, own in zip(crowds, live, strict=True):
        crowd.most = max(floor((lift - dead[:, 3].sum()) / own[:, 3].sum()), 0) + 2
    rows = _Rows(dock, np.broadcast_to(dead, live.shape), live, model.water.lb_per_in3)
    while wanted := [(n, count) for n, crowd in enumerate(crowds) for count in crowd.wanted()]:
        for (n, count), aboard in zip(wanted, _aboard(rows, wanted), strict=True):
            crowds[n].seen[count] = aboard


def with_crowds(dock: DockAfloat, model: Model, crowd: tuple[PointLoad, ...], counts: Sequence[int]) -> list[Aboard]:
    """The wet dock with so many of a crowd aboard, for each count. Raises DidNotSettle."""
    live = live_weights(dock.assembly, crowd)[None]
    rows = _Rows(dock, _dead(dock, model)[None], live, model.water.lb_per_in3)
    return _aboard(rows, [(0, count) for count in counts])


def _dead(dock: DockAfloat, model: Model) -> Array:
    return dead_weights(dock.assembly, load_case(model, dead_loadings()[0]))


def _aboard(rows: _Rows, wanted: Sequence[tuple[int, float]]) -> list[Aboard]:
    settled = rows.settle(wanted)
    deck = rows.dock.prepared.deck_heights_in(settled.attitude).min(1)
    tilt = np.degrees(np.arccos(np.clip(settled.attitude[:, :, 2].min(1), -1, 1)))
    clearance = np.minimum(deck, settled.lowest_top_in)
    columns = settled.severity.tolist(), clearance.tolist(), tilt.tolist(), deck.tolist()
    return [Aboard(*row) for row in zip(*columns, strict=True)]
