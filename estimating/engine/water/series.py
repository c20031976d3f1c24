"""Readings of one gauge as arrays: when, how high, and what the gauge's keeper says against them."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

PRELIMINARY, FLAGGED = 1, 2
MINUTES_A_DAY = 1440
EPOCH = datetime(1970, 1, 1)


@dataclass(frozen=True, slots=True)
class Season:
    """Days of the year from the first to the last, both in it; it may run over New Year."""

    first: tuple[int, int]  # month, day
    last: tuple[int, int]

    def holds(self, month: np.ndarray, day: np.ndarray) -> np.ndarray:
        """Which of these days of the year are in the season.

        >>> Season((11, 1), (3, 31)).holds(np.array([12, 7]), np.array([31, 1])).tolist()
        [True, False]
        """
        key = month * 100 + day
        first, last = (m * 100 + d for m, d in (self.first, self.last))
        if first <= last:
            return (first <= key) & (key <= last)
        return (key >= first) | (key <= last)


@dataclass(frozen=True, slots=True)
class Series:
    """Readings in order of time: minutes since 1970 in UTC, levels in inches above the gauge's zero, flags as bits."""

    at_min: np.ndarray  # int64
    level_in: np.ndarray  # float64
    flags: np.ndarray  # uint8: PRELIMINARY, FLAGGED

    def __len__(self) -> int:
        return len(self.at_min)

    @classmethod
    def empty(cls) -> "Series":
        return cls(np.empty(0, np.int64), np.empty(0), np.empty(0, np.uint8))

    def trusted(self) -> "Series":
        """Without what the gauge's keeper flagged as doubtful or as an estimate."""
        good = (self.flags & FLAGGED) == 0
        return self if good.all() else self.only(good)

    def only(self, chosen: np.ndarray) -> "Series":
        return Series(self.at_min[chosen], self.level_in[chosen], self.flags[chosen])

    def with_newer(self, newer: "Series") -> "Series":
        """Both together; where both have a reading for one minute the newer one stands."""
        at = np.concatenate((newer.at_min, self.at_min))
        order = np.argsort(at, kind="stable")
        at = at[order]
        first = np.concatenate(([True], at[1:] != at[:-1])) if len(at) else np.empty(0, bool)
        kept = order[first]
        level = np.concatenate((newer.level_in, self.level_in))[kept]
        return Series(at[first], level, np.concatenate((newer.flags, self.flags))[kept])

    def local_days(self, zone: ZoneInfo) -> np.ndarray:
        """The day of each reading where the gauge stands, as numpy days.

        Days turn at the zone's standard time: an hour of daylight saving moves no reading by a month that matters.
        """
        return (self.at_min + standard_offset_min(zone)).astype("datetime64[m]").astype("datetime64[D]")

    def on_day(self, day: date, zone: ZoneInfo) -> "Series":
        """The readings of one day, midnight to midnight on the clocks of the place."""
        ends = (day, day + timedelta(days=1))
        first, after = (int(datetime(*end.timetuple()[:3], tzinfo=zone).timestamp() // 60) for end in ends)
        low, high = np.searchsorted(self.at_min, (first, after))
        return self.only(slice(low, high))


def standard_offset_min(zone: ZoneInfo) -> int:
    """Minutes the zone's standard time is ahead of UTC; daylight saving left out."""
    moments = (datetime(2025, 1, 1, tzinfo=zone), datetime(2025, 7, 1, tzinfo=zone))
    return min(int(moment.utcoffset().total_seconds() // 60) for moment in moments)
