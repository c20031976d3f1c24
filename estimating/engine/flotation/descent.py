"""Walking many rows at once down to a least energy, and knowing when each has arrived.

A trust-region Newton walk. The step is Newton's in every direction the energy curves up; where it curves down the
step runs downhill at the same rate instead, so a saddle is left and not found. A step that does not lower the energy
enough is taken back and the region made smaller. A row has arrived when its slopes vanish and nothing curves down: a
level dock that is top heavy has no slope, yet goes on to its loll. A row may end early when it has turned over. The
walk stops by itself in a few steps; should a row not arrive, `DidNotSettle` says which, never a wrong answer.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from .immersion import Array

Rows = NDArray[np.intp]

_ROUNDING = 1e-13
_SLOPE_TOLERANCE = 1e-10
# After many steps: where a float just leaves the water, or nothing weighs on it, the bottom is too flat for more.
_FLAT_TOLERANCE = 1e-8
_MANY_STEPS = 60
_CURVE_TOLERANCE = 1e-9
_MOST_STEPS = 1000


class DidNotSettle(ArithmeticError):
    """No equilibrium was found for these rows. `rows` are their places, `slope_lb` what is still out of balance."""

    def __init__(self, rows: list[int], slope_lb: list[float]):
        self.rows = rows
        self.slope_lb = slope_lb
        super().__init__(f"no equilibrium found for {len(rows)} of the cases; out of balance by {max(slope_lb):.3g} lb")


@dataclass(frozen=True, slots=True)
class Energy:
    """Of each row the energy in in-lb, and, scaled to inches: its slopes and the step downhill, (rows, freedoms), the
    curvature along that step, the least curvature met anywhere (lb per inch), and the curvatures of the root, (rows,
    3, 3). `over` says whether it has turned over."""

    value: Array
    slope: Array
    step: Array
    along: Array
    least: Array
    root: Array
    over: NDArray[np.bool_]

    def rows(self, rows: NDArray[np.bool_]) -> "Energy":
        return Energy(*(getattr(self, name)[rows] for name in self.__slots__))

    def or_better(self, other: "Energy", better: NDArray[np.bool_]) -> "Energy":
        """The other's rows where it is better."""
        pairs = ((getattr(self, name), getattr(other, name)) for name in self.__slots__)
        return Energy(*(np.where(better.reshape(-1, *[1] * (old.ndim - 1)), new, old) for old, new in pairs))


class Landscape(Protocol):
    """What `descend` walks on. Slopes, steps and curvatures come scaled to inches by `reach_in` of each freedom."""

    reach_in: Array
    weight_lb: Array
    stiffness_lb_per_in: Array

    def energy(self, state: Array, rows: Rows) -> Energy: ...

    def escape(self, state: Array, rows: Rows) -> Array:
        """A unit step along which the energy curves down, for rows that stand on a saddle."""
        ...

    def move(self, state: Array, step: Array) -> Array: ...


@dataclass(slots=True)
class Arrival:
    """Where each row ended: its state, the root's curvatures there, steps taken, whether it turned over."""

    state: Array
    curvature: Array
    steps: NDArray[np.intp]
    over: NDArray[np.bool_]


def descend(land: Landscape, state: Array) -> Arrival:
    """Follow the energy down from each row's state to a least energy. Raises DidNotSettle."""
    walk = _Walk(land, state)
    for _ in range(_MOST_STEPS):
        if not walk.step():
            return walk.arrival
    raise DidNotSettle(walk.rows.tolist(), np.abs(walk.at.slope).max(1).tolist())


