"""Working days, days of cancellation, and ranges of the year that may cross New Year."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

ONE_DAY = timedelta(days=1)
SATURDAY, SUNDAY = 6, 7
FURTHEST = 800  # days looked ahead: two years and a season


@dataclass(frozen=True, slots=True)
class WorkDays:
    """Days on which work is done: a week by ISO weekday (1 is Monday), less holidays."""

    week: frozenset[int] = frozenset({1, 2, 3, 4, 5})
    holidays: Container[date] = field(default_factory=frozenset)

    def works(self, day: date) -> bool:
        return day.isoweekday() in self.week and day not in self.holidays

    def next_from(self, day: date) -> date:
        """This day if it is worked, else the first one after it that is. Raises ValueError where none ever is."""
        for step in range(FURTHEST):
            if self.works(day + step * ONE_DAY):
                return day + step * ONE_DAY
        raise ValueError("No day of the week is worked.")

    def after(self, day: date) -> date:
        """The first working day later than this one."""
        return self.next_from(day + ONE_DAY)

    def span(self, first: date, days: int) -> tuple[date, ...]:
        """So many working days from this one on."""
        found: list[date] = []
        day = first
        while len(found) < max(days, 1):
            day = self.next_from(day)
            found.append(day)
            day += ONE_DAY
        return tuple(found)

    def back(self, day: date, days: int) -> date:
        """So many working days before this one."""
        for _ in range(days):
            day -= ONE_DAY
            while not self.works(day):
                day -= ONE_DAY
        return day


@dataclass(frozen=True, slots=True)
class CancellationRule:
    """How long a signed contract may be cancelled: so many days, counted as business days or as they come."""

    days: int = 0
    business: bool = True
    saturdays_count: bool = True


def cancellation_ends(signed_on: date, rule: CancellationRule, holidays: Container[date]) -> date | None:
    """The last day on which the customer may cancel; work may start the day after. None where there is no such right.

    The day of signing does not count. A business day is any day but Sunday and a holiday; Saturdays as the rule says.
    Source: COOLING_OFF (16 CFR 429.0 and 429.1).

    >>> cancellation_ends(date(2026, 7, 1), CancellationRule(3), {date(2026, 7, 3)})  # a Wednesday
    datetime.date(2026, 7, 6)
    """
    if rule.days <= 0:
        return None
    if not rule.business:
        return signed_on + rule.days * ONE_DAY
    day, left = signed_on, rule.days
    while left:
        day += ONE_DAY
        left -= _is_business(day, rule, holidays)
    return day


def _is_business(day: date, rule: CancellationRule, holidays: Container[date]) -> bool:
    weekday = day.isoweekday()
    return weekday != SUNDAY and (weekday != SATURDAY or rule.saturdays_count) and day not in holidays


@dataclass(frozen=True, slots=True)
class YearRange:
    """Days of every year, both ends included, on which in-water work is allowed or barred; may cross New Year."""

    allowed: bool
    first: tuple[int, int]  # month, day
    last: tuple[int, int]
    of: str = ""  # who says so

    def covers(self, day: date) -> bool:
        here = (day.month, day.day)
        if self.last < self.first:
            return here >= self.first or here <= self.last
        return self.first <= here <= self.last


def inside_windows(day: date, windows: Sequence[YearRange]) -> bool:
    """Whether in-water work may be done on this day: in an allowed range of each who gives any, and no barred one."""
    if any(not window.allowed and window.covers(day) for window in windows):
        return False
    givers = {window.of for window in windows if window.allowed}
    return all(
        any(window.allowed and window.of == giver and window.covers(day) for window in windows) for giver in givers
    )


def days_from(day: date, count: int = FURTHEST) -> Iterator[date]:
    return (day + step * ONE_DAY for step in range(count))
