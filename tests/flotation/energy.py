"""The energy of a dock under a load, and where the solver says it is least, for tests that look around there."""

from collections.abc import Iterator

import numpy as np

from estimating.engine.flotation.descent import descend
from estimating.engine.flotation.geometry import Assembly
from estimating.engine.flotation.landscape import FloatingGroup, starting_height_in
from estimating.engine.flotation.loads import LoadCase, dead_weights, live_weights
from estimating.engine.flotation.prepared import PreparedDock


def energy_of(assembly: Assembly, case: LoadCase) -> Iterator[tuple[FloatingGroup, np.ndarray]]:
    """Of every connected group its energy, as one row, and the state it settles in."""
    weights = (dead_weights(assembly, case) + live_weights(assembly, case.live))[None]
    water = np.array([case.water.lb_per_in3])
    for group in PreparedDock.of(assembly).groups:
        own = weights[:, group.linkage.members]
        own[:, :, :3] -= own[:, :, 3:] * group.origin
        land = FloatingGroup(group.linkage, group.floats, own, water, water * group.plan_in2)
        start = group.linkage.start(starting_height_in(group.floats, own[:, :, 3].sum(1), water))
        yield land, descend(land, start).state
