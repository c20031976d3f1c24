"""The spec page in the office: opened, looked at, kept; with htmx and without."""

import json
import re

import pytest
from django.test import Client
from django.urls import reverse

from contractor.company.models import Company, Staff
from jobs.records import services
from jobs.records.models import Job, SpecRevision
from tests.drawing import reading
from tests.spec_page.conftest import typed

HTMX = {"HTTP_HX_REQUEST": "true"}


def look(office: Client, revision: SpecRevision, **boxes: str):
    address = reverse("records:spec_preview", args=[revision.job.number, revision.letter])
    return office.post(address, typed(revision, **boxes).dict() | {"mark": marks(revision)}, **HTMX)


def keep(office: Client, revision: SpecRevision, **boxes: str):
    data = typed(revision, **boxes).dict() | {"mark": marks(revision), "do": boxes.get("do", "keep")}
    return office.post(revision.get_absolute_url(), data)


def marks(revision: SpecRevision) -> list[str]:
    return [section.mark for section in services.spec_of(revision).sections]


def figure(body: str, title: str) -> str:
    """The large figure under a title of the strip."""
    part = body[body.index(f"<h2>{title}") :]
    return re.sub(r"<[^>]+>", "", re.search(r'<p class="fig">(.*?)</p>', part)[1]).replace("\u00a0", " ").strip()


@pytest.mark.page
def test_it_shows_the_newest_revision_of_a_job(office: Client, revision: SpecRevision) -> None:
    response = office.get(reverse("records:spec_now", args=[revision.job.number]))
    assert response.status_code == 303 and response["Location"] == revision.get_absolute_url()


@pytest.mark.page
def test_it_offers_to_describe_a_dock_where_there_is_none(office: Client, job: Job) -> None:
    body = office.get(reverse("records:spec_now", args=[job.number])).content.decode()
    assert "No dock is described yet" in body and reverse("records:start_spec", args=[job.number]) in body


@pytest.mark.page
def test_it_shows_drawing_results_and_the_caution(office: Client, revision: SpecRevision) -> None:
    body = office.get(revision.get_absolute_url()).content.decode()
    assert body.count("<h1>") == 1 and "Quarrington" in body
    assert 'class="dwg wide"' in body and 'class="dwg small"' in body
    # the known check of the trade: a 6 x 16 ft dock, four corners of eight and four tees of four
    assert figure(body, "Bolts") == "48"
    assert "as lumber usually lies in the yard" in body
    assert "Check on site. Not a substitute for an engineer where one is required." in body
    assert "Why so many bolts?" in body and "Why this freeboard?" in body and "How the price is built up" in body


@pytest.mark.page
def test_it_speaks_metres_to_a_metric_firm(office: Client, revision: SpecRevision) -> None:
    Company.objects.update(units="metric")
    body = office.get(revision.get_absolute_url()).content.decode().replace("\u00a0", " ")
    assert 'name="width" value="1.8288 m"' in body and "Normal 1.07 m" in body
    lettered = reading.texts(re.search(r'<svg class="dwg wide".*?</svg>', body)[0])
    assert "4.88 m" in lettered and not any("′" in words for words in lettered)
    faulty = look(office, revision, gap="9 m").content.decode().replace("\u00a0", " ")
    assert "9.00 m was given" in faulty


@pytest.mark.page
def test_it_gives_every_part_of_the_page_its_own_id(office: Client, revision: SpecRevision) -> None:
    ids = re.findall(r'\sid="([^"]+)"', office.get(revision.get_absolute_url()).content.decode())
    assert len(ids) == len(set(ids))


@pytest.mark.page
def test_it_answers_a_change_with_the_right_column_alone(office: Client, revision: SpecRevision) -> None:
    response = look(office, revision, length="15")
    body = response.content.decode()
    assert response.status_code == 200 and body.lstrip().startswith('<div id="worked">')
    assert "<form" not in body and "15′ 0″" in body and 'id="id_length"' not in body
    revision.refresh_from_db()
    assert revision.version == 1


