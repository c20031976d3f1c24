"""The blank site sheet: two pages, everything the site page asks, nothing secret."""

from io import BytesIO

import pytest
from django.test import Client as Browser
from pypdf import PdfReader

from contractor.company.models import Staff
from jobs.records.forms.sites import SiteForm
from jobs.records.models import Job, Site
from tests.people import the_firm

from .conftest import make_job, make_site

pytestmark = pytest.mark.paper

LETTER, A4 = (612, 792), (595, 842)


@pytest.fixture
def job(merrit: Staff) -> Job:
    the_firm(paper="letter")
    return make_job(merrit, site=make_site(gate_code="4417"), their_words="For the kids.")


def pages_of(answer) -> list[str]:
    assert answer["Content-Type"] == "application/pdf"
    return [page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages]


def test_it_is_headed_by_the_job_and_fits_two_pages(crew: Browser, job: Job) -> None:
    pages = pages_of(crew.get(f"/jobs/{job.number}/site-sheet.pdf"))
    assert len(pages) == 2
    assert all(
        f"site sheet {job.number} Quarrington" in page and f"page {n} of 2" in page for n, page in enumerate(pages, 1)
    )
    for words in ("22 Heron Spit Road", "For the kids.", "Water level now", "Narrowest gate", "ledge", "Sketch"):
        assert words in " ".join(pages)


def test_it_never_prints_the_gate_code(desk: Browser, job: Job) -> None:
    assert "4417" not in " ".join(pages_of(desk.get(f"/jobs/{job.number}/site-sheet.pdf")))
    assert "4417" not in desk.get(f"/jobs/{job.number}/site-sheet/").content.decode()


@pytest.mark.parametrize(("paper", "size"), [("letter", LETTER), ("a4", A4)])
def test_it_comes_on_the_firm_s_paper(desk: Browser, job: Job, paper: str, size: tuple[int, int]) -> None:
    the_firm(paper=paper)
    sheet = PdfReader(BytesIO(desk.get(f"/jobs/{job.number}/site-sheet.pdf").content))
    assert len(sheet.pages) == 2
    assert tuple(round(side) for side in sheet.pages[0].mediabox[2:]) == size


def test_it_prints_without_a_job_and_in_metres(desk: Browser, db) -> None:
    the_firm(units="metric")
    pages = pages_of(desk.get("/site-sheet.pdf"))
    assert "Lengths in m, levels and depths in m." in " ".join(pages)


def test_it_asks_on_paper_in_the_order_of_the_screen() -> None:
    from jobs.records.documents.site_sheet import PARTS

    titles = [block.title for block, _ in SiteForm(instance=Site()).blocks()]
    on_paper = [title.split(",")[0] for title, _ in PARTS]
    assert on_paper == [title.split(",")[0] for title in titles[: len(on_paper)]]
