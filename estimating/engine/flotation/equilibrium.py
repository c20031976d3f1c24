"""How a dock floats under a load: sinkage, heel and trim of every body together, at any angle.

The equilibrium is the least of the potential energy of all weights and the water, found by walking down from the
level dock (`descent`), so that a dock that cannot stand goes where it would go. Whoever has too much weight for his
floats sinks; a body leaning more than `capsize_deg` has capsized; with a deck corner under water the deck is awash.
Only floats are buoyant. Sources: ARCHIMEDES, GEOMETRY; the capsizing angle is common sense, nobody stands there.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from .descent import descend
from .figures import describe
from .geometry import Assembly
from .immersion import Array
from .landscape import FloatingGroup, starting_height_in
from .loads import LoadCase, dead_weights, live_weights
from .prepared import Group, PreparedDock, Settled
from .results import Equilibrium

CAPSIZE_DEG = 45.0

_AWASH, _CAPSIZES, _SINKS = 1, 2, 3


class DockAfloat:
    """An assembly made ready for solving many load cases.

    >>> from estimating.engine.flotation.geometry import FloatBody, Mass, RigidBody
    >>> deck = ((0., 0., 20.), (100., 0., 20.), (100., 50., 20.), (0., 50., 20.))
    >>> raft = RigidBody("raft", (FloatBody(100, 50, 20, 50, 25),), Mass(1000, 50, 25, 10), deck)
    >>> [dead] = DockAfloat(Assembly((raft,))).solve([LoadCase("dead")])
    >>> dead.outcome.value, round(dead.bodies[0].corners[0].draft_in, 3)
    ('floats', 5.538)
    """

    def __init__(self, assembly: Assembly, *, capsize_deg: float = CAPSIZE_DEG):
        self.prepared = PreparedDock.of(assembly)
        self._least_upright = float(np.cos(np.radians(capsize_deg)))

    @property
    def assembly(self) -> Assembly:
        return self.prepared.assembly

    def solve(self, cases: Sequence[LoadCase]) -> tuple[Equilibrium, ...]:
        """The equilibrium of every case, all worked out together. Raises FlotationInputError, DidNotSettle."""
        if not cases:
            return ()
        weights = np.stack([dead_weights(self.assembly, c) + live_weights(self.assembly, c.live) for c in cases])
        water = np.array([case.water.lb_per_in3 for case in cases])
        return describe(self.prepared, cases, weights[:, :, 3], water, self.settle(weights, water))

    def settle(self, weights: Array, water_lb_per_in3: Array) -> Settled:
        """Solve rows given as arrays: weights (rows, bodies, 4) as from `dead_weights`. Raises DidNotSettle."""
        rows, bodies = weights.shape[:2]
        attitude = np.tile([0.0, 0.0, 1.0, 0.0], (rows, bodies, 1))
        severity, steps = np.zeros((2, rows), dtype=np.intp)
        gm = np.full((rows, 2), np.nan)
        settled = Settled(attitude, severity, np.empty(rows), np.empty(rows), gm, steps)
        for group in self.prepared.groups:
            own = weights[:, group.linkage.members]
            own[:, :, :3] -= own[:, :, 3:] * group.origin
            sunk = own[:, :, 3].sum(1) >= group.full_lift_in3 * water_lb_per_in3
            severity[sunk] = _SINKS
            rest = np.flatnonzero(~sunk)
            if len(rest):
                self._settle_group(group, own[rest], water_lb_per_in3[rest], rest, settled)
        return self._judged(settled)

    def _settle_group(self, group: Group, own: Array, water: Array, rest: NDArray[np.intp], settled: Settled) -> None:
        linkage = group.linkage
        land = FloatingGroup(linkage, group.floats, own, water, water * group.plan_in2)
        arrival = descend(land, linkage.start(starting_height_in(group.floats, own[:, :, 3].sum(1), water)))
        found = linkage.attitudes(arrival.state)
        found[:, :, 3] -= found[:, :, :3] @ group.origin
        settled.attitude[np.ix_(rest, linkage.members)] = found
        over = rest[arrival.over]
        settled.severity[over] = np.maximum(settled.severity[over], _CAPSIZES)
        settled.steps[rest] = np.maximum(settled.steps[rest], arrival.steps)
        if len(self.assembly.bodies) == 1:
            settled.gm_in[rest] = metacentric_heights_in(arrival.curvature, linkage.reach_in, own[:, 0, 3])

    def _judged(self, settled: Settled) -> Settled:
        severity = settled.severity
        leaning = (settled.attitude[:, :, 2] < self._least_upright).any(1)
        severity[leaning & (severity < _CAPSIZES)] = _CAPSIZES
        wet = self.prepared.deck_heights_in(settled.attitude).min(1) <= 0
        severity[wet & (severity < _AWASH)] = _AWASH
        tops = self.prepared.floats.extremes_in(settled.attitude.transpose(2, 0, 1))
        settled.lowest_top_in[:], settled.whole_top_in[:] = tops[0].min(1), tops[1].min(1)
        return settled


def metacentric_heights_in(curvature: Array, reach_in: Array, weight_lb: Array) -> Array:
    """GM across and along of one rigid body, (rows, 2), inches: its stiffness in heel and in trim, by its weight.

    It is free to heave. For a level dock this is KB + BM - KG; leaning, it is the slope of the righting arm there.
    NaN without weight.
    """
    weight = np.where(weight_lb > 0, weight_lb, np.nan)
    heave = np.where(curvature[:, 0, 0] > 0, curvature[:, 0, 0], np.inf)
    stiffness = [curvature[:, i, i] - curvature[:, 0, i] ** 2 / heave for i in (2, 1)]
    return np.stack(stiffness, axis=1) * reach_in[[2, 1]] ** 2 / weight[:, None]
