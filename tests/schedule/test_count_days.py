"""Days of cancellation, working days, holidays, and ranges of the year that cross New Year."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.schedule.gates import CancellationRule, WorkDays, YearRange, cancellation_ends, inside_windows
from jobs.schedule.models import ScheduleRules
from jobs.schedule.services.shop import holidays_around, named_holidays

DAYS = st.dates(date(2024, 1, 1), date(2032, 12, 31))
US = named_holidays("US", "", 2026) | named_holidays("US", "", 2027)
THREE = CancellationRule(3)


# 16 CFR 429.0(f) and 429.1: midnight of the third business day; Saturdays count, Sundays and federal holidays do not.
@pytest.mark.parametrize(
    ("signed", "last"),
    [
        (date(2026, 6, 1), date(2026, 6, 4)),  # a Monday: Tuesday, Wednesday, Thursday
        (date(2026, 6, 4), date(2026, 6, 8)),  # a Thursday: Friday, Saturday, Monday
        (date(2026, 6, 5), date(2026, 6, 9)),  # a Friday: Saturday, Monday, Tuesday
        (date(2026, 9, 4), date(2026, 9, 9)),  # before Labor Day: Saturday, Tuesday, Wednesday
        (date(2026, 12, 30), date(2027, 1, 4)),  # over New Year: Thursday, Saturday, Monday
    ],
)
def test_it_ends_the_time_to_cancel_on_the_third_business_day(signed, last):
    assert cancellation_ends(signed, THREE, US) == last


def test_it_counts_calendar_days_where_the_rule_does():
    # Ontario Consumer Protection Act, 2002, s. 43: ten days after a copy was received.
    assert cancellation_ends(date(2026, 12, 28), CancellationRule(10, business=False), US) == date(2027, 1, 7)
    assert cancellation_ends(date(2026, 6, 4), CancellationRule(3, saturdays_count=False), US) == date(2026, 6, 9)
    assert cancellation_ends(date(2026, 6, 4), CancellationRule(0), US) is None


@given(DAYS, st.integers(1, 15), st.booleans())
def test_it_never_ends_on_a_sunday_and_leaves_every_business_day(signed, days, saturdays):
    last = cancellation_ends(signed, CancellationRule(days, saturdays_count=saturdays), US)
    assert last.isoweekday() != 7 and last not in US
    between = [signed + timedelta(days=n) for n in range(1, (last - signed).days + 1)]
    counted = [d for d in between if d.isoweekday() < 6 + saturdays and d not in US]
    assert len(counted) == days


def test_it_reads_a_window_over_new_year_from_both_sides():
    winter = YearRange(True, (11, 15), (3, 31), "the site")
    for day, inside in (((2026, 11, 14), False), ((2026, 11, 15), True), ((2027, 1, 1), True), ((2027, 3, 31), True)):
        assert inside_windows(date(*day), [winter]) is inside
    assert not inside_windows(date(2027, 4, 1), [winter])


def test_it_needs_every_giver_of_windows_and_no_bar():
    town = YearRange(True, (5, 1), (10, 31), "Town")
    spawning = YearRange(False, (4, 1), (6, 15), "Fisheries")
    state = YearRange(True, (6, 1), (9, 30), "State")
    assert inside_windows(date(2026, 7, 1), [town, spawning, state])
    assert not inside_windows(date(2026, 6, 10), [town, spawning, state])
    assert not inside_windows(date(2026, 10, 10), [town, spawning, state])
    assert inside_windows(date(2026, 10, 10), [town, spawning])


@given(DAYS, st.tuples(st.integers(1, 12), st.integers(1, 28)), st.tuples(st.integers(1, 12), st.integers(1, 28)))
def test_it_bars_exactly_the_days_it_would_allow(day, first, last):
    allowed, barred = YearRange(True, first, last, "one"), YearRange(False, first, last, "one")
    assert inside_windows(day, [allowed]) is not inside_windows(day, [barred])


@given(DAYS, st.integers(1, 12), st.frozensets(st.integers(1, 7), min_size=1))
def test_it_spans_worked_days_only_and_as_many_as_asked(day, count, week):
    worked = WorkDays(week, frozenset(US))
    span = worked.span(day, count)
    assert len(set(span)) == count and all(worked.works(one) for one in span)
    assert list(span) == sorted(span) and span[0] >= day


def test_it_knows_the_holidays_of_a_region():
    us = holidays_around(ScheduleRules(country="US"), date(2026, 5, 1))
    ontario = holidays_around(ScheduleRules(country="CA", subdivision="ON"), date(2026, 5, 1))
    assert us[date(2026, 7, 3)].startswith("Independence Day")  # 4 July 2026 is a Saturday: 5 U.S.C. 6103(b)
    assert us[date(2026, 11, 26)] == "Thanksgiving Day"  # the fourth Thursday of November: 5 U.S.C. 6103(a)
    assert date(2026, 5, 18) in ontario  # Victoria Day, the Monday before 25 May
    assert date(2026, 7, 3) not in ontario
    assert date(2026, 2, 16) in ontario  # Family Day, the third Monday of February, Ontario's own
    canada = holidays_around(ScheduleRules(country="CA", subdivision="ON"), date(2026, 5, 1), everywhere=True)
    assert date(2026, 2, 16) not in canada