class _Walk:
    """The rows still on their way; the arrays are narrowed as rows arrive."""

    def __init__(self, land: Landscape, state: Array):
        count = len(state)
        self.land = land
        self.rows = np.arange(count)
        self.state = state
        self.at = land.energy(state, self.rows)
        self.largest = 0.6 * land.reach_in[1:].min()
        self.radius = np.full(count, 0.5 * self.largest)
        self.taken = 0
        none = np.zeros(count, dtype=np.intp)
        self.arrival = Arrival(state.copy(), self.at.root.copy(), none, np.zeros(count, dtype=np.bool_))

    def step(self) -> bool:
        """One step for every row under way; False once there are none."""
        stiff, weight = self.land.stiffness_lb_per_in[self.rows], self.land.weight_lb[self.rows]
        allowed = _SLOPE_TOLERANCE * weight if self.taken < _MANY_STEPS else _FLAT_TOLERANCE * (weight + 10 * stiff)
        settled = np.abs(self.at.slope).max(1) <= allowed
        done = (settled & (self.at.least >= -_CURVE_TOLERANCE * stiff)) | self.at.over
        if done.any():
            self._arrive(done)
            settled, weight = settled[~done], weight[~done]
        if not len(self.rows):
            return False
        step, foreseen = self._downhill(settled)
        self._try(step, foreseen, weight)
        self.taken += 1
        return True

    def _arrive(self, done: NDArray[np.bool_]) -> None:
        rows = self.rows[done]
        self.arrival.state[rows] = self.state[done]
        self.arrival.curvature[rows] = self.at.root[done]
        self.arrival.steps[rows] = self.taken
        self.arrival.over[rows] = self.at.over[done]
        left = ~done
        self.rows, self.state, self.radius = self.rows[left], self.state[left], self.radius[left]
        self.at = self.at.rows(left)

    def _downhill(self, settled: NDArray[np.bool_]) -> tuple[Array, Array]:
        """A step no longer than the region, and the gain in energy it promises; off the saddle where there is one."""
        step = self.at.step
        size = np.sqrt((step * step).sum(1))
        share = np.minimum(1.0, self.radius / np.maximum(size, 1e-300))
        foreseen = share * ((self.at.slope * step).sum(1) + 0.5 * share * self.at.along)
        step = step * share[:, None]
        if settled.any():
            step[settled] = self.land.escape(self.state[settled], self.rows[settled]) * self.radius[settled, None]
            foreseen[settled] = 0.5 * self.at.least[settled] * self.radius[settled] ** 2
        return step, foreseen

    def _try(self, step: Array, foreseen: Array, weight: Array) -> None:
        tried = self.land.move(self.state, step / self.land.reach_in)
        there = self.land.energy(tried, self.rows)
        gain = there.value - self.at.value
        noise = _ROUNDING * weight * (np.abs(self.state[:, 3]) + self.land.reach_in.max())
        calmer = np.abs(there.slope).max(1) < np.abs(self.at.slope).max(1)
        good = (gain <= 1e-4 * foreseen) | ((np.abs(gain) <= noise) & calmer)
        grown = np.where(gain <= 0.7 * foreseen, np.minimum(2.5 * self.radius, self.largest), self.radius)
        self.radius = np.where(good, grown, 0.25 * np.sqrt((step * step).sum(1)))
        if good.all():
            self.state, self.at = tried, there
        else:
            self.state = np.where(good[:, None], tried, self.state)
            self.at = self.at.or_better(there, good)


def dense_step(slope: Array, curvature: Array, stiff: Array) -> tuple[Array, Array, Array]:
    """Of a few freedoms given whole: the step downhill, the curvature along it, the least curvature of each row."""
    values, vectors = np.linalg.eigh(curvature)
    along = -(slope[:, None] @ vectors)[:, 0] / np.maximum(np.abs(values), 1e-9 * stiff[:, None])
    return (vectors @ along[:, :, None])[..., 0], (values * along * along).sum(1), values[:, 0]


def steepest_fall(slope: Array, curvature: Array) -> Array:
    """The unit step along which few freedoms given whole curve down most, downhill if there is a slope."""
    step = np.linalg.eigh(curvature)[1][:, :, 0]
    return step * np.where((step * slope).sum(1) > 0, -1.0, 1.0)[:, None]
