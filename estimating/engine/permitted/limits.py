"""The numbers one authority sets, and where the side lines run."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PermitLimits:
    """What a dock may be at most, or must keep at least; `by` names who says so. None: no such limit is known."""

    by: str
    most_width_in: float | None = None
    most_area_sqft: float | None = None
    most_reach_in: float | None = None
    most_walkway_width_in: float | None = None
    least_setback_in: float | None = None
    least_clearance_in: float | None = None
    least_deck_open_percent: float | None = None


@dataclass(frozen=True, slots=True)
class SideLines:
    """How far it is from the middle of the landing to each side line, extended over the water; None is unknown.

    Left and right are those of someone looking out. One side and the frontage give the other.
    """

    left_in: float | None = None
    right_in: float | None = None
    frontage_in: float | None = None

    @property
    def to_left_in(self) -> float | None:
        return self._side(self.left_in, self.right_in)

    @property
    def to_right_in(self) -> float | None:
        return self._side(self.right_in, self.left_in)

    def _side(self, own: float | None, other: float | None) -> float | None:
        if own is not None or other is None or self.frontage_in is None:
            return own
        return self.frontage_in - other
