"""Levels and depths: on a datum, in order, struck out, never erased, brought to normal level only where they can be."""

from datetime import UTC, datetime

import pytest
from django.core.exceptions import ValidationError

from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile
from jobs.records import services
from jobs.records.models import DepthPoint, LevelRange, Site, saying

from .conftest import make_site

STAFF = "causeway staff"


@pytest.fixture
def site(merrit: Staff) -> Site:
    site = make_site()
    levels = {"datum": STAFF, "low_in": 18.0, "normal_in": 42.0, "high_in": 54.0}
    services.save_levels(site, seen_version=0, changes=levels, by=merrit)
    return Site.objects.get(pk=site.pk)


def reading(site: Site, by: Staff, value_in: float, datum: str = STAFF):
    facts = {"read_at": datetime(2026, 3, 27, 15, tzinfo=UTC), "value_in": value_in, "datum": datum}
    return services.record_reading(site, facts=facts, by=by)


def test_it_says_the_range_on_its_datum(site: Site) -> None:
    said = saying.levels_said(site.levels, "imperial")
    assert said == "Low 1.5 ft, normal 3.5 ft, high 4.5 ft on causeway staff."


def test_it_says_unknown_where_no_level_was_written(merrit: Staff) -> None:
    assert saying.levels_said(make_site().levels, "imperial") == "Unknown."


def test_it_takes_a_level_below_zero_and_a_level_of_zero(merrit: Staff) -> None:
    levels = {"datum": "full pool", "low_in": -720.0, "normal_in": 0.0}
    kept = services.save_levels(make_site(), seen_version=0, changes=levels, by=merrit)
    assert (kept.low_in, kept.normal_in, kept.high_in) == (-720.0, 0.0, None)


@pytest.mark.parametrize(
    ("levels", "sentence"),
    [
        ({"datum": STAFF, "low_in": 50.0, "normal_in": 42.0}, "Low water cannot stand above normal water."),
        ({"datum": STAFF, "low_in": 50.0, "high_in": 42.0}, "Low water cannot stand above high water."),
        ({"datum": STAFF, "high_in": 50.0, "storm_in": 42.0}, "High water cannot stand above storm water."),
        ({"low_in": 5.0}, "Say what the levels are measured from: a mark, a staff, full pool."),
    ],
)
def test_it_refuses_levels_out_of_order_or_without_a_datum(merrit: Staff, levels: dict, sentence: str) -> None:
    with pytest.raises(ValidationError) as refused:
        services.save_levels(make_site(), seen_version=0, changes=levels, by=merrit)
    assert sentence in refused.value.messages
    assert not LevelRange.objects.exists()


def test_it_refuses_the_second_of_two_people_who_both_found_no_range(site: Site, merrit: Staff) -> None:
    with pytest.raises(ChangedMeanwhile):
        services.save_levels(site, seen_version=0, changes={"datum": STAFF, "low_in": 1.0}, by=merrit)
    assert LevelRange.objects.get().low_in == 18.0


def test_it_brings_a_depth_to_normal_level_by_the_reading_it_was_taken_at(site: Site, merrit: Staff) -> None:
    # read 0.5 ft above normal: a 4.7 ft depth is 4.2 ft at normal
    taken = reading(site, merrit, 48.0)
    rows = [{"label": "ramp end", "distance_in": 144.0, "depth_in": 56.4, "reading": taken, "bottom": "gravel"}]
    [point] = services.save_depths(site, seen_version=site.depths_version, rows=rows, by=merrit)
    assert point.below_normal_in(site.levels) == pytest.approx(50.4)
    assert saying.depths_said([point], site.levels, "imperial") == "Ramp end 4.2 ft."
    # 4.7 ft below a level of 4.0 ft on the staff
    assert saying.bottoms_said([point], site.levels, "imperial") == "Ramp end -0.7 ft on causeway staff."


def test_it_does_not_mix_datums(site: Site, merrit: Staff) -> None:
    taken = reading(site, merrit, 48.0, datum="chart datum")
    rows = [{"label": "ramp end", "distance_in": 144.0, "depth_in": 56.4, "reading": taken}]
    [point] = services.save_depths(site, seen_version=site.depths_version, rows=rows, by=merrit)
    assert point.below_normal_in(site.levels) is None
    assert services.place_from_site(site).depths == ()


def test_it_strikes_out_what_was_measured_and_keeps_it_readable(site: Site, merrit: Staff) -> None:
    rows = [{"label": "ramp end", "depth_in": 50.0}, {"label": "lake end", "depth_in": 72.0}]
    services.save_depths(site, seen_version=site.depths_version, rows=rows, by=merrit)
    site.refresh_from_db()
    swapped = [{"label": "lake end", "depth_in": 50.0}, {"label": "ramp end", "depth_in": 72.0}]
    services.save_depths(site, seen_version=site.depths_version, rows=swapped, by=merrit)
    assert [(p.label, p.depth_in) for p in site.depths_standing()] == [("lake end", 50.0), ("ramp end", 72.0)]
    assert DepthPoint.objects.filter(struck_out=True).count() == 2


def test_it_names_the_row_that_is_wrong_and_saves_none(site: Site, merrit: Staff) -> None:
    rows = [{"label": "ramp end", "depth_in": 50.0}, {"label": "ramp end", "depth_in": 72.0}]
    with pytest.raises(ValidationError, match="same name") as refused:
        services.save_depths(site, seen_version=site.depths_version, rows=rows, by=merrit)
    assert refused.value.row == 1
    assert not DepthPoint.objects.exists()


def test_it_refuses_depths_from_a_page_that_is_no_longer_true(site: Site, merrit: Staff) -> None:
    rows = [{"label": "ramp end", "depth_in": 50.0}]
    services.save_depths(site, seen_version=1, rows=rows, by=merrit)
    with pytest.raises(services.DepthsChangedMeanwhile) as refused:
        services.save_depths(site, seen_version=1, rows=[], by=merrit)
    assert (refused.value.version, refused.value.by_name) == (2, merrit.name)
    assert [point.label for point in refused.value.standing] == ["ramp end"]
    assert len(site.depths_standing()) == 1


def test_it_keeps_depths_though_another_changed_the_site_s_facts(site: Site, merrit: Staff) -> None:
    services.save_site(site, seen_version=1, changes={"notes": "Dog."}, by=merrit)
    assert services.save_depths(site, seen_version=1, rows=[{"label": "ramp end"}], by=merrit)


def test_it_strikes_out_a_reading_once(site: Site, merrit: Staff) -> None:
    taken = reading(site, merrit, 48.0)
    assert services.strike_out_reading(taken, by=merrit).struck_out
    services.strike_out_reading(taken, by=merrit)
    assert not site.readings.standing().exists() and site.readings.count() == 1
