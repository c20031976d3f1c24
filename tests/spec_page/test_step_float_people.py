"""So many people at this edge: stepped up and down beside the spec, with scripts and without."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from estimating.engine.afloat.stepping import with_people
from estimating.engine.pipeline import estimate
from jobs.records import services
from jobs.records.documents.spec_results import open_books
from jobs.records.models import SpecRevision
from tests.jobs.conftest import TODAY
from tests.spec_page.conftest import typed
from tests.spec_page.test_show_float_loads import TIPPY, plainly, proof
from tests.spec_page.test_show_spec import HTMX, keep, look, marks

pytestmark = pytest.mark.page

STEP = {**HTMX, "HTTP_HX_TARGET": "lies"}


def step(office: Client, revision: SpecRevision, **boxes: str) -> str:
    address = reverse("records:spec_preview", args=[revision.job.number, revision.letter])
    posted = typed(revision, **boxes).dict() | {"mark": marks(revision)}
    return office.post(address, posted, **STEP).content.decode()


def panel(body: str) -> str:
    return body[body.index('class="full lies"') : body.find('<div class="full loads">')]


def people(body: str) -> str:
    return re.search(r'name="crowd-people" value="([^"]*)"', body)[1]


def test_it_opens_on_the_crowd_the_firm_asks_for(office: Client, revision: SpecRevision) -> None:
    body, edge = office.get(revision.get_absolute_url()).content.decode(), proof(revision).case("edge")
    assert people(body) == str(edge.people) and f"<option selected>{edge.where}</option>" in body
    said = plainly(panel(body))
    assert f"Least freeboard {edge.least_freeboard_in:.1f} in, tilt {edge.most_tilt_deg:.1f}°." in said
    assert body.count('class="dwg tilt"') == 2 and body.count('name="crowd-where"') == 1


def test_it_answers_a_step_with_the_panel_alone(office: Client, revision: SpecRevision) -> None:
    body = step(office, revision, crowd__where="A, lake end", crowd__people="2", crowd__step="1")
    assert body.lstrip().startswith('<div id="lies">') and 'id="worked"' not in body and "<input" not in body
    books = open_books(on=TODAY)
    worked = estimate(
        services.spec_at_site(services.spec_of(revision), revision.job.site), books.catalogue, books.rules
    )
    case = with_people(worked.design, books.catalogue, books.rules, where="A, lake end", people=3)
    lowest, tilt = f"{case.least_freeboard_in:.1f} in", f"{case.most_tilt_deg:.1f}°"
    assert f"3 people here, A, lake end: floats. Least freeboard {lowest}, tilt {tilt}." in plainly(body)
    assert 'id="news" hx-swap-oob="true"' in body


def test_it_tilts_more_with_every_person(office: Client, revision: SpecRevision) -> None:
    tilts = []
    for count in ("0", "2", "4", "6"):
        said = plainly(step(office, revision, crowd__where="A, left edge", crowd__people=count))
        tilts.append(float(re.search(r"tilt (\d+\.\d)°\.", said)[1]))
    assert tilts == sorted(tilts) and tilts[0] == 0.0 and len(set(tilts)) == 4


def test_it_steps_what_stands_in_the_boxes_not_what_was_saved(office: Client, revision: SpecRevision) -> None:
    kept = plainly(step(office, revision, crowd__where="A, left edge", crowd__people="4"))
    tippy = plainly(step(office, revision, crowd__where="A, left edge", crowd__people="4", **TIPPY))
    assert "floats" in kept and "Stop 4 people" in tippy and "turns over from" in tippy


def test_it_draws_no_dock_that_turns_over(office: Client, revision: SpecRevision) -> None:
    body = step(office, revision, crowd__where="A, left edge", crowd__people="4", **TIPPY)
    assert 'class="dwg tilt"' not in body and "Least freeboard" not in body


def test_it_never_counts_below_nobody(office: Client, revision: SpecRevision) -> None:
    body = step(office, revision, crowd__where="A, lake end", crowd__people="0", crowd__step="-1")
    assert "0 people here" in plainly(body)


@pytest.mark.parametrize("typed_in", ["a few", "-3", "2.5", "9999", "<b>4"])
def test_it_says_at_the_box_what_is_no_count_and_keeps_it(
    office: Client, revision: SpecRevision, typed_in: str
) -> None:
    assert 'class="err"' in step(office, revision, crowd__where="A, lake end", crowd__people=typed_in)
    body = keep(office, revision, do="look", crowd__people=typed_in).content.decode()
    assert re.search(r'id="crowd-error"><p class="err">', body)
    assert people(body) == typed_in.replace("<", "&lt;").replace(">", "&gt;")
    assert ("At most 500 people." if typed_in == "9999" else "Type how many people as a whole number") in body


def test_it_falls_back_where_that_edge_is_no_more(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, crowd__where="F, left edge", crowd__people="2").content.decode()
    assert re.search(r"<option selected>A, (left|right) edge</option>", body) and people(body) == "2"


def test_it_shows_any_other_load(office: Client, revision: SpecRevision) -> None:
    opened = office.get(revision.get_absolute_url()).content.decode()
    value = re.search(r'<option value="(case-\d+)">20 psf on half of the deck', opened.replace("\u00a0", " "))[1]
    body, half = step(office, revision, crowd__where=value, crowd__people="4"), proof(revision).case("half")
    assert f"Least freeboard {half.least_freeboard_in:.1f} in" in plainly(body)


def test_it_keeps_the_crowd_while_the_spec_is_edited(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, length="15", crowd__where="A, lake end", crowd__people="2").content.decode()
    assert people(body) == "2" and "<option selected>A, lake end</option>" in body


def test_it_steps_without_scripts_and_loses_nothing_typed(office: Client, revision: SpecRevision) -> None:
    boxes = {"crowd__where": "A, lake end", "crowd__people": "2", "crowd__step": "1", "title": "Heron dock"}
    response = keep(office, revision, do="", **boxes)
    body = response.content.decode()
    assert response.status_code == 200 and people(body) == "3" and 'value="Heron dock"' in body
    assert 'name="crowd-step" value="1" form="spec-form"' in body
    revision.refresh_from_db()
    assert revision.version == 1


def test_it_steps_for_those_who_do_not_change_the_spec(crew: Client, revision: SpecRevision) -> None:
    address = revision.get_absolute_url()
    opened = crew.get(address).content.decode()
    assert '<form class="ask" method="get"' in opened and 'form="spec-form"' not in panel(opened)
    asked = {"crowd-where": "A, lake end", "crowd-people": "2", "crowd-step": "1"}
    assert people(crew.get(address, asked).content.decode()) == "3"
    alone = crew.get(address, asked, **STEP).content.decode()
    assert alone.lstrip().startswith('<div id="lies">') and "3 people here" in plainly(alone)


def test_it_says_what_is_wrong_with_the_spec_instead(office: Client, revision: SpecRevision) -> None:
    body = step(office, revision, length="sixteen", crowd__people="3")
    assert "Cannot be worked out yet" in body and 'id="lies"' not in body
