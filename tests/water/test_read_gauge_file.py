"""Gauge files in every format we read. Headings and sample rows as published by the gauges' keepers."""

from datetime import UTC, datetime

import numpy as np
import pytest

from estimating.engine.water import FLAGGED, PRELIMINARY, ChoiceNeeded, FileNotUnderstood, Told, read_gauge_file

from .files import CANADA, NOAA, NOAA_PREDICTED, USGS

METRES_UTC = Told(unit="m", zone="UTC")


def minute(*when: int) -> int:
    return int(datetime(*when, tzinfo=UTC).timestamp() // 60)


def read(text: str, told: Told | None = None, encoding: str = "utf-8"):
    return read_gauge_file(text.encode(encoding), told)


def refused(text: str, told: Told | None = None) -> FileNotUnderstood:
    with pytest.raises(FileNotUnderstood) as wrong:
        read(text, told)
    return wrong.value


def test_it_reads_a_noaa_file_blank_as_missing_and_zero_as_zero() -> None:
    found = read(NOAA, METRES_UTC)
    assert (found.keeper, found.kind, found.unit) == ("NOAA CO-OPS", "measured", "m")
    assert found.series.at_min[0] == minute(2024, 5, 6, 12, 0)
    assert found.series.level_in[:2] == pytest.approx([1.765 / 0.0254, 0.0])
    assert (found.missing, len(found.series)) == (1, 5)


def test_it_keeps_what_noaa_says_against_a_reading() -> None:
    found = read(NOAA, METRES_UTC)
    # F broken at 12:18; I (inferred) at 12:24; at 12:30 the same column counts outliers, for the row is preliminary
    assert found.series.flags.tolist() == [0, PRELIMINARY, FLAGGED, FLAGGED, PRELIMINARY]
    assert len(found.series.trusted()) == 3


def test_it_reads_noaa_predictions_as_predicted() -> None:
    found = read(NOAA_PREDICTED, Told(unit="ft", zone="America/New_York"))
    assert found.kind == "predicted"
    assert found.series.at_min[0] == minute(2024, 5, 6, 16, 0)
    assert found.series.level_in[0] == pytest.approx(0.719 * 12)


@pytest.mark.parametrize(("told", "what"), [(Told(zone="UTC"), "unit"), (Told(unit="m"), "zone")])
def test_it_asks_for_what_a_noaa_file_leaves_open(told: Told, what: str) -> None:
    with pytest.raises(ChoiceNeeded) as asked:
        read(NOAA, told)
    assert asked.value.what == what


def test_it_reads_a_usgs_file_without_its_line_of_widths() -> None:
    found = read(USGS)
    assert (found.keeper, found.station, found.unit) == ("USGS", "11143000", "ft")
    assert found.series.at_min.tolist() == [minute(2010, 3, 1, 8, 0), minute(2010, 3, 1, 8, 45)]  # PST is UTC-8
    assert found.series.level_in.tolist() == [60.0, 54.0]
    assert found.series.flags.tolist() == [0, PRELIMINARY | FLAGGED]
    assert found.missing == 2  # a blank, and the word Ice


def test_it_reads_each_usgs_row_on_its_own_clock() -> None:
    rows = [(1, "01:30", "EDT"), (2, "01:30", "EST")]
    head = USGS.partition("USGS")[0]
    found = read(head + "".join(f"USGS\t1\t2023-11-05 {at}\t{tz}\t{ft}.0\tA\n" for ft, at, tz in rows))
    assert found.series.at_min.tolist() == [minute(2023, 11, 5, 5, 30), minute(2023, 11, 5, 6, 30)]


def test_it_tells_usgs_levels_from_discharge() -> None:
    text = (
        "agency_cd\tsite_no\tdatetime\ttz_cd\t01_00060\t01_00060_cd\t03_00065\t03_00065_cd\n"
        "5s\t15s\t20d\t6s\t14n\t10s\t14n\t10s\nUSGS\t1\t2010-03-01 00:00\tPST\t812\tA\t5.0\tA\n"
    )
    assert read(text).series.level_in.tolist() == [60.0]


def test_it_asks_which_of_two_usgs_levels_to_take() -> None:
    text = (
        "agency_cd\tsite_no\tdatetime\ttz_cd\t03_00065\t03_00065_cd\t9_62614\t9_62614_cd\n"
        "USGS\t1\t2010-03-01 00:00\tPST\t5.0\tA\t1290.5\tA\n"
    )
    with pytest.raises(ChoiceNeeded) as asked:
        read(text)
    assert [key for key, _ in asked.value.options] == ["03_00065", "9_62614"]
    assert read(text, Told(parameter="9_62614")).series.level_in.tolist() == [1290.5 * 12]


def test_it_reads_usgs_daily_values_as_of_noon() -> None:
    text = "agency_cd\tsite_no\tdatetime\t03_00065_00003\t03_00065_00003_cd\nUSGS\t1\t2010-03-01\t5.0\tA\n"
    assert read(text, Told(zone="America/Chicago")).series.at_min[0] == minute(2010, 3, 1, 18, 0)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_it_reads_a_canadian_file_in_any_letters(encoding: str) -> None:
    found = read(CANADA, encoding=encoding)
    assert (found.keeper, found.station, found.unit, found.missing) == ("Environment Canada", "02AB006", "m", 1)
    assert found.series.at_min[0] == minute(2018, 7, 1, 5, 55)
    assert found.series.level_in == pytest.approx(np.array([302.273, 302.271]) / 0.0254)
    assert found.series.flags.tolist() == [PRELIMINARY, PRELIMINARY | FLAGGED]  # E is an estimate


def test_it_asks_which_station_of_several_to_take() -> None:
    text = CANADA + "05BJ010,2018-07-01T00:55:00-07:00,2.5,,,1,,,,1\n"
    with pytest.raises(ChoiceNeeded) as asked:
        read(text)
    assert asked.value.what == "station"
    found = read(text, Told(station="05BJ010"))
    assert found.series.at_min.tolist() == [minute(2018, 7, 1, 7, 55)]


def test_it_reads_a_shop_s_own_list() -> None:
    found = read("Date,Level (ft)\n2026-03-01,3.5\n2026-03-02,\n2026-03-03,-0.25\n")
    assert found.series.level_in.tolist() == [42.0, -3.0]
    assert (found.keeper, found.missing) == ("our own list", 1)


@pytest.mark.parametrize("ending", ["\r\n", "\r", "\n\n"])
def test_it_reads_lines_however_they_end(ending: str) -> None:
    assert len(read(NOAA.replace("\n", ending), METRES_UTC).series) == 5


def test_it_sorts_a_file_that_runs_backwards_and_merges_what_is_said_twice() -> None:
    rows = NOAA.splitlines()
    found = read("\n".join([rows[0], *reversed(rows[1:]), rows[1]]), METRES_UTC)
    assert (np.diff(found.series.at_min) > 0).all()
    assert (len(found.series), found.repeated) == (5, 1)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        (NOAA.replace("1.801", "high"), 5, "“high” is not a level"),
        (NOAA.replace("1.801", "nan"), 5, "“nan” is not a level"),
        (NOAA.replace("1.801", "1_801"), 5, "is not a level"),
        (NOAA.replace("1.801", "99999"), 5, "no level water stands at"),
        (NOAA.replace("1.801,0.06,0,1,0,0,v", "1.8"), 5, "2 columns, where the heading has 8"),
        (NOAA.replace("12:18,1.801", "12:18,1,801"), 5, "9 columns, where the heading has 8"),
        (NOAA.replace("2024-05-06 12:18", "2024-02-30 12:18"), 5, "“2024-02-30 12:18” is not a day and time"),
        (NOAA.replace("2024-05-06 12:18", "06/05/2024 12:18"), 5, "is not a day and time"),
        (NOAA.replace("2024-05-06 12:18", "2024-05-06 24:18"), 5, "is not a day and time"),
        (NOAA.replace("12:18", "12:12"), 5, "line 4 has another level at this time"),
        (NOAA.splitlines()[0], None, "no reading under it"),
        ("\n\n", None, "empty"),
        ("<html><body>Sign in</body></html>", 1, "web page"),
        ("Error: No data was found. This product may not be offered at this station.\n", 1, "No data was found"),
        ("\nname,colour\noak,brown\n", 2, "no heading of a gauge file"),
    ],
)
def test_it_names_the_line_it_does_not_understand(text: str, line: int | None, words: str) -> None:
    wrong = refused(text, METRES_UTC)
    assert wrong.line == line and words in str(wrong)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (USGS.replace("PST\t5.0", "QQQ\t5.0"), "Line 6, column “tz_cd”: “QQQ” is no clock we know"),
        (USGS.replace("11143000\t2010-03-01 00:45", "999\t2010-03-01 00:45"), "Line 9, column “site_no”"),
        (USGS + USGS.partition("#\n")[2], "Line 10: a second table begins here"),
        (USGS.replace("00065", "00060"), "no column of levels"),
        ("# No sites found matching all criteria\n", "only comments"),
        (CANADA.replace("00:55:00-05:00", "00:55:00"), "Line 2, column “Date”"),
        (CANADA.replace("302.271", "302,271"), "Line 4: 11 columns"),
        (CANADA.replace("(m)", "(ft)"), "does not say metres"),
        (
            CANADA.replace("02AB006,2018-07-01T01:05", ",2018-07-01T01:05"),
            "Line 4, column “ID”: the station is missing",
        ),
    ],
)
def test_it_names_line_and_column_in_other_files(text: str, words: str) -> None:
    assert words in str(refused(text))


