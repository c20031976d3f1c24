"""Where a dock on chains comes to rest under loads, and how hard each chain pulls: every load at every level at once.

The dock moves level and turns, as one stiff body in plan; it does not rise or sink. Chains are the catenaries of
`catenary`. So that even a chain too short has an answer, each gives a hair under load, inches a pound: far more at
first, which finds the place, and in the end a tenth of an inch under a thousand pounds.
Inches, pounds, radians. Plan axes as in the spec.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .catenary import reach_and_give

Array = NDArray[np.float64]
GIVES_IN_PER_LB = (1e-2, 1e-3, 1e-4)
CLOSE = (5e-2, 5e-2, 1e-8)  # of the load and the pulls, at each give
FINDS = (1, 1, 2)  # Newton steps to a chain's pull, from the table
ROUNDS = (60, 40, 120)
CALM_ROUNDS = 15  # from here on a case that goes to and fro takes half steps
NOTHING_LB = 1e-4
TURN_AT_ONCE = 0.5
GRID = np.geomspace(1e-4, 1e9, 200)


@dataclass(frozen=True, slots=True)
class Fastened:
    """Chains of one dock, one figure each: fitting and weight in plan, length without tie-off, weight in water."""

    fitting_x_in: Array
    fitting_y_in: Array
    weight_x_in: Array
    weight_y_in: Array
    length_in: Array
    lb_per_in: Array


@dataclass(frozen=True, slots=True)
class Rest:
    """Where the dock lies, one row a case. `settled` is False where no place was found: then figures are the last.

    reach and pull have one column a chain; a pull of 0 is a slack chain.
    """

    dx_in: Array
    dy_in: Array
    turn_rad: Array
    reach_in: Array
    pull_lb: Array
    settled: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Pushes:
    """What pushes the dock, one figure a case: along x and y, and where in plan; the place turns with the dock."""

    x_lb: Array
    y_lb: Array
    at_x_in: Array
    at_y_in: Array


def come_to_rest(chains: Fastened, pushes: Pushes, heights_in: Array) -> Rest:
    """Solve every case: `heights_in` has one row a case and one column a chain, the height of fitting over weight.

    Newton's method on the whole batch. Raises ValueError for figures that are no numbers, or no chain.
    Source: STATICS.
    """
    if not len(chains.length_in) or not all(np.isfinite(value).all() for value in (pushes.x_lb, pushes.y_lb)):
        raise ValueError("a dock at rest needs a chain, and loads that are numbers")
    return _Batch(chains, pushes, heights_in).solve()


class _Curves:
    """The pull of each chain of each case at a reach, by table and Newton: the table's grid is the pull over weight."""

    def __init__(self, chains: Fastened, height: Array, give_in_per_lb: float, finds: int) -> None:
        # Cases of one level are alike: their curves are worked out once, and laid end to end to be looked up at one go.
        _, first, row = np.unique(height, axis=0, return_index=True, return_inverse=True)
        length, weight = chains.length_in, chains.lb_per_in
        self.length, self.height, self.weight, self.finds = length, height, weight, finds
        self.give = give_in_per_lb * weight
        rows = height[first]
        a = GRID[:, None, None]
        reach, _ = reach_and_give(a, rows[None], np.broadcast_to(length, rows.shape)[None])
        curves = (reach + self.give * a).transpose(1, 2, 0)
        self._apart = float(curves[..., -1].max()) + float(length.max()) * 4
        self._curve = row.reshape(-1)[:, None] * len(length) + np.arange(len(length))
        self._reach = curves.ravel()
        self._laid = (curves + self._apart * np.arange(rows.size).reshape(*rows.shape, 1)).ravel()
        self._log = np.log(GRID)

    def at(self, reach: Array, cases: NDArray[np.intp]) -> tuple[Array, Array]:
        """Pull, and how it grows with reach, of the chains of some cases."""
        height, weight, curve = self.height[cases], self.weight, self._curve[cases]
        start = curve * len(GRID)
        reach = np.minimum(reach, self._apart * 0.9)
        cell = np.clip(np.searchsorted(self._laid, reach + self._apart * curve) - start, 1, len(GRID) - 1)
        low, high = self._reach[start + cell - 1], self._reach[start + cell]
        share = np.clip((reach - low) / np.maximum(high - low, 1e-12), 0.0, 1.0)
        a = np.exp(self._log[cell - 1] + share * (self._log[1] - self._log[0]))
        slack = reach <= self._reach[start]
        for _ in range(self.finds):
            at, give = reach_and_give(a, height, self.length)
            gives = give + self.give
            grown = np.clip((reach - at - self.give * a) / (gives * a), -0.4, 0.4)
            a = np.maximum(a * np.exp(grown), GRID[cell - 1])
        return np.where(slack, 0.0, weight * a), np.where(slack, 0.0, weight / gives)


