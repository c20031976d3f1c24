"""What holds the dock, on the spec page: anchors, drift, pictures and reasons."""

import pytest

from jobs.records import services
from jobs.records.documents.spec_mooring import _share
from tests.drawing.reading import parse
from tests.spec_page.test_show_spec import look

pytestmark = pytest.mark.page

TWO = {"anchors-plan": "two", "anchors-depth": "8"}


def test_it_shows_each_anchor_with_its_slack_hold_and_drift(office, revision):
    page = look(office, revision, **TWO).content.decode()
    moor = page[page.index("Anchors and chain") :]
    for said in ("1, on A", "Least slack", "why the hold", "why the chain", "How far the dock drifts", "low water:"):
        assert said in moor
    assert "Check on site. Not a substitute for an engineer where one is required." in moor
    start = moor.index('<svg class="dwg moored"')
    parse(moor[start : moor.index("</svg>", start) + 6])


def test_the_job_s_longest_boat_is_reckoned_with(office, job, boss):
    job.boat_length_in, job.boat_weight_lb = 240.0, 3500.0
    job.save()
    spec = services.spec_of(services.start_spec(job, by=boss))
    assert [(boat.length_in, boat.weight_lb) for boat in spec.boats] == [(240.0, 3500.0)]


def test_shares_far_over_are_told_in_times():
    assert [_share(share) for share in (0.254, 1.0, 4.49, 22.0, 1e9)] == [
        "25%",
        "100%",
        "4.5 times",
        "22 times",
        "no hold",
    ]
