"""What a solved case says: inches, pounds, degrees."""

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from .loads import LoadCase


class Outcome(StrEnum):
    """How a dock ends up under a load; nothing else can come out."""

    FLOATS = "floats"
    AWASH = "deck edge awash"
    CAPSIZES = "capsizes"
    SINKS = "sinks"

    @property
    def severity(self) -> int:
        """Worse is more.

        >>> Outcome.SINKS.severity > Outcome.CAPSIZES.severity > Outcome.AWASH.severity > Outcome.FLOATS.severity
        True
        """
        return list(Outcome).index(self)


class CornerLevel(NamedTuple):
    """One deck corner: water to top of deck, and how deep the lowest float bottom of its body lies under it."""

    x_in: float
    y_in: float
    freeboard_in: float
    draft_in: float


class FloatLevel(NamedTuple):
    """One float: what it carries besides itself, what the water holds up, how much of it is wet.

    top_clearance_in is the water to the lowest corner of its top, below zero once that is under;
    draft_in the depth of its lowest point.
    """

    carried_lb: float
    buoyancy_lb: float
    immersed_share: float
    draft_in: float
    top_clearance_in: float


@dataclass(frozen=True, slots=True)
class BodyLevel:
    """One rigid body afloat. Heel is positive with the +y side down, trim with the +x end down; tilt is both together.

    weight_lb is all it carries and is; floats stand in the order they were given, without parts of the frame.
    """

    name: str
    heel_deg: float
    trim_deg: float
    tilt_deg: float
    weight_lb: float
    corners: tuple[CornerLevel, ...]
    floats: tuple[FloatLevel, ...]

    @property
    def least_freeboard_in(self) -> float:
        return min(corner.freeboard_in for corner in self.corners)

    @property
    def least_top_clearance_in(self) -> float:
        return min((f.top_clearance_in for f in self.floats), default=float("inf"))


@dataclass(frozen=True, slots=True)
class Equilibrium:
    """A solved case. `bodies` is empty when the dock sinks or turns over: then there is no attitude to give.

    reserve_lb is what the floats could still carry, spread just so, before all are under (below zero when it sinks).
    gm_across_in and gm_along_in, for heel and for trim, are of a dock of one rigid body only. hinge_lift_lb is the
    weight each hinge hands over from its second body to its first (below zero: from first to second).
    `steps` is how many steps the solver took.
    """

    case: LoadCase
    outcome: Outcome
    weight_lb: float
    reserve_lb: float
    bodies: tuple[BodyLevel, ...] = ()
    gm_across_in: float | None = None
    gm_along_in: float | None = None
    hinge_lift_lb: tuple[float, ...] = ()
    steps: int = 0

    @property
    def least_freeboard_in(self) -> float | None:
        return min((body.least_freeboard_in for body in self.bodies), default=None)

    @property
    def least_top_clearance_in(self) -> float | None:
        return min((body.least_top_clearance_in for body in self.bodies), default=None)

    @property
    def most_tilt_deg(self) -> float | None:
        return max((body.tilt_deg for body in self.bodies), default=None)


@dataclass(frozen=True, slots=True)
class Stage:
    """From `load_factor` times the live load upwards the dock is in this state (or worse); see `loading_stages`."""

    outcome: Outcome
    load_factor: float
    live_lb: float
