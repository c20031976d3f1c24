"""A site is written down as far as it is known; unknown is not zero, and nonsense is refused in words."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from contractor.company.models import ChangeLog, Staff
from contractor.company.versions import ChangedMeanwhile
from jobs.records import services
from jobs.records.models import Site, WorkWindow, saying

from .conftest import make_site


def test_it_keeps_unknown_apart_from_zero(merrit: Staff) -> None:
    unknown = make_site()
    known = make_site(carry_in=0.0, steps=0, overhead_wires=False)
    unknown.refresh_from_db(), known.refresh_from_db()
    assert (unknown.carry_in, unknown.steps, unknown.overhead_wires) == (None, None, None)
    assert (known.carry_in, known.steps, known.overhead_wires) == (0.0, 0, False)
    assert saying.land_access_said(unknown, "imperial") == "Gate width, steps, carry and overhead wires not known."
    assert saying.land_access_said(known, "imperial") == "No steps, no carry, no overhead wires. Gate width not known."


def test_it_says_access_in_feet_or_metres(merrit: Staff) -> None:
    site = make_site(gate_width_in=48.0, steps=14, carry_in=1680.0, overhead_wires=True)
    assert saying.land_access_said(site, "imperial") == "4′ 0″ gate, 14 steps, carry 140′ 0″, overhead wires."
    assert saying.land_access_said(site, "metric") == "1.22 m gate, 14 steps, carry 42.67 m, overhead wires."


@pytest.mark.parametrize(
    ("fact", "value", "sentence"),
    [
        ("frontage_in", 0.0, "Frontage is more than nothing. Type U if it is unknown."),
        ("carry_in", -1.0, "A carry is zero or more."),
        ("most_width_in", 0.0, "A width limit is more than nothing."),
        ("water_body", "", "Name the lake, river or bay."),
    ],
)
def test_it_refuses_nonsense_with_a_sentence_and_in_the_database_too(merrit, fact, value, sentence) -> None:
    with pytest.raises(ValidationError) as refused:
        make_site(**{fact: value})
    assert sentence in refused.value.messages or fact == "water_body"
    with pytest.raises(IntegrityError), transaction.atomic():
        Site.objects.create(**{"water_body": "Sabler Pond", fact: value})


def test_it_refuses_a_stale_save_and_says_what_the_other_changed(merrit: Staff) -> None:
    site = make_site()
    services.save_site(site, seen_version=1, changes={"launch_place": "Town ramp"}, by=merrit)
    with pytest.raises(ChangedMeanwhile) as refused:
        services.save_site(site, seen_version=1, changes={"launch_place": "Marina"}, by=merrit)
    [difference] = refused.value.differences
    assert (difference.theirs, difference.yours) == ("Town ramp", "Marina")
    site.refresh_from_db()
    assert site.launch_place == "Town ramp"


def test_it_logs_who_changed_what(merrit: Staff) -> None:
    site = make_site()
    services.save_site(site, seen_version=1, changes={"steps": 14}, by=merrit)
    entry = ChangeLog.objects.about(site).newest_first().first()
    assert (entry.by, entry.before, entry.after["steps"]) == (merrit, {"steps": None}, 14)


def test_it_keeps_work_dates_that_cross_new_year(merrit: Staff) -> None:
    from datetime import date

    site = make_site()
    barred = {"kind": "barred", "first_month": 10, "first_day": 1, "last_month": 3, "last_day": 15}
    [window] = services.set_work_windows(site, windows=[barred], by=merrit)
    assert [window.covers(date(2026, month, 1)) for month in (1, 3, 6, 10, 12)] == [True, True, False, True, True]
    assert window.covers(date(2026, 3, 15)) and not window.covers(date(2026, 3, 16))
    assert saying.windows_said([window]) == "In-water work not from 1 October to 15 March."


def test_it_leaves_the_old_work_dates_when_a_new_one_is_nonsense(merrit: Staff) -> None:
    site = make_site()
    good = {"kind": "allowed", "first_month": 7, "first_day": 1, "last_month": 9, "last_day": 30}
    services.set_work_windows(site, windows=[good], by=merrit)
    with pytest.raises(ValidationError, match="not in the calendar"):
        services.set_work_windows(site, windows=[good, {**good, "last_month": 13}], by=merrit)
    assert WorkWindow.objects.count() == 1
