"""Records are changed on pages: unknown stays unknown, nothing typed is lost, the later of two is told."""

from datetime import date
from fractions import Fraction

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser

from contractor.company.models import Staff
from contractor.company.once import new_key
from jobs.records import services
from jobs.records.models import Client, Job, LevelRange, Permit, Site, WorkWindow
from jobs.records.models.jobs import NotesStay
from tests.people import the_firm

from .boxes import boxes

MANAGEMENT = {"window-TOTAL_FORMS": "2", "window-INITIAL_FORMS": "0"}


def save(desk: Browser, address: str, **typed):
    """Open the page, type, press save."""
    return desk.post(address, boxes(desk, address, **typed))


@pytest.fixture
def site(job: Job) -> Site:
    return job.site


def test_it_keeps_u_and_empty_as_unknown_and_zero_as_zero(desk: Browser, site: Site) -> None:
    typed = {"carry_in": "U", "steps": "unknown", "gate_width_in": "", "setback_left_in": "0", "tow_miles": "?"}
    answer = save(desk, f"/sites/{site.pk}/", **typed)
    assert answer.status_code == 303
    site.refresh_from_db()
    assert (site.carry_in, site.steps, site.gate_width_in, site.tow_miles) == (None, None, None, None)
    assert site.setback_left_in == 0.0


def test_it_keeps_lengths_exactly_through_edits_and_a_change_of_units(desk: Browser, site: Site) -> None:
    save(desk, f"/sites/{site.pk}/", frontage_in="100' 5 11/16\"", carry_in="42.5 m")
    the_firm(units="metric")
    for _ in range(2):
        site.refresh_from_db()
        save(desk, f"/sites/{site.pk}/", notes=f"edit {site.version}")
    site.refresh_from_db()
    assert (site.version, site.frontage_in, site.carry_in) == (4, 1205 + 11 / 16, float(Fraction(425_000, 254)))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"frontage_in": "0"}, "must be more than zero"),
        ({"carry_in": "-3"}, "can’t be below zero"),
        ({"carry_in": "a long way"}, "“a long way” is not a length"),
        ({"steps": "1.5"}, "Type a whole number, or U if nobody knows."),
        ({"steps": "-2"}, "At least 0"),
        ({"current_knots": "fast"}, "Type a number, or U if nobody knows."),
        ({"least_deck_open_percent": "140"}, "At most 100"),
        ({"water_body": " "}, "Name the lake, river or bay."),
        ({"latitude": "95"}, "from 90 N to 90 S, like 44.9731"),
        ({"longitude": "93.26 N"}, "West is below zero"),
        ({"window-0-kind": "barred", "window-0-first": "1 October"}, "To which day?"),
        ({"window-0-kind": "barred", "window-0-first": "31 June", "window-0-last": "1 July"}, "Type a day of the year"),
    ],
)
@pytest.mark.page
def test_it_says_at_the_box_what_is_wrong_and_saves_nothing(desk: Browser, site: Site, typed: dict, sentence) -> None:
    sent = {**MANAGEMENT, "version": "1", "water_body": site.water_body, "notes": "typed with care", **typed}
    answer = desk.post(f"/sites/{site.pk}/", sent)
    page = answer.content.decode()
    assert answer.status_code == 422 and sentence in page and "typed with care" in page
    site.refresh_from_db()
    assert (site.version, site.notes, WorkWindow.objects.count()) == (1, "", 0)


def test_it_keeps_work_dates_typed_as_words(desk: Browser, site: Site) -> None:
    typed = {
        "window-0-kind": "barred",
        "window-0-first": "1 October",
        "window-0-last": "15 Mar",
        "window-0-note": "fish",
    }
    assert save(desk, f"/sites/{site.pk}/", **typed).status_code == 303
    window = WorkWindow.objects.get()
    assert window.covers(date(2027, 1, 5)) and not window.covers(date(2027, 6, 1))
    assert "1 October" in desk.get(f"/sites/{site.pk}/").content.decode()


def test_it_tells_the_later_of_two_what_the_other_changed(desk: Browser, site: Site, merrit: Staff) -> None:
    mine = boxes(desk, f"/sites/{site.pk}/", launch_place="Marina", notes="mine")
    services.save_site(site, seen_version=1, changes={"launch_place": "Town ramp"}, by=merrit)
    answer = desk.post(f"/sites/{site.pk}/", mine)
    page = answer.content.decode()
    assert answer.status_code == 409 and "Town ramp" in page and 'value="Marina"' in page and "mine" in page
    site.refresh_from_db()
    assert (site.launch_place, site.notes) == ("Town ramp", "")


