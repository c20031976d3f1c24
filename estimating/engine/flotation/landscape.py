"""The potential energy of one connected group of bodies, for many rows of loads and waters at once."""

from dataclasses import dataclass
from math import cos, radians

import numpy as np

from .buoyancy import FloatArrays
from .descent import Energy, Rows
from .elimination import Elimination
from .immersion import Array
from .linkage import Linkage

FALLEN_DEG = 90.0


@dataclass(frozen=True, slots=True)
class FloatingGroup:
    """Energy of weights and water together, as `descend` wants it.

    weights: (rows, bodies, 4), each body's weight times the place of its centre of gravity, then the weight itself
    (in-lb and lb, places from the group's origin). water_lb_per_in3: (rows,). stiffness_lb_per_in: of all floats cut
    by the water, about. A row with a body leaning beyond `fallen_deg` has turned over and is followed no further.
    """

    linkage: Linkage
    floats: FloatArrays
    weights: Array
    water_lb_per_in3: Array
    stiffness_lb_per_in: Array
    fallen_deg: float = FALLEN_DEG

    @property
    def reach_in(self) -> Array:
        return self.linkage.reach_in

    @property
    def weight_lb(self) -> Array:
        """What slopes are measured against; a dock of no weight still has its floats."""
        return self.weights[:, :, 3].sum(1) + 1e-3 * self.stiffness_lb_per_in

    def move(self, state: Array, step: Array) -> Array:
        return self.linkage.move(state, step)

    def energy(self, state: Array, rows: Rows) -> Energy:
        attitude, force, eliminated = self._eliminate(state, rows)
        newton = eliminated.newton()
        value = (force * attitude).sum((1, 2))
        over = attitude[:, :, 2].min(1) < cos(radians(self.fallen_deg))
        return Energy(value, eliminated.slope, newton.step, newton.along, newton.least, newton.root, over)

    def escape(self, state: Array, rows: Rows) -> Array:
        return self._eliminate(state, rows)[2].escape()

    def _eliminate(self, state: Array, rows: Rows) -> tuple[Array, Array, Elimination]:
        bends = self.linkage.bends(state)
        attitude = self.linkage.attitudes(state, bends)
        floats = self.floats.rows(rows)
        pull, stiffness = floats.pull(attitude.transpose(2, 0, 1), self.water_lb_per_in3[rows])
        force = self.weights[rows] + pull.transpose(1, 2, 0)
        held = (force, stiffness.transpose(2, 3, 0, 1), self.stiffness_lb_per_in[rows])
        return attitude, force, Elimination.of(self.linkage, state, bends, attitude, held)


def starting_height_in(floats: FloatArrays, weight_lb: Array, water_lb_per_in3: Array) -> Array:
    """Where a level group about sits: every float as deep, of its own height, as all weight is to all lift. Inches."""
    lift, level, depth = 0.0, 0.0, 0.0
    for kind in floats.kinds:
        full = kind.lift * kind.size.prod(0)
        lift = lift + full.sum(1)
        level = level + (full * (kind.centre[2] - 0.5 * kind.size[2])).sum(1)
        depth = depth + (full * kind.size[2]).sum(1)
    share = np.clip(weight_lb / (lift * water_lb_per_in3), 0.05, 0.95)
    return -(level + share * depth) / lift
