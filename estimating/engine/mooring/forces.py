"""What wind, current and waves do: one formula each, with its source. Pounds, square feet, mph, knots, miles."""

from dataclasses import dataclass
from math import sqrt

WIND_PSF_PER_MPH2 = 0.00256
FT_PER_S_PER_KN = 1.688
GRAVITY_FT_S2, GRAVITY_M_S2 = 32.174, 9.81
TOUCHING = 3.2  # current coefficient where the keel touches the bottom
SHALLOW_POWER = 2.0
M_S_PER_MPH, M_PER_MI, IN_PER_M = 0.44704, 1609.344, 1 / 0.0254
HEIGHT_LIMIT, PERIOD_LIMIT = 211.5, 239.8
# Wave height, inches, up to which a place is called so.
EXPOSURES = ((6.0, "sheltered"), (12.0, "moderate"), (24.0, "exposed"))


def wind_psf(speed_mph: float) -> float:
    """Pressure of wind on a flat face, psf: q = 0.00256 V². Raises ValueError below zero. Source: WIND_PRESSURE.

    >>> round(wind_psf(60), 2), round(wind_psf(100), 2)
    (9.22, 25.6)
    """
    return WIND_PSF_PER_MPH2 * _not_below(speed_mph) ** 2


def wind_lb(*, speed_mph: float, area_sqft: float, drag: float) -> float:
    """Push of wind on an area, pounds: q C A. Raises ValueError below zero. Source: WIND_PRESSURE.

    >>> round(wind_lb(speed_mph=60, area_sqft=40, drag=1.3))
    479
    """
    return wind_psf(speed_mph) * _not_below(area_sqft) * _not_below(drag)


def current_psf(speed_kn: float, *, water_lb_per_cuft: float = 62.4) -> float:
    """Pressure of running water, psf: ½ρV². Raises ValueError below zero. Source: CURRENT_PRESSURE.

    >>> round(current_psf(1), 2)
    2.76
    """
    return water_lb_per_cuft / GRAVITY_FT_S2 / 2 * (_not_below(speed_kn) * FT_PER_S_PER_KN) ** 2


def shallow_drag(*, drag: float, draft_in: float, depth_in: float) -> float:
    """Current coefficient in shallow water: C = C0 + (C1 − C0)(T/d)², C1 = 3.2 where the float touches the bottom.

    Less depth than draft counts as touching; a C0 over 3.2 stays as it is. Raises ValueError below zero.
    Source: UFC_4_159_03, for ships across a current; taken here for floats.

    >>> round(shallow_drag(drag=0.85, draft_in=1, depth_in=2), 4), shallow_drag(drag=1.5, draft_in=12, depth_in=6)
    (1.4375, 3.2)
    """
    if _not_below(drag) >= TOUCHING:
        return drag
    share = 1.0 if depth_in <= draft_in else _not_below(draft_in) / depth_in
    return drag + (TOUCHING - drag) * share**SHALLOW_POWER


def current_lb(*, speed_kn: float, area_sqft: float, drag: float, water_lb_per_cuft: float = 62.4) -> float:
    """Push of running water on an area, pounds. Raises ValueError below zero. Source: CURRENT_PRESSURE.

    >>> round(current_lb(speed_kn=2 / 1.688, area_sqft=8, drag=1.5), 1)
    46.5
    """
    pressure = current_psf(speed_kn, water_lb_per_cuft=water_lb_per_cuft)
    return pressure * _not_below(area_sqft) * _not_below(drag)


@dataclass(frozen=True, slots=True)
class Waves:
    """Waves that wind raises over open water, deep, blowing long enough: significant height and peak period."""

    height_in: float
    period_s: float

    @property
    def exposure(self) -> str:
        """sheltered to 6 in, moderate to 1 ft, exposed to 2 ft, open over that. Source: COMMON_PRACTICE."""
        return next((name for limit, name in EXPOSURES if self.height_in <= limit), "open")


def waves(*, wind_mph: float, fetch_mi: float) -> Waves:
    """Waves limited by fetch: gH/u*² = 0.0413 (gX/u*²)^½, gT/u* = 0.751 (gX/u*²)^⅓, u*² = 0.001 (1.1 + 0.035 U) U².

    Wind at 10 m. Raises ValueError below zero. Source: CEM_WAVES. The older Shore Protection Manual (1984) gives 20 to
    30 % more; other printings of the CEM have 0.651 in the period, with which its own example does not come out.

    >>> sea = waves(wind_mph=10 / 0.44704, fetch_mi=1000 / 1609.344)
    >>> round(sea.height_in * 0.0254, 3), round(sea.period_s, 2), sea.exposure
    (0.159, 1.19, 'moderate')
    """
    speed, fetch = _not_below(wind_mph) * M_S_PER_MPH, _not_below(fetch_mi) * M_PER_MI
    friction2 = 0.001 * (1.1 + 0.035 * speed) * speed * speed
    if friction2 == 0 or fetch == 0:
        return Waves(0.0, 0.0)
    apart = GRAVITY_M_S2 * fetch / friction2
    height = min(0.0413 * sqrt(apart), HEIGHT_LIMIT) * friction2 / GRAVITY_M_S2
    period = min(0.751 * apart ** (1 / 3), PERIOD_LIMIT) * sqrt(friction2) / GRAVITY_M_S2
    return Waves(height * IN_PER_M, period)


def _not_below(value: float) -> float:
    if not value >= 0:
        raise ValueError("speeds, areas, coefficients and distances are zero or more")
    return value
