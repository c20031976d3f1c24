"""Chains that cross in plan."""

from collections.abc import Sequence
from itertools import combinations

from estimating.engine.result import PlacedAnchor

SLIM = 1e-6


def crossed_chains(anchors: Sequence[PlacedAnchor]) -> tuple[tuple[str, str], ...]:
    """Marks of anchors whose chains cross each other between corner and weight. Source: GEOMETRY."""
    return tuple((one.mark, other.mark) for one, other in combinations(anchors, 2) if _cross(one, other))


def _cross(one: PlacedAnchor, other: PlacedAnchor) -> bool:
    """Each chain's ends lie on either side of the other's line; chains that only meet at an end do not cross."""
    a, b = (one.corner_x_in, one.corner_y_in), (one.x_in, one.y_in)
    c, d = (other.corner_x_in, other.corner_y_in), (other.x_in, other.y_in)
    return _side(a, b, c) * _side(a, b, d) < -SLIM and _side(c, d, a) * _side(c, d, b) < -SLIM


def _side(start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
