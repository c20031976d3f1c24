"""Which of many places is the worst, found from the stiffness of the whole dock at rest, hinges and all.

Small leans, every float in the water and none of them under: good for telling places apart, not for an answer. The
places picked are solved exactly afterwards.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from estimating.engine.flotation.geometry import FloatBody, FloatShape, PointLoad
from estimating.engine.flotation.immersion import Array

from .model import Model
from .places import Loading

SLACK = 1e-6
QUARTER_TURN_DEG = 90.0
LEAN_IN = 90.0  # how much lower, over the square of the slope; found by trying docks of all sizes
NEAR_IN = 1.5  # how near two places may come for one to be taken for the other
MOST_PEOPLE = 1e6


@dataclass(frozen=True, slots=True)
class Stiffness:
    """Solves K q = f under the hinge constraints: q is the height at the middle and two slopes of every body."""

    inverse: Array
    middles: Array
    rest: Array
    points: Array
    point_body: Array
    corners: int

    @classmethod
    def of(cls, model: Model) -> "Stiffness":
        bodies = model.assembly.bodies
        middles = np.array([np.mean(np.array(body.deck)[:, :2], axis=0) for body in bodies])
        size = 3 * len(bodies)
        links = [(h, end) for h in model.assembly.hinges for end in h.ends]
        matrix = np.zeros((size + len(links), size + len(links)))
        force = np.zeros(size)
        for b, body in enumerate(bodies):
            own = slice(3 * b, 3 * b + 3)
            floats = np.array(
                [
                    (f.x_in, f.y_in, f.bottom_in, f.buoyancy_factor * f.length_in * f.width_in)
                    for f in body.floats
                    if not f.frame_part
                ]
            ).reshape(-1, 4)
            arms = np.column_stack([np.ones(len(floats)), floats[:, :2] - middles[b]])
            stiff = floats[:, 3] * model.water.lb_per_in3
            matrix[own, own] = (arms * stiff[:, None]).T @ arms
            mass = model.wet[b]
            weight = mass.weight_lb
            force[own] -= (stiff * floats[:, 2]) @ arms
            force[own] -= weight * np.array([1.0, mass.x_in - middles[b, 0], mass.y_in - middles[b, 1]])
            force[3 * b] -= body.floats_weight_lb
            own_lb = np.array([(f.own_weight_lb, f.x_in, f.y_in) for f in body.floats]).reshape(-1, 3)
            force[3 * b + 1 : 3 * b + 3] -= own_lb[:, 0] @ (own_lb[:, 1:] - middles[b])
        firm = np.abs(np.diag(matrix)[:size]).reshape(-1, 3).max(0) + SLACK
        matrix[range(size), range(size)] += SLACK * np.tile(firm, len(bodies))
        for row, (hinge, (x, y, _)) in enumerate(links, start=size):
            for body, sign in ((hinge.first, 1.0), (hinge.second, -1.0)):
                arm = sign * firm[0] * np.array([1.0, x - middles[body, 0], y - middles[body, 1]])
                matrix[row, 3 * body : 3 * body + 3] = arm
                matrix[3 * body : 3 * body + 3, row] = arm
        inverse = np.linalg.inv(matrix)
        decks = [(corner, deck.body) for deck in model.decks for corner in deck.corners]
        tops = [(top, b) for b, body in enumerate(bodies) for f in body.floats if not f.frame_part for top in _tops(f)]
        points, owner = zip(*decks, *tops, strict=True)
        padded = np.concatenate([force, np.zeros(len(links))])
        return cls(inverse, middles, inverse @ padded, np.array(points), np.array(owner), len(decks))

    def holds(self, people: Sequence[Sequence[PointLoad]]) -> Array:
        """About how many of each such person bring the first float top corner, or deck corner, down to the water."""
        rest = self._heights_in(self.rest[:, None]) + self.points[:, 2:]
        drop = -self._heights_in(self._moved(people))
        return np.where(drop > SLACK, rest / np.maximum(drop, SLACK), np.inf).min(0).clip(0, MOST_PEOPLE)

    def _moved(self, loads: Sequence[Sequence[PointLoad]]) -> Array:
        """How the heights and slopes of the bodies change under each loading."""
        forces = np.zeros((len(self.rest), len(loads)))
        for column, each in enumerate(loads):
            for load in each:
                x, y = load.x_in - self.middles[load.body, 0], load.y_in - self.middles[load.body, 1]
                forces[3 * load.body : 3 * load.body + 3, column] -= load.weight_lb * np.array([1.0, x, y])
        return self.inverse @ forces

    def _heights_in(self, state: Array, count: int | None = None) -> Array:
        """How far each body's plane lies up at the points, or at the first so many of them."""
        owner = self.point_body[:count]
        arms = self.points[:count, :2] - self.middles[owner]
        return state[3 * owner] + arms[:, :1] * state[3 * owner + 1] + arms[:, 1:] * state[3 * owner + 2]

    def states(self, loads: Sequence[Sequence[PointLoad]]) -> tuple[Array, Array]:
        """About the least freeboard of any deck corner, and the most slope of any body, under each loading."""
        state = self.rest[:, None] + self._moved(loads)
        heights = self._heights_in(state, self.corners) + self.points[: self.corners, 2:]
        slopes = state[: 3 * len(self.middles)].reshape(len(self.middles), 3, -1)[:, 1:]
        return heights.min(0), np.hypot(slopes[:, 0], slopes[:, 1]).max(0)


def _tops(f: FloatBody) -> Iterator[tuple[float, float, float]]:
    halves = f.length_in / 2, (0.0 if f.shape is FloatShape.ROUND else f.width_in / 2)
    half_x, half_y = halves[::-1] if f.turn_deg == QUARTER_TURN_DEG else halves
    for x in (-half_x, half_x):
        for y in (-half_y, half_y):
            yield f.x_in + x, f.y_in + y, f.bottom_in + f.height_in


def worst_places(stiffness: Stiffness, loadings: Sequence[Loading]) -> tuple[Loading, ...]:
    """Of each kind and rule set two places: that which presses a deck corner lowest, and that which tilts most (or, if
    it is the same, the one that presses next lowest); a third where one more comes near. In the order they came.

    A dock that leans far goes lower than its stiffness at rest says, by about the square of the lean.
    """
    freeboards, slopes = stiffness.states([loading.loads for loading in loadings])
    freeboards = freeboards - LEAN_IN * slopes**2
    by_kind: dict[tuple[str, str], list[int]] = {}
    for place, loading in enumerate(loadings):
        by_kind.setdefault((loading.rule_set, loading.kind), []).append(place)
    kept: set[int] = set()
    for alike in by_kind.values():
        lowest, *others = sorted(alike, key=lambda p: freeboards[p])
        kept.add(lowest)
        if others:
            steepest = max(alike, key=lambda p: slopes[p])
            kept.add(others[0] if steepest == lowest else steepest)
        near = (p for p in others if p not in kept and freeboards[p] - freeboards[lowest] < NEAR_IN)
        kept.update(p for p in (next(near, None),) if p is not None)
    return tuple(loading for place, loading in enumerate(loadings) if place in kept)
