"""Walking many rows at once down to a least energy, and knowing when each has arrived.

A trust-region Newton walk. The step is Newton's in every direction the energy curves up; where it curves down the
step runs downhill at the same rate instead, so a saddle is left and not found. A step that does not lower the energy
enough is taken back and the region made smaller. A row has arrived when its slopes vanish and nothing curves down: a
level dock that is top heavy has no slope, yet goes on to its loll. A row may end early when it has turned over. The
walk stops by itself in a few steps; should a row not arrive, `DidNotSettle` says which, never a wrong answer.
"""

from collections.abc import Callable
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
    """Of each row: the energy in in-lb, its slopes (rows, freedoms), its curvatures, and whether it has turned over."""

    value: Array
    slope: Array
    curvature: Array
    over: NDArray[np.bool_]


class Landscape(Protocol):
    """What `descend` walks on. Slopes and curvatures come scaled to inches by `reach_in` of each freedom."""

    reach_in: Array
    weight_lb: Array
    stiffness_lb_per_in: Array

    def energy(self, state: Array, rows: Rows) -> Energy: ...

    def move(self, state: Array, step: Array) -> Array: ...


@dataclass(slots=True)
class Arrival:
    """Where each row ended: its state, the curvatures there (lb per inch), steps taken, whether it turned over."""

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
        self.arrival = Arrival(
            state.copy(), self.at.curvature.copy(), np.zeros(count, dtype=np.intp), np.zeros(count, dtype=np.bool_)
        )

    def step(self) -> bool:
        """One step for every row under way; False once there are none."""
        values, vectors = np.linalg.eigh(self.at.curvature)
        stiff = self.land.stiffness_lb_per_in[self.rows]
        weight = self.land.weight_lb[self.rows]
        allowed = _SLOPE_TOLERANCE * weight if self.taken < _MANY_STEPS else _FLAT_TOLERANCE * (weight + 10 * stiff)
        settled = np.abs(self.at.slope).max(1) <= allowed
        done = (settled & (values[:, 0] >= -_CURVE_TOLERANCE * stiff)) | self.at.over
        if done.any():
            self._arrive(done)
            under_way = ~done
            values, vectors, stiff, settled = (a[under_way] for a in (values, vectors, stiff, settled))
        if not len(self.rows):
            return False
        step, foreseen = self._downhill(values, vectors, stiff, settled)
        self._try(step, foreseen)
        self.taken += 1
        return True

    def _arrive(self, done: NDArray[np.bool_]) -> None:
        rows = self.rows[done]
        self.arrival.state[rows] = self.state[done]
        self.arrival.curvature[rows] = self.at.curvature[done]
        self.arrival.steps[rows] = self.taken
        self.arrival.over[rows] = self.at.over[done]
        left = ~done
        self.rows, self.state, self.radius = self.rows[left], self.state[left], self.radius[left]
        self.at = _chosen(self.at, left)

    def _downhill(self, values: Array, vectors: Array, stiff: Array, settled: NDArray[np.bool_]) -> tuple[Array, Array]:
        slope = (self.at.slope[:, None, :] @ vectors)[:, 0]
        steep = np.maximum(np.abs(values), (1e-9 * stiff)[:, None])
        along = -slope / steep
        lost = settled & (values[:, 0] < 0)
        if lost.any():
            along[lost, 0] = np.where(slope[lost, 0] > 0, -1.0, 1.0) * self.radius[lost]
        size = np.sqrt((along * along).sum(1))
        along *= np.minimum(1.0, self.radius / np.maximum(size, 1e-300))[:, None]
        foreseen = (along * (slope + 0.5 * values * along)).sum(1)
        return (vectors @ along[:, :, None])[..., 0], foreseen

    def _try(self, step: Array, foreseen: Array) -> None:
        tried = self.land.move(self.state, step / self.land.reach_in)
        there = self.land.energy(tried, self.rows)
        gain = there.value - self.at.value
        noise = _ROUNDING * self.land.weight_lb[self.rows] * (np.abs(self.state[:, 3]) + self.land.reach_in.max())
        calmer = np.abs(there.slope).max(1) < np.abs(self.at.slope).max(1)
        good = (gain <= 1e-4 * foreseen) | ((np.abs(gain) <= noise) & calmer)
        size = np.sqrt((step * step).sum(1))
        grown = np.where(gain <= 0.7 * foreseen, np.minimum(2.5 * self.radius, self.largest), self.radius)
        self.radius = np.where(good, grown, 0.25 * size)
        self.state = np.where(good[:, None], tried, self.state)
        self.at = _better(self.at, there, good)


def _chosen(at: Energy, rows: NDArray[np.bool_]) -> Energy:
    return Energy(at.value[rows], at.slope[rows], at.curvature[rows], at.over[rows])


def _better(old: Energy, new: Energy, good: NDArray[np.bool_]) -> Energy:
    if good.all():
        return new
    pick: Callable[[Array, Array], Array] = lambda a, b: np.where(good.reshape(-1, *[1] * (a.ndim - 1)), b, a)  # noqa: E731
    return Energy(
        pick(old.value, new.value),
        pick(old.slope, new.slope),
        pick(old.curvature, new.curvature),
        pick(old.over, new.over),
    )
