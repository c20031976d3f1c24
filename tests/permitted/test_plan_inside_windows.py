"""Days for work in the water. The ranges are in the style of published fish windows: common practice, no source."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.permitted import BARRED, DayRange, PermitDays, Window, date_faults

ALLOWED = "allowed"
SPRING = Window("Fisheries", BARRED, DayRange((4, 1), (6, 30)))
WINTER = Window("Fisheries", BARRED, DayRange((10, 15), (5, 31)))  # eggs laid in autumn hatch in spring
WORKING = Window("Parks office", ALLOWED, DayRange((7, 15), (3, 15)))


def codes(day: date, *windows: Window, permits: tuple[PermitDays, ...] = ()) -> list[str]:
    return [fault.code for fault in date_faults(day, windows=windows, permits=permits)]


@pytest.mark.parametrize(
    ("day", "open_"),
    [
        (date(2026, 3, 31), True),
        (date(2026, 4, 1), False),
        (date(2026, 6, 30), False),
        (date(2026, 7, 1), True),
    ],
)
def test_it_bars_both_ends_of_a_range(day: date, open_: bool) -> None:
    assert codes(day, SPRING) == ([] if open_ else ["barred"])


@pytest.mark.parametrize(
    ("day", "open_"),
    [
        (date(2026, 10, 14), True),
        (date(2026, 10, 15), False),
        (date(2026, 12, 31), False),
        (date(2027, 1, 1), False),
        (date(2028, 2, 29), False),
        (date(2027, 5, 31), False),
        (date(2027, 6, 1), True),
    ],
)
def test_it_bars_a_range_over_new_year(day: date, open_: bool) -> None:
    assert codes(day, WINTER) == ([] if open_ else ["barred"])


@pytest.mark.parametrize(
    ("day", "open_"),
    [
        (date(2026, 7, 14), False),
        (date(2026, 7, 15), True),
        (date(2027, 1, 1), True),
        (date(2027, 3, 15), True),
        (date(2027, 3, 16), False),
    ],
)
def test_it_allows_nothing_outside_an_allowed_range_over_new_year(day: date, open_: bool) -> None:
    assert codes(day, WORKING) == ([] if open_ else ["outside"])


def test_it_asks_every_authority_by_itself() -> None:
    late = Window("Town", ALLOWED, DayRange((9, 1), (9, 30)))
    assert codes(date(2026, 8, 1), WORKING, late, SPRING) == ["outside"]
    assert codes(date(2026, 5, 1), WORKING, late, SPRING) == ["barred", "outside", "outside"]
    both = Window("Parks office", ALLOWED, DayRange((5, 1), (5, 10)))
    assert codes(date(2026, 5, 10), WORKING, both) == []


@pytest.mark.parametrize(
    ("permit", "found"),
    [
        (PermitDays("Town"), ["not_issued"]),
        (PermitDays("Town", needed=False), []),
        (PermitDays("Town", date(2026, 5, 7)), []),
        (PermitDays("Town", date(2026, 5, 8)), ["not_yet"]),
        (PermitDays("Town", date(2026, 4, 1), date(2026, 5, 8)), ["not_yet"]),
        (PermitDays("Town", date(2026, 4, 1), date(2026, 5, 1), date(2026, 5, 7)), []),
        (PermitDays("Town", date(2025, 4, 1), None, date(2026, 5, 6)), ["expired"]),
    ],
)
def test_it_asks_whether_the_permit_holds_that_day(permit: PermitDays, found: list[str]) -> None:
    assert codes(date(2026, 5, 7), permits=(permit,)) == found


def test_it_names_the_rule_and_the_day() -> None:
    (fault,) = date_faults(date(2026, 12, 24), windows=[WINTER], say=lambda day: f"{day:%-d %B %Y}")
    assert fault.headline == ("Fisheries: no work in the water from 15 October to 31 May; 24 December 2026 lies in it.")
    other = date_faults(date(2026, 12, 25), windows=[WINTER])[0]
    assert fault.key != other.key


@given(st.dates(date(2024, 1, 1), date(2032, 12, 31)), st.integers(0, 365), st.integers(0, 365))
def test_it_opens_on_exactly_the_days_that_are_not_barred(day: date, first: int, last: int) -> None:
    start, end = (date(2024, 1, 1) + timedelta(days) for days in (first, last))
    days = DayRange((start.month, start.day), (end.month, end.day))
    barred = codes(day, Window("Town", BARRED, days))
    allowed = codes(day, Window("Town", ALLOWED, days))
    assert bool(barred) != bool(allowed)
    assert codes(end, Window("Town", BARRED, days)) == codes(start, Window("Town", BARRED, days)) == ["barred"]