@pytest.mark.page
def test_it_redraws_only_the_regions_whose_boxes_changed(office: Client, revision: SpecRevision) -> None:
    assert 'id="region-' not in look(office, revision, length="15").content.decode()
    longer = look(office, revision, length="24").content.decode()
    assert 'id="region-sections"' in longer and 'id="region-joints"' in longer
    assert 'id="region-shape"' not in longer and 'id="region-ramp"' not in longer
    ell = look(office, revision, shape="ell").content.decode()
    assert 'name="leg_length"' in ell and "12&#x27; 0&quot;" in ell


@pytest.mark.page
def test_it_posts_what_the_regions_were_drawn_for(office: Client, revision: SpecRevision) -> None:
    opened = office.get(revision.get_absolute_url()).content.decode()
    posted = typed(revision)
    for region, drawn in re.findall(r'name="drawn-(\w+)" value="([^"]*)"', opened):
        assert posted[f"drawn-{region}"] == drawn


@pytest.mark.page
def test_it_tells_of_a_bad_box_at_the_box_and_keeps_the_last_drawing(office: Client, revision: SpecRevision) -> None:
    response = look(office, revision, length="sixteen")
    body = response.content.decode()
    assert response.status_code == 422
    assert (response["HX-Retarget"], response["HX-Reswap"]) == ("#faults", "outerHTML")
    assert 'id="id_length_fault" hx-swap-oob="true"' in body and "“sixteen” is not a length" in body
    assert "Cannot be worked out yet" in body and '<svg class="dwg' not in body


@pytest.mark.page
def test_it_puts_an_engine_fault_at_its_box_in_the_readers_units(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, gap="9").content.decode()
    assert 'id="id_gap_fault" hx-swap-oob="true"' in body
    assert "between 0″ and 2″; 9″ was given" in body


@pytest.mark.page
def test_it_clears_a_box_that_was_put_right(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, length="24", faulted="id_length id_gap").content.decode()
    assert '<div class="fault" id="id_length_fault" hx-swap-oob="true"></div>' in body
    assert '<div class="fault" id="id_gap_fault" hx-swap-oob="true"></div>' in body


@pytest.mark.page
def test_it_keeps_everything_typed_when_it_refuses_without_scripts(office: Client, revision: SpecRevision) -> None:
    response = keep(office, revision, length="sixteen", width="5'9 1/2", title="Heron dock")
    body = response.content.decode()
    assert response.status_code == 422
    assert 'value="sixteen"' in body and "5&#x27;9 1/2" in body and 'value="Heron dock"' in body
    assert 'aria-invalid="true"' in body and "is not a length" in body
    revision.refresh_from_db()
    assert revision.version == 1


@pytest.mark.page
def test_it_shows_an_engine_fault_at_its_box_without_scripts(office: Client, revision: SpecRevision) -> None:
    body = keep(office, revision, overhang="-2").content.decode()
    assert "below zero" in body
    body = keep(office, revision, overhang="40").content.decode()
    assert re.search(r'id="id_overhang_fault"><p class="err"', body)


@pytest.mark.page
def test_it_works_a_changed_spec_out_without_scripts_and_keeps_nothing(office: Client, revision: SpecRevision) -> None:
    response = keep(office, revision, shape="tee", do="look")
    body = response.content.decode()
    assert response.status_code == 200 and 'name="head_length"' in body
    revision.refresh_from_db()
    assert revision.version == 1


def test_it_keeps_what_was_typed_and_says_so_in_the_log(office: Client, revision: SpecRevision) -> None:
    response = keep(office, revision, length="24", ramp__kind="built", anchors__plan="two")
    assert response.status_code == 303 and response["Location"] == revision.get_absolute_url()
    revision.refresh_from_db()
    spec = services.spec_of(revision)
    assert [section.length_in for section in spec.sections] == [144, 144]
    assert spec.ramp.length_in == 144 and len(spec.anchors) == 2
    assert spec.ramp.hinge_level_in == 79  # written on the site, once


def test_it_changes_nothing_when_nothing_was_typed(office: Client, revision: SpecRevision) -> None:
    before = revision.document
    assert keep(office, revision).status_code == 303
    revision.refresh_from_db()
    assert (revision.document, revision.version) == (before, 1)


