"""How the dock lies with nobody aboard, and how many people it holds, on the spec page."""

import re
from dataclasses import replace

import pytest
from django.template.loader import render_to_string
from django.test import Client
from django.urls import reverse

from contractor.company.models import Company
from estimating.engine.proof import FloatProof
from jobs.records.documents.spec_float import flotation
from jobs.records.documents.spec_results import speak
from jobs.records.models import SpecRevision
from tests.drawing import reading
from tests.spec_page.test_show_float_loads import TIPPY, plainly, proof
from tests.spec_page.test_show_spec import look

pytestmark = pytest.mark.page

LISTING = {"length": "24", "shape": "ell", "ramp__kind": "built"}
TURNING = {"rows": "1", "columns": "2"}


def corners(body: str) -> str:
    return re.search(r'<svg class="dwg corners".*?</svg>', body)[0]


def crowds(body: str) -> str:
    part = body[body.index('<div class="crowds">') :]
    return plainly(part[: part.index("</div>\n<div")])


def inches(proof: FloatProof, section: str, corner: str) -> str:
    lying = next(s for s in proof.case("dead_wet").sections if s.section == section)
    return f"{next(c for c in lying.corners if c.corner == corner).freeboard_in:.1f}″"


def test_it_letters_the_corners_with_the_freeboard_of_the_proof(office: Client, revision: SpecRevision) -> None:
    body, worked = look(office, revision, **LISTING).content.decode(), proof(revision, **LISTING)
    lettered = reading.texts(corners(body))
    shore, lake = inches(worked, "A", "shore-left"), inches(worked, "B", "lake-left")
    assert shore in lettered and lake in lettered and shore != lake
    described = reading.parse(corners(body)).find(f"{reading.SVG}desc").text
    assert described.count(" in") == 4 * 3 and f"shore end left {shore[:-1]} in" in described


def test_it_draws_the_dock_at_the_trim_of_the_proof(office: Client, revision: SpecRevision) -> None:
    body, worked = look(office, revision, **LISTING).content.decode(), proof(revision, **LISTING)
    drawn = re.search(r'<svg class="dwg wide".*?</svg>', body)[0]
    assert inches(worked, "A", "shore-right") in reading.texts(drawn)
    scale = float(reading.parse(drawn).get("data-scale"))
    frame = next(mark for mark in reading.parts(drawn, "frame") if mark.get("data-mark") == "A")
    (_, shore_px), (_, lake_px) = reading.points(frame)[:2]
    fall = float(inches(worked, "A", "lake-right")[:-1]) - float(inches(worked, "A", "shore-right")[:-1])
    assert abs((shore_px - lake_px) / scale - fall) < 0.15
    assert "shore end left" in reading.parse(drawn).find(f"{reading.SVG}desc").text


def test_it_prints_the_drawing_at_the_trim_of_the_proof(office: Client, revision: SpecRevision, monkeypatch) -> None:
    drawn = []
    monkeypatch.setattr(
        "jobs.records.documents.spec_drawing.draw", lambda dock, sheet: drawn.append(sheet.trims) or render(dock, sheet)
    )
    response = office.get(reverse("records:spec_drawing", args=[revision.job.number, "A"]))
    assert response["Content-Type"] == "application/pdf"
    lying = proof(revision).case("dead_wet").sections[0]
    assert [trim.lake_left_in for trim in drawn[0]] == [lying.corners[2].freeboard_in]


def render(dock, sheet):
    from estimating.engine.drawing import draw

    return draw(dock, sheet)


def test_it_goes_from_float_bottom_to_lowest_corner_with_a_pencil(office: Client, revision: SpecRevision) -> None:
    said = plainly(look(office, revision, **LISTING).content.decode())
    ledger = said[said.index("Why this freeboard?") : said.index("Lumber wet, ramp and fittings on")]
    deep, draft, level, tilt, low = (
        float(re.search(rf"{label}[^.]*? (-?\d+\.\d) in", ledger)[1])
        for label in ("Bottom of floats", "Less the draft", "Freeboard, lying level", "Tilt, and", "Lowest corner")
    )
    assert round(deep + draft, 1) == level and round(level + tilt, 1) == low and draft < 0 > tilt
    assert f"{low} in at" in said


def test_it_counts_people_where_they_stand_and_what_to_post(office: Client, revision: SpecRevision) -> None:
    said, worked = crowds(office.get(revision.get_absolute_url()).content.decode()), proof(revision)
    spread = worked.crowd("spread")
    # Archimedes: lying level, so many adults of 175 lb as the lift left with the dock alone can carry
    assert spread.holds == int(worked.case("dead_wet").reserve_lb // 175)
    # two thirds of the count that puts it under, rounded down
    assert f"Spread out {spread.holds} {(spread.holds + 1) * 2 // 3} " in said
    edge = worked.crowd("edge")
    assert f"Along one edge {edge.holds} {edge.posted} {edge.tilt_deg:.1f}° {edge.freeboard_in:.1f} in" in said
    assert edge.where in said and "A person is 175 lb" in said and "On the ramp" not in said


def test_it_says_who_may_stand_on_the_ramp(office: Client, revision: SpecRevision) -> None:
    said = crowds(look(office, revision, **LISTING).content.decode())
    assert re.search(r"On the ramp \d+ \d+ .*lands on A why", said)


def test_it_does_not_say_nobody_where_nobody_was_counted(office: Client, revision: SpecRevision) -> None:
    look(office, revision)
    from jobs.records.documents.spec_results import open_books, work_out
    from jobs.records.services import spec_at_site, spec_of
    from tests.jobs.conftest import TODAY

    worked = work_out(spec_at_site(spec_of(revision), revision.job.site), open_books(on=TODAY), with_money=False)
    uncounted = flotation(worked.design, replace(worked.afloat.proof, people=()), speak, prefix="t")
    said = plainly(render_to_string("jobs/records/spec_float_rest.html", {"afloat": uncounted}))
    assert "Not counted." in said and "Holds" not in said


def test_it_gives_no_freeboard_to_a_dock_that_turns_over_by_itself(office: Client, revision: SpecRevision) -> None:
    response = look(office, revision, **TURNING)
    body = response.content.decode()
    assert response.status_code == 200 and 'class="dwg corners"' not in body
    said = plainly(body)
    assert "Turns over Wet, with nobody aboard" in said and "Drawn level: by itself it turns over" in said
    assert re.search(r"Spread out 0 0 why", crowds(body))
    assert "The dock turns over with nobody aboard" in said


def test_it_tells_least_freeboard_and_people_to_those_who_listen(office: Client, revision: SpecRevision) -> None:
    body, worked = look(office, revision, **TIPPY).content.decode(), proof(revision, **TIPPY)
    news = plainly(re.search(r'id="news".*?</p>', body, re.S)[0])
    low = worked.case("dead_wet").least_freeboard_in
    assert f"Deck {low:.1f} in above the water at its lowest corner" in news
    assert f"{worked.crowd('spread').holds} people spread out" in news


def test_it_letters_millimetres_for_a_metric_firm(office: Client, revision: SpecRevision) -> None:
    Company.objects.update(units="metric")
    body = office.get(revision.get_absolute_url()).content.decode()
    low = proof(revision).case("dead_wet").least_freeboard_in
    assert f"{low * 25.4:.0f} mm" in reading.texts(corners(body))
