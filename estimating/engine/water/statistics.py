"""What a series says of a year: percentiles by month, the season's highest and lowest, levels to propose."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from .series import Season, Series

AROUND_DAYS = 7


@dataclass(frozen=True, slots=True)
class MonthLevels:
    """One month over all years: how many readings, the lowest, the highest, and the percentiles asked for, inches."""

    month: int
    count: int
    lowest_in: float
    highest_in: float
    levels_in: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Envelope:
    """Between which levels the water stood in the season, over all years, inches on the gauge."""

    lowest_in: float
    lowest_on: date
    highest_in: float
    highest_on: date
    years: int
    count: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """Low, normal and high water as percentiles of a season's readings, inches on the gauge."""

    low_in: float
    normal_in: float
    high_in: float
    percents: tuple[float, float, float]
    count: int


def by_month(series: Series, percents: Sequence[float], zone: ZoneInfo) -> tuple[MonthLevels, ...]:
    """Percentiles of each month that has readings, linear between readings; flagged readings are left out.

    Source: STATISTICS.
    """
    series = series.trusted()
    months = _months(series.local_days(zone))
    return tuple(
        MonthLevels(
            month,
            len(levels),
            float(levels.min()),
            float(levels.max()),
            tuple(float(level) for level in np.percentile(levels, percents)),
        )
        for month in range(1, 13)
        if len(levels := series.level_in[months == month])
    )


def envelope(series: Series, season: Season | None, zone: ZoneInfo) -> Envelope | None:
    """The lowest and highest in the season, with their days; None where nothing was read in it."""
    inside, days = _in_season(series, season, zone)
    if not len(inside):
        return None
    low, high = int(inside.level_in.argmin()), int(inside.level_in.argmax())
    years = days.astype("datetime64[Y]")
    return Envelope(
        float(inside.level_in[low]),
        days[low].item(),
        float(inside.level_in[high]),
        days[high].item(),
        len(np.unique(years)),
        len(inside),
    )


def propose(
    series: Series, percents: tuple[float, float, float], season: Season | None, zone: ZoneInfo
) -> Proposal | None:
    """Low, normal and high at these percentiles of the season; None where nothing was read in it.

    Raises ValueError unless the percentiles are between 0 and 100 and rise. Source: STATISTICS.
    """
    low, normal, high = percents
    if not 0 <= low <= normal <= high <= 100:
        raise ValueError("Percentiles lie between 0 and 100: low, then normal, then high.")
    inside, _ = _in_season(series, season, zone)
    if not len(inside):
        return None
    levels = (float(level) for level in np.percentile(inside.level_in, percents))
    return Proposal(*levels, percents, len(inside))


def day_mean_in(series: Series, day: date, zone: ZoneInfo) -> float | None:
    """The mean of a day's readings, inches; None for a day without any. Flagged readings are left out."""
    levels = series.trusted().on_day(day, zone).level_in
    return float(levels.mean()) if len(levels) else None


def usual_level_in(series: Series, day: date, zone: ZoneInfo) -> float | None:
    """The median of all years' readings within a week of this day of the year; None where there are none."""
    ends = (day - timedelta(days=AROUND_DAYS), day + timedelta(days=AROUND_DAYS))
    first, last = ((end.month, end.day) for end in ends)
    inside, _ = _in_season(series, Season(first, last), zone)
    return float(np.median(inside.level_in)) if len(inside) else None


def _in_season(series: Series, season: Season | None, zone: ZoneInfo) -> tuple[Series, np.ndarray]:
    series = series.trusted()
    days = series.local_days(zone)
    if season is None:
        return series, days
    day_of_month = (days - days.astype("datetime64[M]")).astype(np.int64) + 1
    inside = season.holds(_months(days), day_of_month)
    return series.only(inside), days[inside]


def _months(days: np.ndarray) -> np.ndarray:
    return days.astype("datetime64[M]").astype(np.int64) % 12 + 1
