"""An assembly laid out in arrays, once, for solving many loads; and what the solver hands back in arrays."""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from .buoyancy import FloatArrays, pack_floats
from .geometry import Assembly, Point, RigidBody
from .immersion import Array
from .linkage import Linkage, connected_groups, link

_ORIGIN: Point = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Group:
    """Bodies that hang together: their linkage and floats seen from `origin`, all their lift in cubic inches of
    water, and their plan area in square inches of like worth."""

    linkage: Linkage
    floats: FloatArrays
    origin: Array
    full_lift_in3: float
    plan_in2: float

    @classmethod
    def of(cls, assembly: Assembly, members: list[int]) -> Self:
        bodies = [assembly.bodies[i] for i in members]
        floats = [f for body in bodies for f in body.floats]
        origin = np.array([f.centre for f in floats] or [bodies[0].deck[0]]).mean(0)
        place: Point = (float(origin[0]), float(origin[1]), float(origin[2]))
        linkage = link(assembly, members, place, _reaches_in(bodies))
        lift = sum(f.buoyancy_factor * f.gross_volume_in3 for f in floats)
        plan = sum(f.buoyancy_factor * f.length_in * f.width_in for f in floats)
        return cls(linkage, pack_floats([body.floats for body in bodies], place), origin, lift, plan)


def _reaches_in(bodies: list[RigidBody]) -> Array:
    """About how far an edge moves for one radian: of the root along and across, of the others from their hinge."""
    spans = []
    for body in bodies:
        points = np.array([(x, y) for x, y, _ in body.deck] + [(f.x_in, f.y_in) for f in body.floats])
        spans.append(np.maximum(np.ptp(points, axis=0) / 2, 1.0))
    return np.array([1.0, *spans[0], *(max(span) for span in spans[1:])])


@dataclass(frozen=True, slots=True)
class PreparedDock:
    """`corners` are all deck corners of all bodies, (corners, 3) inches, and `corner_body` whose each one is."""

    assembly: Assembly
    groups: tuple[Group, ...]
    floats: FloatArrays
    corners: Array
    corner_body: NDArray[np.intp]

    @classmethod
    def of(cls, assembly: Assembly) -> Self:
        decks = [body.deck for body in assembly.bodies]
        return cls(
            assembly,
            tuple(Group.of(assembly, members) for members in connected_groups(assembly)),
            pack_floats([body.floats for body in assembly.bodies], _ORIGIN),
            np.array([corner for deck in decks for corner in deck]),
            np.repeat(np.arange(len(decks)), [len(deck) for deck in decks]),
        )

    def deck_heights_in(self, attitude: Array) -> Array:
        """Height of every deck corner above the water, (rows, corners), from attitudes (rows, bodies, 4)."""
        at = attitude[:, self.corner_body]
        return (at[:, :, :3] * self.corners).sum(2) + at[:, :, 3]


@dataclass(frozen=True, slots=True)
class Settled:
    """Rows of loads, solved. attitude: (rows, bodies, 4) from the common origin, meaningless where not afloat.

    severity: 0 floats, 1 awash, 2 capsizes, 3 sinks. lowest_top_in: the lowest corner of any float's top above the
    water; whole_top_in: the highest corner of the top of the float most nearly wholly under.
    gm_in: (rows, 2), across and along, NaN but for one rigid body. steps: of the solver.
    """

    attitude: Array
    severity: NDArray[np.intp]
    lowest_top_in: Array
    whole_top_in: Array
    gm_in: Array
    steps: NDArray[np.intp]

    @property
    def afloat(self) -> NDArray[np.bool_]:
        return self.severity < 2