@pytest.mark.page
def test_it_refuses_an_exempt_client_without_a_number(desk: Browser, job: Job) -> None:
    address = f"/clients/{job.client_id}/"
    answer = save(desk, address, tax_status="exempt")
    assert answer.status_code == 422
    assert "An exempt client needs the number of the certificate." in answer.content.decode()
    answer = save(desk, address, tax_status="exempt", exemption_number="EX 17")
    assert answer.status_code == 303 and Client.objects.get().tax_status == "exempt"


def test_it_books_a_visit_and_moves_the_job_on(desk: Browser, job: Job) -> None:
    answer = save(desk, f"/jobs/{job.number}/edit/", visit_on="27 March 2026", budget="7,500")
    assert answer.status_code == 303
    job.refresh_from_db()
    assert (job.stage, job.visit_on, str(job.budget)) == ("visit", date(2026, 3, 27), "7500.00")


def test_it_logs_a_call_once_and_never_changes_it(desk: Browser, job: Job) -> None:
    typed = {"once": new_key(), "words": "Call back at noon", "kind": "call"}
    for _ in range(2):
        assert desk.post(f"/jobs/{job.number}/call/", typed).status_code == 303
    note = job.notes.get()
    assert note.by_name == "Oona Tarrant"
    with pytest.raises(NotesStay):
        note.save()
    with pytest.raises(NotesStay):
        note.delete()


def test_it_answers_a_call_logged_by_htmx_with_the_list_alone(desk: Browser, job: Job) -> None:
    typed = {"once": new_key(), "words": "Call back", "kind": "call"}
    piece = desk.post(f"/jobs/{job.number}/call/", typed, headers={"HX-Request": "true"}).content.decode()
    assert piece.lstrip().startswith('<section id="calls">') and "Call back" in piece


def test_it_ends_a_job_with_a_reason_and_opens_it_again(desk: Browser, job: Job) -> None:
    address = f"/jobs/{job.number}/end/"
    assert desk.post(address, {"ending": "refused"}).status_code == 422
    assert desk.post(address, {"ending": "refused", "reason": "Too dear"}).status_code == 303
    assert desk.post(address, {"ending": "cancelled", "reason": "Twice"}).status_code == 303
    job.refresh_from_db()
    assert (job.ending, job.ended_reason) == ("refused", "Too dear")
    desk.post(f"/jobs/{job.number}/open-again/")
    job.refresh_from_db()
    assert job.is_open and job.ended_on is None


def water_rows(**typed: str) -> dict[str, str]:
    return {"depth-TOTAL_FORMS": "2", "depth-INITIAL_FORMS": "0", "depths-version": "1", "levels-version": "0", **typed}


def test_it_keeps_depths_and_gives_more_rows_without_losing_what_was_typed(desk: Browser, site: Site) -> None:
    address = f"/sites/{site.pk}/water/"
    typed = {"depth-0-label": "ramp end", "depth-0-distance_in": "12'", "depth-0-depth_in": "4.2"}
    more = desk.post(address, water_rows(more="yes", **typed)).content.decode()
    assert 'name="depth-4-label"' in more and 'value="ramp end"' in more and not site.depths_standing()
    assert desk.post(address, water_rows(**typed)).status_code == 303
    [point] = site.depths_standing()
    assert (point.distance_in, point.depth_in, point.bottom) == (144.0, 50.4, "unknown")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"depth-0-depth_in": "4.2"}, "Name the place"),
        ({"depth-0-label": "a", "depth-0-depth_in": "-2"}, "At least"),
        ({"depth-0-label": "a", "depth-1-label": "a"}, "Another row has this name."),
        ({"depth-0-label": "a", "depth-0-distance_in": "far"}, "is not a length"),
    ],
)
@pytest.mark.page
def test_it_names_the_depth_that_is_wrong(desk: Browser, site: Site, typed: dict, sentence: str) -> None:
    answer = desk.post(f"/sites/{site.pk}/water/", water_rows(**typed))
    assert answer.status_code == 422 and sentence in answer.content.decode()
    assert not site.depths_standing()


def test_it_shows_whose_depths_stand_and_keeps_those_typed_later(desk: Browser, site: Site, merrit: Staff) -> None:
    services.save_depths(site, seen_version=1, rows=[{"label": "theirs", "depth_in": 50.4}], by=merrit)
    answer = desk.post(f"/sites/{site.pk}/water/", water_rows(**{"depth-0-label": "mine"}))
    page = answer.content.decode()
    assert answer.status_code == 409 and "theirs" in page and 'value="mine"' in page
    assert '<input type="hidden" name="depths-version" value="2">' in page