class _Batch:
    def __init__(self, chains: Fastened, pushes: Pushes, heights_in: Array) -> None:
        self.middle = chains.fitting_x_in.mean(), chains.fitting_y_in.mean()
        self.arm_x, self.arm_y = chains.fitting_x_in - self.middle[0], chains.fitting_y_in - self.middle[1]
        self.out_x, self.out_y = chains.weight_x_in - self.middle[0], chains.weight_y_in - self.middle[1]
        self.span = max(float(np.hypot(self.arm_x, self.arm_y).max()), 12.0)
        self.load = np.stack([pushes.x_lb, pushes.y_lb, np.zeros_like(pushes.x_lb)], axis=1)
        self.at_x, self.at_y = pushes.at_x_in - self.middle[0], pushes.at_y_in - self.middle[1]
        self.chains, self.heights = chains, heights_in
        away = np.hypot(self.out_x - self.arm_x, self.out_y - self.arm_y)
        self.longest = float((chains.length_in + away).max())
        self.slack = np.sqrt(np.maximum(chains.length_in**2 - heights_in**2, 0.0)) - away

    def solve(self) -> Rest:
        count, chains = len(self.load), len(self.arm_x)
        place = self._first()
        pulls, reaches = np.zeros((count, chains)), np.zeros((count, chains))
        settled = np.zeros(count, dtype=bool)
        for give, close, finds, rounds in zip(GIVES_IN_PER_LB, CLOSE, FINDS, ROUNDS, strict=True):
            self.curves = _Curves(self.chains, self.heights, give, finds)
            open_ones = np.arange(count)
            settled[:] = False
            for turn in range(rounds):
                left, stiff, pulls[open_ones], reaches[open_ones] = self._forces(place[open_ones], open_ones)
                scale = np.abs(self.load[open_ones]).sum(axis=1) + pulls[open_ones].sum(axis=1)
                done = np.abs(left).max(axis=1) <= close * scale + NOTHING_LB
                settled[open_ones[done]] = True
                open_ones, left, stiff = open_ones[~done], left[~done], stiff[~done]
                if not len(open_ones):
                    break
                place[open_ones] += self._step(left, stiff) * (1.0 if turn < CALM_ROUNDS else 0.5)
        return Rest(place[:, 0], place[:, 1], place[:, 2] / self.span, reaches, pulls, settled)

    def _first(self) -> Array:
        """Start down the load, as far as the shortest slack lets it go."""
        strength = np.hypot(self.load[:, 0], self.load[:, 1])
        share = self.load / np.maximum(strength, 1e-9)[:, None]
        start = np.zeros_like(self.load)
        start[:, :2] = share[:, :2] * np.maximum(self.slack.min(axis=1), 0.0)[:, None]
        return start

    def _forces(self, place: Array, cases: NDArray[np.intp]) -> tuple[Array, Array, Array, Array]:
        """What is left unbalanced, the stiffness against moving, pulls and reaches. Turning is scaled by the span."""
        turned = place[:, 2:] / self.span
        cos, sin = np.cos(turned), np.sin(turned)
        arm_x, arm_y = cos * self.arm_x - sin * self.arm_y, sin * self.arm_x + cos * self.arm_y
        to_x, to_y = self.out_x - place[:, :1] - arm_x, self.out_y - place[:, 1:2] - arm_y
        reach = np.maximum(np.hypot(to_x, to_y), 1e-9)
        pull, grows = self.curves.at(reach, cases)
        nx, ny = to_x / reach, to_y / reach
        fx, fy = pull * nx, pull * ny
        at_x = cos[:, 0] * self.at_x[cases] - sin[:, 0] * self.at_y[cases]
        at_y = sin[:, 0] * self.at_x[cases] + cos[:, 0] * self.at_y[cases]
        left = self.load[cases].copy()
        push_x, push_y = left[:, 0].copy(), left[:, 1].copy()
        left[:, 0] += fx.sum(axis=1)
        left[:, 1] += fy.sum(axis=1)
        left[:, 2] = (at_x * push_y - at_y * push_x + (arm_x * fy - arm_y * fx).sum(axis=1)) / self.span
        stiff = _stiffness(_Line(nx, ny, grows, pull / reach), -arm_y / self.span, arm_x / self.span)
        stiff[:, 2, 2] += ((arm_x * fx + arm_y * fy).sum(axis=1) + at_x * push_x + at_y * push_y) / self.span**2
        return left, stiff, pull, reach

    def _step(self, left: Array, stiff: Array) -> Array:
        """A Newton step made safe: always downhill, never further than the chains are long."""
        values, vectors = np.linalg.eigh(stiff)
        least = (
            1e-9 * np.abs(values).max(axis=1, keepdims=True) + np.abs(left).max(axis=1, keepdims=True) / self.longest
        )
        along = np.einsum("cij,ci->cj", vectors, left) / np.maximum(np.abs(values), least)
        step = np.einsum("cij,cj->ci", vectors, along)
        moved = np.hypot(step[:, 0], step[:, 1]) / (0.5 * self.longest)
        turned = np.abs(step[:, 2]) / (TURN_AT_ONCE * self.span)
        return step / np.maximum(np.maximum(moved, turned), 1.0)[:, None]


@dataclass(frozen=True, slots=True)
class _Line:
    """Which way each chain points, and how it resists along its line and across it, pounds an inch."""

    x: Array
    y: Array
    along: Array
    across: Array


def _stiffness(line: _Line, turn_x: Array, turn_y: Array) -> Array:
    """-d(forces)/d(place), turning scaled by the span, but for the forces' own turning with the dock."""
    x, y = line.x, line.y
    xx, yy = line.along * x * x + line.across * y * y, line.along * y * y + line.across * x * x
    xy = (line.along - line.across) * x * y
    xt, yt = xx * turn_x + xy * turn_y, xy * turn_x + yy * turn_y
    tt = xt * turn_x + yt * turn_y
    terms = np.stack([xx, xy, xt, xy, yy, yt, xt, yt, tt], axis=-1).sum(axis=1)
    return terms.reshape(-1, 3, 3)
