"""Gauges of a site: files taken in whole or not at all, grown, drawn, and made the site's levels."""

from datetime import UTC, date, datetime

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.urls import reverse

from contractor.company.models import Role, Staff
from contractor.company.versions import ChangedMeanwhile
from estimating.engine.water import FileNotUnderstood, Told
from jobs.records import services
from jobs.records.models import Gauge, GaugeBlock, LevelRange, Site, saying
from tests.jobs.boxes import boxes
from tests.jobs.conftest import make_site
from tests.people import browser_of, person

from .files import USGS

HEAD = "Date,Level (ft)\n"


@pytest.fixture
def merrit(db) -> Staff:
    return person(Role.OFFICE)


@pytest.fixture
def desk(merrit: Staff) -> Browser:
    return browser_of(merrit)


@pytest.fixture
def site(merrit: Staff) -> Site:
    return make_site()


def upload(text: str, datum: str = "dam staff", **told: str) -> services.GaugeUpload:
    return services.GaugeUpload(text.encode(), Told(**told), datum, "levels.csv")


def take_in(site: Site, text: str, by: Staff, **more: str) -> services.Imported:
    return services.import_gauge_file(site, upload=upload(text, **more), by=by)


def years(first: int, last: int) -> str:
    """A level of 2 ft in the first half of every month, of 4 ft in the second."""
    days = (date(year, month, day) for year in range(first, last + 1) for month in range(1, 13) for day in (5, 20))
    return HEAD + "".join(f"{day.isoformat()},{2 if day.day == 5 else 4}\n" for day in days)


def test_it_keeps_every_digit_and_grows_by_what_is_new(site: Site, merrit: Staff) -> None:
    first = take_in(site, f"{HEAD}2024-12-31,3.123456789\n2025-01-01,\n2025-01-02,0\n", merrit)
    assert (first.added, first.missing, first.gauge.count) == (2, 1, 2)
    second = take_in(site, f"{HEAD}2024-12-31,3.5\n2025-01-02,0\n2025-01-03,-1\n", merrit)
    assert second.gauge == first.gauge
    assert (second.added, second.revised) == (1, 1)
    assert second.gauge.readings().level_in.tolist() == [42.0, 0.0, -12.0]
    assert second.gauge.blocks.count() == 2
    assert second.gauge.last_at == datetime(2025, 1, 3, 12, tzinfo=UTC)


def test_it_says_when_a_file_brings_nothing_new(site: Site, merrit: Staff) -> None:
    take_in(site, USGS, merrit)
    again = take_in(site, USGS, merrit)
    assert again.nothing_new and again.gauge.count == 2 and again.gauge.flagged == 1


def test_it_takes_in_nothing_of_a_file_with_one_wrong_line(site: Site, merrit: Staff) -> None:
    with pytest.raises(FileNotUnderstood, match="Line 4"):
        take_in(site, f"{HEAD}2024-01-01,1\n2024-01-02,2\n2024-01-03,x\n", merrit)
    assert not Gauge.objects.exists() and not GaugeBlock.objects.exists()


def test_it_refuses_to_mix_two_datums_in_one_gauge(site: Site, merrit: Staff) -> None:
    take_in(site, years(2024, 2024), merrit)
    with pytest.raises(ValidationError, match="measured from dam staff"):
        take_in(site, years(2025, 2025), merrit, datum="full pool")


def test_it_makes_percentiles_the_site_s_levels(site: Site, merrit: Staff) -> None:
    gauge = take_in(site, years(2020, 2023), merrit).gauge
    picked = services.Picked((0.0, 50.0, 100.0))
    services.take_over_levels(gauge, picked=picked, seen_version=0, by=merrit)
    kept = LevelRange.objects.get(site=site)
    assert (kept.datum, kept.low_in, kept.normal_in, kept.high_in) == ("dam staff", 24.0, 36.0, 48.0)
    with pytest.raises(ChangedMeanwhile):
        services.take_over_levels(gauge, picked=picked, seen_version=0, by=merrit)


