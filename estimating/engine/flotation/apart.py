"""Many single bodies, each on floats of its own, solved together: sections unhinged, or layouts to choose among."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from .buoyancy import FloatArrays, pack_rows
from .descent import descend
from .equilibrium import DockAfloat
from .geometry import FloatBody
from .immersion import Array
from .landscape import FALLEN_DEG, FloatingGroup, starting_height_in
from .linkage import Linkage
from .loads import LoadCase, dead_weights, live_weights


@dataclass(frozen=True, slots=True)
class Apart:
    """Float arrangements, one a row: packed floats, the origin, lift (in3 of water) and plan area (in2) of each."""

    floats: FloatArrays
    origins: Array
    lift_in3: Array
    plan_in2: Array

    @classmethod
    def of(cls, arrangements: Sequence[Sequence[FloatBody]]) -> Self:
        """Pack arrangements of one float or more."""
        origins = np.array([np.mean([f.centre for f in floats], axis=0) for floats in arrangements])
        lift = [sum(f.buoyancy_factor * f.gross_volume_in3 for f in floats) for floats in arrangements]
        plan = [sum(f.buoyancy_factor * f.length_in * f.width_in for f in floats) for floats in arrangements]
        return cls(pack_rows(arrangements, origins), origins, np.array(lift), np.array(plan))

    def rows(self, rows: NDArray[np.intp]) -> Self:
        """These arrangements, again and again as often as `rows` names them."""
        return type(self)(self.floats.rows(rows), self.origins[rows], self.lift_in3[rows], self.plan_in2[rows])


@dataclass(frozen=True, slots=True)
class SettledApart:
    """attitude: (rows, 4) from the common origin; afloat: neither sunk nor turned over (at any lean short of that)."""

    attitude: Array
    afloat: NDArray[np.bool_]


def settle_apart(
    apart: Apart,
    weights: Array,
    water_lb_per_in3: Array,
    reach_in: tuple[float, float],
    *,
    fallen_deg: float = FALLEN_DEG,
) -> SettledApart:
    """Solve every row: weights (rows, 4), weight times place, and weight; reach_in about half the length and width.

    A row that leans beyond `fallen_deg` on its way is given up as turned over. Raises DidNotSettle.
    """
    attitude = np.tile([0.0, 0.0, 1.0, 0.0], (len(weights), 1))
    afloat = weights[:, 3] < apart.lift_in3 * water_lb_per_in3
    rows = np.flatnonzero(afloat)
    if not len(rows):
        return SettledApart(attitude, afloat)
    chosen, own, water = apart.rows(rows), weights[rows], water_lb_per_in3[rows]
    own[:, :3] -= own[:, 3:] * chosen.origins
    linkage = Linkage((0,), (), (), np.array([1.0, *reach_in]))
    land = FloatingGroup(linkage, chosen.floats, own[:, None], water, water * chosen.plan_in2, fallen_deg)
    arrival = descend(land, linkage.start(starting_height_in(chosen.floats, own[:, 3], water)))
    found = linkage.attitudes(arrival.state)[:, 0]
    found[:, 3] -= (found[:, :3] * chosen.origins).sum(1)
    attitude[rows] = found
    afloat[rows] &= ~arrival.over
    return SettledApart(attitude, afloat)


@dataclass(frozen=True, slots=True)
class HingeStep:
    """How far out of line a hinge would be, its sections floating each for itself: second above first, inches, at the
    two ends of the hinge line. Both None if one of the two would not float by itself."""

    start_in: float | None
    end_in: float | None


def hinge_misalignments(dock: DockAfloat, case: LoadCase) -> tuple[HingeStep, ...]:
    """The step at every hinge if its sections were not joined, each under its own share of the case.

    A hinge takes this out by force: compare it with the play of the hinge. Raises FlotationInputError, DidNotSettle.
    """
    assembly = dock.assembly
    if not assembly.hinges:
        return ()
    weights = dead_weights(assembly, case) + live_weights(assembly, case.live)
    bearing = [i for i, body in enumerate(assembly.bodies) if body.floats]
    water = np.full(len(bearing), case.water.lb_per_in3)
    spans = np.array([np.ptp(np.array(body.deck)[:, :2], axis=0) / 2 for body in assembly.bodies])
    along, across = np.maximum(spans.mean(0), 1.0).tolist()
    apart = Apart.of([assembly.bodies[i].floats for i in bearing])
    settled = settle_apart(apart, weights[bearing], water, (along, across))
    attitudes = {body: settled.attitude[row] for row, body in enumerate(bearing) if settled.afloat[row]}
    return tuple(
        HingeStep(*(_step(attitudes.get(hinge.first), attitudes.get(hinge.second), end) for end in hinge.ends))
        for hinge in assembly.hinges
    )


def _step(first: Array | None, second: Array | None, point: tuple[float, float, float]) -> float | None:
    if first is None or second is None:
        return None
    return float((second - first) @ np.array([*point, 1.0]))