def test_it_describes_a_dock_from_two_sizes_alone(office: Client, revision: SpecRevision) -> None:
    address = revision.get_absolute_url()
    data = {"shape": "straight", "width": "6", "length": "16", "version": "1", "do": "keep"}
    assert office.post(address, data).status_code == 303


@pytest.mark.page
def test_it_places_sections_by_hand_where_the_shape_had_put_them(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, length="24", shape="free").content.decode()
    assert 'name="at-A-x"' in body and 'name="at-B-x" value="12&#x27; 0&quot;"' in body


def test_it_adds_and_takes_away_sections_placed_by_hand(office: Client, revision: SpecRevision) -> None:
    body = keep(office, revision, shape="free", do="add-section").content.decode()
    assert 'name="at-B-x" value="16&#x27; 0&quot;"' in body
    data = typed(revision, shape="free", drawn__shape="free").dict() | {"do": "add-section"}
    page = office.post(revision.get_absolute_url(), {**data, "mark": ["A", "B"], "at-B-length": "9"}).content.decode()
    assert 'value="9"' in page and 'name="at-C-length"' in page
    page = office.post(revision.get_absolute_url(), {**data, "mark": ["A", "B"], "do": "drop-A"}).content.decode()
    assert 'name="at-A-length"' not in page and 'name="at-B-length"' in page


def test_it_goes_on_to_the_quote_with_what_was_typed(office: Client, revision: SpecRevision) -> None:
    response = keep(office, revision, length="20", do="quote")
    assert response.status_code == 303 and "/quotes/" in response["Location"]
    again = keep(office, SpecRevision.objects.get(), do="quote")
    assert again["Location"] == response["Location"]


@pytest.mark.page
def test_it_says_the_price_before_the_edit(office: Client, revision: SpecRevision) -> None:
    opened = office.get(revision.get_absolute_url()).content.decode()
    was = re.search(r'name="was" value="([^"]+)"', opened)[1]
    body = look(office, revision, length="32", was=was).content.decode()
    assert re.search(r"Was [\d,.]+ before this edit", body)


@pytest.mark.page
def test_it_prints_the_drawing_on_one_sheet(office: Client, revision: SpecRevision) -> None:
    from io import BytesIO

    from pypdf import PdfReader

    response = office.get(reverse("records:spec_drawing", args=[revision.job.number, "A"]))
    assert response["Content-Type"] == "application/pdf"
    pdf = PdfReader(BytesIO(response.content))
    assert len(pdf.pages) == 1
    words = pdf.pages[0].extract_text()
    assert revision.job.number in words and "to the foot" in words and "Quarrington" in words


@pytest.mark.page
def test_it_shows_a_spec_that_cannot_be_worked_out_any_more(office: Client, revision: SpecRevision) -> None:
    document = json.loads(json.dumps(revision.document))
    document["sections"][0]["decking"] = {"board": "a-board-long-gone"}
    SpecRevision.objects.filter(pk=revision.pk).update(document=document)
    body = office.get(revision.get_absolute_url()).content.decode()
    assert "Cannot be worked out yet" in body and "a-board-long-gone, not on the list" in body


@pytest.mark.parametrize("form", ["<script>alert(1)</script>", '"><b>x'])
@pytest.mark.page
def test_it_prints_what_people_type_as_text(office: Client, revision: SpecRevision, form: str) -> None:
    for boxes in ({"title": form}, {"length": form}, {"ramp__kind": "built", "ramp__shore_fixing": form}):
        assert form not in look(office, revision, **boxes).content.decode()
        assert form not in keep(office, revision, do="look", **boxes).content.decode()


@pytest.mark.page
def test_it_holds_the_dock_against_what_the_authorities_allow(office: Client, revision: SpecRevision) -> None:
    type(revision.job.site).objects.update(most_width_in=66.0)
    body = office.get(revision.get_absolute_url()).content.decode().replace("\u00a0", " ")
    assert "The rules at the site: 5′ 6″ wide at most; this dock is 6′ 0″." in body


def test_it_knows_nobody_elses_letters(office: Client, revision: SpecRevision, boss: Staff) -> None:
    assert office.get(f"/jobs/{revision.job.number}/spec/B/").status_code == 404
    assert office.get("/jobs/99-999/spec/").status_code == 404
