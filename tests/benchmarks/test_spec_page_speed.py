"""How long the shop's machine takes to answer one change on the spec page. Run with `pytest --benchmark-only`.

Processor time of the best round, from the posted boxes to the finished answer: read, worked out, drawn twice, written.
"""

import time
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from contractor.company.models import Staff
from jobs.records import services
from tests.spec_page.conftest import boss, furnished, job, office, page, revision, typed
from tests.spec_page.test_show_spec import HTMX, marks

__all__ = ["boss", "furnished", "job", "office", "revision"]


def sent(boxes: dict) -> tuple[str, str]:
    """Boxes as a browser sends them: body and content type."""
    return urlencode(boxes, doseq=True), "application/x-www-form-urlencoded"


@pytest.mark.benchmark(timer=time.process_time)
@pytest.mark.parametrize("shape", ["straight", "ell"])
def test_it_answers_a_change_in_under_150_ms(benchmark, office: Client, boss: Staff, revision, shape: str) -> None:
    two_sections = {"length": "24", "shape": shape, "ramp__kind": "built", "anchors__plan": "four"}
    dock = page(revision, typed(revision, **two_sections)).spec()
    saved = services.save_spec(revision, spec=dock, seen_version=1, by=boss)
    data = typed(saved, gap="3/16").dict() | {"mark": marks(saved)}
    address = reverse("records:spec_preview", args=[saved.job.number, "A"])
    response = benchmark.pedantic(office.post, (address, *sent(data)), HTMX, rounds=40, warmup_rounds=3)
    assert response.status_code == 200 and b'id="worked"' in response.content
    assert benchmark.stats.stats.min < 0.150


@pytest.mark.benchmark(timer=time.process_time)
def test_it_opens_the_page_in_under_300_ms(benchmark, office: Client, revision) -> None:
    response = benchmark.pedantic(office.get, (revision.get_absolute_url(),), rounds=10, warmup_rounds=2)
    assert response.status_code == 200 and services.spec_of(revision).sections
    assert benchmark.stats.stats.min < 0.300


@pytest.mark.benchmark(timer=time.process_time)
def test_it_answers_one_person_more_in_under_150_ms(benchmark, office: Client, boss: Staff, revision) -> None:
    dock = page(revision, typed(revision, length="24", shape="ell", ramp__kind="built")).spec()
    saved = services.save_spec(revision, spec=dock, seen_version=1, by=boss)
    stepped = {"crowd-where": "B, left edge", "crowd-people": "5", "crowd-step": "1"}
    data = typed(saved).dict() | {"mark": marks(saved)} | stepped
    address = reverse("records:spec_preview", args=[saved.job.number, "A"])
    step = {**HTMX, "HTTP_HX_TARGET": "lies"}
    response = benchmark.pedantic(office.post, (address, *sent(data)), step, rounds=10, warmup_rounds=2)
    assert response.status_code == 200 and b"6 people here" in response.content.replace(b"\xc2\xa0", b" ")
    assert benchmark.stats.stats.min < 0.150