def test_it_keeps_levels_and_refuses_them_out_of_order(desk: Browser, site: Site) -> None:
    address, typed = f"/sites/{site.pk}/water/", water_rows(**{"levels-datum": "staff", "levels-low_in": "4"})
    answer = desk.post(address, {**typed, "levels-normal_in": "3.5"})
    assert answer.status_code == 422 and "Low water cannot stand above normal water." in answer.content.decode()
    assert desk.post(address, {**typed, "levels-normal_in": "4.5", "levels-high_in": "U"}).status_code == 303
    levels = Site.objects.get(pk=site.pk).levels
    assert (levels.low_in, levels.normal_in, levels.high_in) == (48.0, 54.0, None)


def test_it_keeps_a_reading_with_its_minute_and_strikes_it_out(desk: Browser, site: Site) -> None:
    typed = {"day": "27 March 2026", "time": "14:30", "value_in": "3.7", "datum": "staff", "source": "mark"}
    facts = {f"reading-{name}": value for name, value in typed.items()}
    assert desk.post(f"/sites/{site.pk}/water/", water_rows(once=new_key(), **facts)).status_code == 303
    reading = site.readings.get()
    assert (reading.value_in, f"{reading.read_at:%H:%M}") == (pytest.approx(44.4), "14:30")
    desk.post(f"/sites/{site.pk}/water/readings/{reading.pk}/strike-out/")
    assert not site.readings.standing().exists()
    assert "struck out" in desk.get(f"/sites/{site.pk}/water/").content.decode()


def test_it_saves_levels_a_reading_and_depths_in_one_go_or_none_of_them(desk: Browser, site: Site) -> None:
    address = f"/sites/{site.pk}/water/"
    levels = {"levels-datum": "staff", "levels-normal_in": "3.5"}
    reading = {"reading-value_in": "3.7", "reading-datum": "staff", "reading-day": "27 March 2026"}
    depth = {"depth-0-label": "ramp end", "depth-0-depth_in": "4.2"}
    typed = water_rows(once=new_key(), **levels, **reading, **depth)
    answer = desk.post(address, {**typed, "reading-time": "noon"})
    assert answer.status_code == 422 and "Type a time like 14:30." in answer.content.decode()
    assert all(f'value="{text}"' in answer.content.decode() for text in ("3.5", "3.7", "4.2"))
    assert not LevelRange.objects.exists() and not site.depths_standing()
    assert desk.post(address, {**typed, "reading-time": "14:30", "reading-source": "mark"}).status_code == 303
    assert LevelRange.objects.get().normal_in == 42.0
    assert [reading.value_in for reading in site.readings.all()] == [pytest.approx(44.4)]
    assert [point.label for point in site.depths_standing()] == ["ramp end"]


def test_it_writes_no_range_where_only_a_depth_is_known(desk: Browser, site: Site) -> None:
    desk.post(f"/sites/{site.pk}/water/", water_rows(**{"depth-0-label": "ramp end", "levels-datum": " "}))
    assert site.depths_standing() and not LevelRange.objects.exists() and not site.readings.exists()


def note_permit(desk: Browser, job: Job, **typed):
    return save(desk, f"/jobs/{job.number}/permits/new/", **{"authority": "Town", **typed})


def test_it_files_a_permit_and_hands_its_paper_out_harmless(desk: Browser, crew: Browser, job: Job) -> None:
    paper = SimpleUploadedFile("../../stamped plan.pdf", b"%PDF-1.7 stamped")
    answer = note_permit(desk, job, file=paper, most_width_in="1.20 m")
    assert answer.status_code == 303
    permit = Permit.objects.get()
    assert permit.most_width_in == pytest.approx(47.244, abs=1e-3) and "stamped" not in permit.file.name
    handed = crew.get(f"/jobs/{job.number}/permits/{permit.pk}/paper/")
    assert "sandbox" in handed["Content-Security-Policy"] and b"".join(handed.streaming_content).startswith(b"%PDF")
    assert crew.get(f"/jobs/{job.number}/permits/{permit.pk}/").status_code == 403


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"file": SimpleUploadedFile("plan.pdf", b"<script>alert(1)</script>")}, "not a PDF, PNG or JPEG"),
        ({"authority": ""}, "Name the authority"),
        ({"issued_on": "1 May 2026", "expires_on": "30 April 2026"}, "can’t expire before it was issued"),
        ({"fee": "-5"}, "At least"),
        ({"most_width_in": "wide"}, "is not a length"),
    ],
)
@pytest.mark.page
def test_it_refuses_a_permit_that_cannot_be(desk: Browser, job: Job, typed: dict, sentence: str) -> None:
    answer = note_permit(desk, job, **typed)
    assert answer.status_code == 422 and sentence in answer.content.decode()
    assert not Permit.objects.exists()


def test_it_finds_no_permit_under_another_job(desk: Browser, job: Job, merrit: Staff) -> None:
    permit = services.record_permit(job, facts={"authority": "Town"}, by=merrit)
    assert desk.get(f"/jobs/26-999/permits/{permit.pk}/").status_code == 404
