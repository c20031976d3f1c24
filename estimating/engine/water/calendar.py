"""A calendar of levels: what the water is meant to stand at on some days of every year, and between them."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class CalendarRow:
    """A level on a day of every year, inches on the site's datum."""

    month: int
    day: int
    level_in: float

    def in_year(self, year: int) -> date:
        """The day in that year; 29 February falls on 1 March where there is none."""
        try:
            return date(year, self.month, self.day)
        except ValueError:
            return date(year, 3, 1)


def calendar_level_in(rows: Sequence[CalendarRow], on: date) -> float | None:
    """The level on a day, on a straight line between the rows before and after it, over New Year too.

    None where the calendar has no row. Raises ValueError for a row that is no day of any year, like 31 April.
    Source: GEOMETRY.

    >>> pool = [CalendarRow(4, 1, 240.0), CalendarRow(12, 1, 0.0)]
    >>> calendar_level_in(pool, date(2026, 4, 1)), calendar_level_in(pool, date(2026, 8, 1))
    (240.0, 120.0)
    """
    if not rows:
        return None
    for row in rows:
        date(2024, row.month, row.day)
    leap_day_last = sorted(rows, key=lambda row: (row.month, row.day) == (2, 29))
    known: dict[date, float] = {}
    for year in (on.year - 1, on.year, on.year + 1):
        for row in leap_day_last:
            known.setdefault(row.in_year(year), row.level_in)
    days = sorted(known)
    after = bisect_right(days, on)
    first, last = days[after - 1], days[after]
    share = (on - first).days / (last - first).days
    return known[first] + (known[last] - known[first]) * share