def test_it_refuses_bytes_that_are_no_text() -> None:
    with pytest.raises(FileNotUnderstood, match="not a text file"):
        read_gauge_file(b"PK\x03\x04\x00\x00\x00\x00")


def test_it_takes_minus_nines_for_missing_not_for_a_level() -> None:
    assert read(USGS.replace("4.5", "-999999")).missing == 3


def clock(times: list[str], zone: str) -> list[int]:
    rows = "".join(f"2023-{at},{place}.5\n" for place, at in enumerate(times))
    return read(f"Date Time, Water Level\n{rows}", Told(unit="ft", zone=zone)).series.at_min.tolist()


def test_it_tells_the_two_runs_of_the_autumn_hour_apart() -> None:
    # 5 November 2023, 2 am daylight saving time became 1 am standard time
    times = ["11-05 00:30", "11-05 01:00", "11-05 01:30", "11-05 01:00", "11-05 01:30", "11-05 02:00"]
    expected = [(4, 30), (5, 0), (5, 30), (6, 0), (6, 30), (7, 0)]
    assert clock(times, "America/New_York") == [minute(2023, 11, 5, *at) for at in expected]


def test_it_takes_an_autumn_hour_that_is_there_once_for_the_first() -> None:
    times = ["11-05 00:30", "11-05 01:30", "11-05 02:30"]
    assert clock(times, "America/New_York") == [minute(2023, 11, 5, *at) for at in [(4, 30), (5, 30), (7, 30)]]


def test_it_refuses_a_time_the_clock_skipped_in_spring() -> None:
    with pytest.raises(FileNotUnderstood) as wrong:
        clock(["03-12 01:30", "03-12 02:30"], "America/New_York")
    assert wrong.value.line == 3 and "skipped when clocks went forward" in str(wrong.value)


def test_it_reads_the_skipped_hour_on_standard_time_all_year() -> None:
    assert clock(["03-12 02:30"], "Etc/GMT+5") == [minute(2023, 3, 12, 7, 30)]


def test_it_reads_no_file_on_a_clock_nobody_knows() -> None:
    with pytest.raises(FileNotUnderstood, match="no time zone"):
        clock(["03-12 02:30"], "Lake/Quillet")
