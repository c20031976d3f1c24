"""Load cases: what stands on the dock, in which water, under a plain name."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from .geometry import FRESH, Assembly, FlotationInputError, Mass, PointLoad, WaterDensity
from .immersion import Array


class CaseKind(StrEnum):
    """What a case is for, so that a criterion can find it."""

    DEAD = "dead"
    SPREAD = "spread"
    HALF = "half the deck"
    EDGE = "people at one edge"
    END = "people at one end"
    POINT = "one heavy load"
    FINGER_END = "a load near a free end"
    RAMP = "ramp full"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class LoadCase:
    """A load case.

    `standing` is always there (a ramp's own weight, a locker); `live` comes and goes, and is what a load factor
    multiplies. `frames`, if given, replaces the frame weight of every body, one Mass a body (wet or seasoned lumber).
    """

    name: str
    live: tuple[PointLoad, ...] = ()
    standing: tuple[PointLoad, ...] = ()
    frames: tuple[Mass, ...] | None = None
    water: WaterDensity = FRESH
    kind: CaseKind = CaseKind.OTHER

    def scaled(self, factor: float) -> "LoadCase":
        """The same case under `factor` times its live load.

        >>> LoadCase("one man", (PointLoad(0, 175, 0, 0, 0),)).scaled(2).live[0].weight_lb
        350
        """
        return replace(self, live=tuple(replace(load, weight_lb=load.weight_lb * factor) for load in self.live))


def dead_weights(assembly: Assembly, case: LoadCase) -> Array:
    """Weight times place, and weight, of all that is always there: (bodies, 4), in-lb and lb.

    Raises FlotationInputError if the case's frames are not one a body, or a load stands on no body.
    """
    frames = case.frames if case.frames is not None else tuple(body.frame for body in assembly.bodies)
    if len(frames) != len(assembly.bodies):
        raise FlotationInputError("frames", f"{case.name} gives {len(frames)} frames for {len(assembly.bodies)} bodies")
    placed = [(i, m.weight_lb, m.x_in, m.y_in, m.z_in) for i, m in enumerate(frames)]
    placed += [(i, f.own_weight_lb, *f.centre) for i, body in enumerate(assembly.bodies) for f in body.floats]
    return _summed(placed, len(frames)) + live_weights(assembly, case.standing)


def live_weights(assembly: Assembly, loads: tuple[PointLoad, ...]) -> Array:
    """Weight times place, and weight, of these loads: (bodies, 4). Raises FlotationInputError for an unknown body."""
    bodies = len(assembly.bodies)
    for load in loads:
        if not 0 <= load.body < bodies:
            raise FlotationInputError("body", f"a load stands on body {load.body}; there are {bodies}")
    return _summed([(load.body, load.weight_lb, load.x_in, load.y_in, load.z_in) for load in loads], bodies)


def _summed(placed: list[tuple[float, ...]], bodies: int) -> Array:
    total = [[0.0, 0.0, 0.0, 0.0] for _ in range(bodies)]
    for body, weight, x, y, z in placed:
        row = total[int(body)]
        row[0] += weight * x
        row[1] += weight * y
        row[2] += weight * z
        row[3] += weight
    return np.array(total)
