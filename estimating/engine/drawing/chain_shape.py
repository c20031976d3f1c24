"""How a chain lies from corner to weight with nothing pulling: hung as a catenary, the rest on the bottom."""

from math import acosh, asinh, cosh, inf, sinh

from estimating.engine.mooring.catenary import hang
from estimating.engine.result import PlacedAnchor

STEPS = 24
SLIM = 1e-9


def chain_points(*, reach_in: float, height_in: float, length_in: float) -> list[tuple[float, float]]:
    """Points from the weight to the corner: how far from the weight, how high above the bottom, inches.

    A chain too short to reach is drawn straight. Source: CATENARY.

    >>> chain_points(reach_in=10.0, height_in=20.0, length_in=40.0)
    [(0.0, 0.0), (10.0, 0.0), (10.0, 20.0)]
    """
    straight = [(0.0, 0.0), (reach_in, height_in)]
    if reach_in < SLIM or height_in < SLIM:
        return straight
    hung = hang(reach=reach_in, height=height_in, length=length_in, weight=1.0)
    a = float(hung.pull_lb)
    if a == inf:
        return straight
    if a < SLIM:
        return [(0.0, 0.0), (reach_in, 0.0), (reach_in, height_in)]
    lifted = a * acosh(1 + height_in / a)
    if lifted <= reach_in:
        rest = reach_in - lifted
        return [(0.0, 0.0), *((rest + u, a * (cosh(u / a) - 1)) for u in _steps(lifted))]
    low = a * asinh(height_in / (2 * a * sinh(reach_in / (2 * a)))) - reach_in / 2
    return [(u, a * (cosh((u + low) / a) - cosh(low / a))) for u in _steps(reach_in)]


def out_in(anchor: PlacedAnchor) -> tuple[float, float]:
    """From its corner to its weight in plan."""
    return anchor.x_in - anchor.corner_x_in, anchor.y_in - anchor.corner_y_in


def _steps(whole: float) -> list[float]:
    return [whole * k / STEPS for k in range(STEPS + 1)]
