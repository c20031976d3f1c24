"""Days on which work in the water is allowed: windows of the year, which may cross New Year, and days permits hold."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

ALLOWED, BARRED = "allowed", "barred"
SayDay = Callable[[date], str]
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@dataclass(frozen=True, slots=True)
class DayRange:
    """Days of every year by month and day, first and last included; the last before the first crosses New Year.

    >>> winter = DayRange((11, 1), (2, 15))
    >>> winter.covers(date(2026, 12, 31)), winter.covers(date(2027, 2, 15)), winter.covers(date(2027, 2, 16))
    (True, True, False)
    """

    first: tuple[int, int]
    last: tuple[int, int]

    @property
    def crosses_new_year(self) -> bool:
        return self.last < self.first

    def covers(self, day: date) -> bool:
        here = (day.month, day.day)
        if self.crosses_new_year:
            return here >= self.first or here <= self.last
        return self.first <= here <= self.last

    def __str__(self) -> str:
        return f"{_said(self.first)} to {_said(self.last)}"


@dataclass(frozen=True, slots=True)
class Window:
    """One range of one authority: work only in it (allowed), or not in it (barred)."""

    by: str
    kind: str
    days: DayRange
    note: str = ""
    words: str = ""  # the range as its reader writes days; else day, then month

    @property
    def said(self) -> str:
        return self.words or str(self.days)


@dataclass(frozen=True, slots=True)
class PermitDays:
    """When one authority's permit holds: from its start, else its issue, to its last day, else always."""

    by: str
    issued_on: date | None = None
    starts_on: date | None = None
    expires_on: date | None = None
    needed: bool = True


@dataclass(frozen=True, slots=True)
class DateFault:
    """Why a day cannot be: who says so, a sentence, and what would cure it. `code` tells the kinds apart."""

    by: str
    code: str  # barred, outside, not_issued, not_yet, expired
    day: date
    headline: str
    cure: str

    @property
    def key(self) -> str:
        """What it says, whoever reads it: it changes with the day, the rule and who gave it."""
        return f"date_{self.code}: {self.by}, {self.day.isoformat()}"


def date_faults(
    day: date, *, windows: Iterable[Window] = (), permits: Iterable[PermitDays] = (), say: SayDay = str
) -> tuple[DateFault, ...]:
    """What is against in-water work on a day; nothing where it is allowed.

    Every authority is asked by itself: a barred range bars; one that names allowed ranges allows no other day; a permit
    that is needed holds from its start to its last day, both included. Source: FIRM.
    """
    windows = tuple(windows)
    return (*_barred(day, windows, say), *_outside(day, windows, say), *_permits(day, permits, say))


def _barred(day: date, windows: tuple[Window, ...], say: SayDay) -> Iterable[DateFault]:
    for window in windows:
        if window.kind == BARRED and window.days.covers(day):
            note = f" ({window.note})" if window.note else ""
            headline = f"{window.by}: no work in the water from {window.said}{note}; {say(day)} lies in it."
            yield DateFault(window.by, "barred", day, headline, "Choose a day outside of it, or ask them first.")


def _outside(day: date, windows: tuple[Window, ...], say: SayDay) -> Iterable[DateFault]:
    for by in dict.fromkeys(window.by for window in windows if window.kind == ALLOWED):
        allowed = [window for window in windows if window.by == by and window.kind == ALLOWED]
        if any(window.days.covers(day) for window in allowed):
            continue
        ranges = " or ".join(window.said for window in allowed)
        headline = f"{by}: work in the water only from {ranges}; {say(day)} lies outside."
        yield DateFault(by, "outside", day, headline, "Choose a day inside, or ask them first.")


def _permits(day: date, permits: Iterable[PermitDays], say: SayDay) -> Iterable[DateFault]:
    for permit in permits:
        fault = _permit(day, permit, say) if permit.needed else None
        if fault is not None:
            yield fault


def _permit(day: date, permit: PermitDays, say: SayDay) -> DateFault | None:
    by, start = permit.by, permit.starts_on or permit.issued_on
    if permit.issued_on is None:
        headline = f"{by}: the permit is not issued."
        return DateFault(by, "not_issued", day, headline, "Wait for it, or ask when it comes.")
    if start > day:
        headline = f"{by}: the permit holds from {say(start)}; {say(day)} is before that."
        return DateFault(by, "not_yet", day, headline, "Plan it later, or ask them for an earlier start.")
    if permit.expires_on is not None and permit.expires_on < day:
        headline = f"{by}: the permit ends on {say(permit.expires_on)}; {say(day)} is after that."
        return DateFault(by, "expired", day, headline, "Ask for more time before that day, or plan it sooner.")
    return None


def _said(month_day: tuple[int, int]) -> str:
    return f"{month_day[1]} {MONTHS[month_day[0] - 1]}"
