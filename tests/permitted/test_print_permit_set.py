"""The sketch set, the DXF and the anchors of a day, as they leave the house."""

import io
import os
from dataclasses import replace
from datetime import date
from pathlib import Path

import ezdxf
import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from contractor.company.models import Company, Staff
from estimating.engine.spec import Anchor
from jobs.records import services
from jobs.records.models import Job, SpecRevision, WindowKind
from tests.spec_page.conftest import boss, crew, furnished, job, office, revision

__all__ = ["boss", "crew", "furnished", "job", "office", "revision"]
pytestmark = [pytest.mark.django_db, pytest.mark.paper]
WINTER = {"kind": WindowKind.BARRED, "first_month": 10, "first_day": 15, "last_month": 5, "last_day": 31, "note": ""}
PT = 72.0
SIZES = {"letter": (11 * PT, 8.5 * PT), "a4": (297 / 25.4 * PT, 210 / 25.4 * PT)}
KEPT = os.environ.get("KEEP_PAPERS", "")


@pytest.fixture
def permitted(job: Job, revision: SpecRevision, boss: Staff) -> SpecRevision:
    """A job with side lines, a permit with limits and windows, storm water and depths."""
    lines = {"setback_left_in": 300.0, "setback_right_in": 276.0, "frontage_in": 576.0, "least_setback_in": 120.0}
    services.save_site(job.site, seen_version=job.site.version, changes=lines, by=boss)
    job.site.refresh_from_db()
    levels = services.save_levels(job.site, changes={"storm_in": 78.0}, seen_version=job.site.levels.version, by=boss)
    assert levels.storm_in == 78.0
    depths = [("ramp end", 140.0, 50.0), ("middle", 250.0, 62.0), ("lake end", 340.0, 74.0)]
    rows = [{"label": label, "distance_in": out, "depth_in": deep} for label, out, deep in depths]
    services.save_depths(job.site, seen_version=job.site.depths_version, rows=rows, by=boss)
    revision.refresh_from_db()
    spec = services.spec_of(revision)
    held = tuple(
        Anchor(str(number), spec.sections[-1].mark, corner, depth_in=62.0)
        for number, corner in enumerate(("lake-left", "lake-right"), start=1)
    )
    services.save_spec(revision, spec=replace(spec, anchors=held), seen_version=revision.version, by=boss)
    facts = {"authority": "Parks office", "issued_on": date(2026, 4, 1), "most_width_in": 60.0, "most_reach_in": 480.0}
    services.record_permit(job, facts=facts, windows=[WINTER], by=boss)
    return SpecRevision.objects.get(pk=revision.pk)


def keep(name: str, content: bytes) -> None:
    if KEPT:
        Path(KEPT, name).write_bytes(content)


def get(browser: Client, name: str, revision: SpecRevision, **asked: str) -> bytes:
    answer = browser.get(reverse(f"records:{name}", args=[revision.job.number, revision.letter]), asked)
    assert answer.status_code == 200, answer
    return answer.content


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_it_prints_plan_elevation_section_and_notes(crew: Client, permitted: SpecRevision, paper: str) -> None:
    Company.objects.update(units="metric" if paper == "a4" else "imperial")
    pdf = get(crew, "permit_set", permitted, paper=paper, on="1 January 2027")
    keep(f"set-{paper}.pdf", pdf)
    pages = PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == 3
    for page in pages:
        box = page.mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(SIZES[paper], abs=0.5)
    words = [page.extract_text().replace("\xa0", " ") for page in pages]
    assert all(permitted.job.number in text and "Not a substitute for an engineer" in text for text in words)
    assert "left side line" in words[0] and "shoreline" in words[0] and "anchor 1" in words[0]
    drawn = words[1].replace(" ", "")
    assert all(name in drawn for name in ("Storm", "High", "Normal", "Low", "1January"))
    assert "Parks office" in words[2] and "not kept" in words[2] and "15 October to 31 May" in words[2]


def boxes_in(page: PageObject) -> list[tuple[float, float, float, float]]:
    """Every rectangle of a page as it lies on the paper, in points: x, y, width, height."""
    found, at, kept = [], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator == b"q":
            kept.append(at)
        elif operator == b"Q":
            at = kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(value) for value in operands)
            assert (b, c) == (0, 0) or (a, d) == (0, 0)
            at = (a * at[0], b, c, d * at[3], e * at[0] + at[4], f * at[3] + at[5])
        elif operator == b"re":
            x, y, wide, tall = (float(value) for value in operands)
            found.append((x * at[0] + at[4], y * at[3] + at[5], abs(wide * at[0]), abs(tall * at[3])))
    return found


def test_it_prints_a_bar_and_a_dock_that_measure_on_paper(crew: Client, permitted: SpecRevision) -> None:
    page = PdfReader(io.BytesIO(get(crew, "permit_set", permitted, paper="letter"))).pages[0]
    assert "3/32 inch to the foot" in page.extract_text() and "8 ft" in page.extract_text()
    per_foot = 3 / 32 * PT
    boxes = boxes_in(page)
    steps = [
        box
        for box in boxes
        if box[3] == pytest.approx(4.5, abs=0.02) and box[2] == pytest.approx(2 * per_foot, abs=0.05)
    ]
    assert max(box[0] + box[2] for box in steps) - min(box[0] for box in steps) == pytest.approx(8 * per_foot, abs=0.1)
    assert any(box[2:] == pytest.approx((16 * per_foot, 6 * per_foot), abs=0.1) for box in boxes)


def test_it_prints_the_anchors_of_a_day(crew: Client, permitted: SpecRevision) -> None:
    pdf = get(crew, "anchor_day", permitted, on="1 January 2027")
    keep("anchors.pdf", pdf)
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).replace("\xa0", " ")
    assert "Depth that day" in text and "Chain laid" in text
    assert "Parks office: no work in the water from 15 October to 31 May; 1 January 2027 lies in it." in text


def test_it_hands_out_a_dxf(crew: Client, permitted: SpecRevision) -> None:
    content = get(crew, "spec_dxf", permitted)
    keep("dock.dxf", content)
    read = ezdxf.read(io.StringIO(content.decode()))
    assert not read.audit().errors
    assert {"Sections", "Side lines", "Setbacks", "Bottom", "Chains"} <= {e.dxf.layer for e in read.modelspace()}


def test_it_shows_limits_and_the_days_rules_on_the_spec_page(office: Client, permitted: SpecRevision) -> None:
    page = (
        office.get(permitted.get_absolute_url(), {"range-on": "1 January 2027"}).content.decode().replace("\xa0", " ")
    )
    keep("spec.html", page.encode())
    assert "Permit limits" in page and "not kept" in page
    assert "Parks office: no work in the water from 15 October to 31 May; 1 January 2027 lies in it." in page
    assert "Parks office: 5′ 0″ wide at most; this dock is 6′ 0″." in page