def test_it_lifts_a_gauge_to_the_site_s_datum_and_never_guesses_how_far(site: Site, merrit: Staff) -> None:
    services.save_levels(site, seen_version=0, changes={"datum": "rock", "storm_in": 200.0}, by=merrit)
    gauge = take_in(site, years(2020, 2023), merrit).gauge
    with pytest.raises(services.DatumsApart):
        services.take_over_levels(gauge, picked=services.Picked(), seen_version=1, by=merrit)
    gauge = services.save_gauge(gauge, seen_version=1, changes={"above_site_in": 100.0}, by=merrit)
    picked = services.Picked((0.0, 50.0, 100.0))
    services.take_over_levels(gauge, picked=picked, seen_version=1, by=merrit)
    kept = LevelRange.objects.get(site=site)
    assert (kept.datum, kept.low_in, kept.high_in, kept.storm_in) == ("rock", 124.0, 148.0, 200.0)


def on(site: Site, *day: int) -> services.LevelOn:
    return services.level_on(Site.objects.get(pk=site.pk), date(*day), today=date(2026, 3, 1))


def test_it_says_the_level_on_a_day_by_the_best_that_is_known(site: Site, merrit: Staff) -> None:
    assert (on(site, 2026, 4, 1).value_in, on(site, 2026, 4, 1).how) == (None, "unknown")
    services.save_levels(site, seen_version=0, changes={"datum": "dam staff", "normal_in": 30.0}, by=merrit)
    assert (on(site, 2026, 4, 1).value_in, on(site, 2026, 4, 1).how) == (30.0, "normal")
    take_in(site, years(2020, 2025), merrit)
    assert (on(site, 2026, 4, 5).value_in, on(site, 2026, 4, 5).how) == (24.0, "usual")
    assert (on(site, 2025, 4, 20).value_in, on(site, 2025, 4, 20).how) == (48.0, "gauge")
    rows = [{"month": 4, "day": 1, "level_in": 60.0}, {"month": 4, "day": 11, "level_in": 70.0}]
    services.save_calendar(site, seen_version=1, rows=rows, by=merrit)
    assert (on(site, 2026, 4, 5).value_in, on(site, 2026, 4, 5).how) == (64.0, "calendar")
    facts = {"read_at": datetime(2026, 4, 5, 9, tzinfo=UTC), "value_in": 61.0, "datum": "dam staff", "source": "staff"}
    services.record_reading(site, facts=facts, by=merrit)
    assert (on(site, 2026, 4, 5).value_in, on(site, 2026, 4, 5).how) == (61.0, "reading")
    assert on(site, 2026, 4, 5).words == "5.08 ft, read that day, staff, on dam staff."


def test_it_leaves_a_gauge_on_another_datum_out_of_the_answer(site: Site, merrit: Staff) -> None:
    services.save_levels(site, seen_version=0, changes={"datum": "rock", "normal_in": 30.0}, by=merrit)
    take_in(site, years(2020, 2025), merrit)
    assert on(site, 2025, 4, 20).how == "normal"


def test_it_refuses_a_calendar_somebody_saved_first(site: Site, merrit: Staff) -> None:
    services.save_calendar(site, seen_version=1, rows=[{"month": 4, "day": 1, "level_in": 60.0}], by=merrit)
    with pytest.raises(services.CalendarChangedMeanwhile) as stale:
        services.save_calendar(site, seen_version=1, rows=[], by=merrit)
    assert (stale.value.version, stale.value.by_name, len(stale.value.standing)) == (2, merrit.name, 1)
    assert site.calendar_levels.count() == 1


def read_file(desk: Browser, site: Site, text: str, **typed: str):
    address = reverse("records:read_gauge", args=[site.pk])
    file = SimpleUploadedFile("levels.csv", text.encode())
    return desk.post(address, {"datum": "dam staff", "unit": "", "clock": "", "file": file, **typed})


