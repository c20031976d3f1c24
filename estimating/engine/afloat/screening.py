"""Which of many places is the worst, found from the stiffness of the whole dock at rest, hinges and all.

Small leans, every float in the water and none of them under: good for telling places apart, not for an answer. The
places picked are solved exactly afterwards.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.flotation.immersion import Array

from .model import Model
from .places import Loading

SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Stiffness:
    """Solves K q = f under the hinge constraints: q is the height at the middle and two slopes of every body."""

    inverse: Array
    middles: Array
    rest: Array
    corners: Array
    corner_body: Array

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
            for f in body.floats:
                force[3 * b + 1] -= f.own_weight_lb * (f.x_in - middles[b, 0])
                force[3 * b + 2] -= f.own_weight_lb * (f.y_in - middles[b, 1])
        firm = np.abs(np.diag(matrix)[:size]).reshape(-1, 3).max(0) + SLACK
        matrix[range(size), range(size)] += SLACK * np.tile(firm, len(bodies))
        for row, (hinge, (x, y, _)) in enumerate(links, start=size):
            for body, sign in ((hinge.first, 1.0), (hinge.second, -1.0)):
                arm = sign * firm[0] * np.array([1.0, x - middles[body, 0], y - middles[body, 1]])
                matrix[row, 3 * body : 3 * body + 3] = arm
                matrix[3 * body : 3 * body + 3, row] = arm
        inverse = np.linalg.inv(matrix)
        decks = [corner for deck in model.decks for corner in deck.corners]
        owner = np.repeat([deck.body for deck in model.decks], 4)
        padded = np.concatenate([force, np.zeros(len(links))])
        return cls(inverse, middles, inverse @ padded, np.array(decks), owner)

    def states(self, loads: Sequence[Sequence[PointLoad]]) -> tuple[Array, Array]:
        """About the least freeboard of any deck corner, and the most slope of any body, under each loading."""
        forces = np.zeros((len(self.rest), len(loads)))
        for column, each in enumerate(loads):
            for load in each:
                x, y = load.x_in - self.middles[load.body, 0], load.y_in - self.middles[load.body, 1]
                forces[3 * load.body : 3 * load.body + 3, column] -= load.weight_lb * np.array([1.0, x, y])
        state = self.rest[:, None] + self.inverse @ forces
        at = 3 * self.corner_body
        arms = self.corners[:, :2] - self.middles[self.corner_body]
        heights = state[at] + arms[:, :1] * state[at + 1] + arms[:, 1:] * state[at + 2] + self.corners[:, 2:]
        slopes = state[: 3 * len(self.middles)].reshape(len(self.middles), 3, -1)[:, 1:]
        return heights.min(0), np.hypot(slopes[:, 0], slopes[:, 1]).max(0)


def worst_places(stiffness: Stiffness, loadings: Sequence[Loading]) -> tuple[Loading, ...]:
    """Of each kind and rule set two places: that which presses a deck corner lowest, and that which tilts most (or, if
    it is the same, the one that presses next lowest). In the order they came."""
    freeboards, slopes = stiffness.states([loading.loads for loading in loadings])
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
    return tuple(loading for place, loading in enumerate(loadings) if place in kept)