def test_it_reads_a_file_on_the_page_and_draws_the_year(desk: Browser, site: Site) -> None:
    made = read_file(desk, site, years(2020, 2023))
    assert made.status_code == 303
    page = desk.get(made.url, {"low": "10", "normal": "50", "high": "90", "first": "1 Nov", "last": "31 Mar"})
    html = page.content.decode().replace("\xa0", " ")
    assert page.status_code == 200 and html.count("<svg") >= 2 and "10 % to 90 % of the readings" in html
    assert "In the season: Between 2.0 ft" in html and "Make these the site’s levels" in html
    taken = desk.post(made.url + "take-over/", {"low": "10", "normal": "50", "high": "90", "levels-version": "0"})
    assert taken.status_code == 303
    levels = LevelRange.objects.get(site=site)
    assert (levels.low_in, levels.normal_in, levels.high_in) == (24.0, 36.0, 48.0)


@pytest.mark.parametrize(
    ("text", "typed", "words"),
    [
        ("Date,Level\n2024-01-01,3\n", {}, "feet or metres. Choose one."),
        (f"{HEAD}2024-01-01,three\n", {}, "Line 2, column “Level (ft)”: “three” is not a level. Nothing was taken in."),
        (f"{HEAD}2024-01-01,3\n", {"datum": ""}, "Say what the gauge measures from."),
    ],
)
def test_it_says_at_the_box_what_a_file_lacks(desk: Browser, site: Site, text: str, typed: dict, words: str) -> None:
    answer = read_file(desk, site, text, **typed)
    assert answer.status_code == 422 and words in answer.content.decode()
    assert not Gauge.objects.exists()


@pytest.mark.parametrize(
    ("typed", "words"),
    [({"low": "60", "normal": "50", "high": "95"}, "the percentages rise"), ({"low": "5", "normal": "50", "high": "95",
      "first": "1 May"}, "A season has a first and a last day")],
)  # fmt: skip
def test_it_refuses_percentages_and_seasons_that_make_no_sense(desk: Browser, site: Site, typed, words: str) -> None:
    made = read_file(desk, site, years(2020, 2020))
    answer = desk.get(made.url, typed)
    assert answer.status_code == 422 and words in answer.content.decode()


def test_it_keeps_a_calendar_typed_on_the_page_and_answers_for_a_day(desk: Browser, site: Site) -> None:
    address = reverse("records:water", args=[site.pk])
    rows = {"calendar-0-day": "1 April", "calendar-0-level_in": "20", "calendar-1-day": "1 Dec"}
    typed = boxes(desk, address, **rows, **{"calendar-1-level_in": "0", "reading-note": ""})
    refused = desk.post(address, typed)
    assert refused.status_code == 422 and "Say what the calendar’s levels are measured from" in refused.content.decode()
    assert desk.post(address, {**typed, "levels-datum": "full pool"}).status_code == 303
    asked = desk.get(reverse("records:level_on", args=[site.pk]), {"on": "1 August 2027"}, HTTP_HX_REQUEST="true")
    assert "10.0 ft, by the calendar, on full pool." in asked.content.decode().replace("\xa0", " ")
    assert b"<h1" not in asked.content
    whole = desk.get(reverse("records:level_on", args=[site.pk]), {"on": "1 August 2027"})
    assert b"<h1" in whole.content and "by the calendar" in whole.content.decode()
    more = desk.post(address, {**typed, "more": "calendar"}, HTTP_HX_REQUEST="true")
    assert more.content.decode().count("calendar-") > 8 and b"<h1" not in more.content


def test_it_strikes_a_gauge_out_and_lets_it_be_read_anew(desk: Browser, site: Site) -> None:
    made = read_file(desk, site, years(2020, 2020))
    assert desk.post(made.url + "strike-out/").status_code == 303
    assert Gauge.objects.get().struck_out and GaugeBlock.objects.exists()
    assert read_file(desk, site, years(2020, 2020)).url != made.url


def test_it_calls_levels_by_their_tide_names(site: Site, merrit: Staff) -> None:
    changes = {"datum": "chart datum", "names": "tide", "low_in": 0.0, "high_in": 108.0}
    services.save_levels(site, seen_version=0, changes=changes, by=merrit)
    said = saying.levels_said(Site.objects.get(pk=site.pk).levels, "imperial")
    assert said == "Low tide 0.0 ft, high tide 9.0 ft on chart datum."
