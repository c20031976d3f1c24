"""Beside the spec: ramp and bottom at each level of the water, and on a day somebody asks about."""

from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import reverse

from contractor.company.models import Staff
from jobs.records import services
from jobs.records.models import SpecRevision
from tests.spec_page.conftest import boss, crew, furnished, job, office, revision, typed
from tests.spec_page.test_show_spec import HTMX, marks

pytestmark = pytest.mark.page

__all__ = ["boss", "crew", "furnished", "job", "office", "revision"]

ON_DAY = {**HTMX, "HTTP_HX_TARGET": "range"}


@pytest.fixture
def held(revision: SpecRevision, boss: Staff) -> Iterator[SpecRevision]:
    """A dock whose water is held to a calendar: 1.5 ft on 1 February, 3.5 ft on 1 May."""
    rows = [{"month": 2, "day": 1, "level_in": 18.0}, {"month": 5, "day": 1, "level_in": 42.0}]
    services.save_calendar(revision.job.site, seen_version=1, rows=rows, by=boss)
    return revision


def asked(office: Client, revision: SpecRevision, *, whole: bool = False, **boxes: str) -> str:
    data = typed(revision, ramp__kind="built", ramp__length="16", **boxes).dict() | {"mark": marks(revision)}
    address = reverse("records:spec_preview", args=[revision.job.number, revision.letter])
    answer = office.post(address, data, **({} if whole else ON_DAY))
    return answer.content.decode().replace("\xa0", " ")


def test_it_answers_for_a_day_alone_to_the_box_and_as_a_page_without_script(office: Client, held) -> None:
    piece = asked(office, held, range__on="17 March 2027")
    # 44 of 89 days from 1 February to 1 May: 18 + 24 x 44/89 in
    level = f"{round((18 + 24 * 44 / 89) / 12, 2):g} ft, by the calendar"
    assert level in piece and 'id="range"' in piece and "<h1" not in piece and 'id="worked"' not in piece
    whole = asked(office, held, whole=True, range__on="17 March 2027")
    assert level in whole and "<h1" in whole


def test_it_says_at_the_box_what_is_no_day_and_keeps_it(office: Client, held) -> None:
    piece = asked(office, held, range__on="31 Smarch")
    assert "“31 Smarch” is not a day" in piece and 'value="31 Smarch"' in piece


def test_it_shows_the_crew_a_day_by_its_address(crew: Client, held, boss: Staff) -> None:
    page = crew.get(held.get_absolute_url(), {"range-on": "17 March 2027"})
    assert "by the calendar" in page.content.decode().replace("\xa0", " ")


def test_it_says_exempt_and_steep_beside_an_accessible_ramp(office: Client, held) -> None:
    piece = asked(office, held, ramp__accessible="on", ramp__slips="400")
    assert "Accessible route, ADA 405.2 and 1003.2.1: <b>too steep</b>" in piece
    assert "Accessible route" not in asked(office, held)


def test_it_shows_which_sections_sit_on_the_bottom_and_whose_rule_holds(office: Client, held, boss: Staff) -> None:
    site = held.job.site
    services.save_site(site, seen_version=site.version, changes={"least_clearance_in": 30.0}, by=boss)
    rows = [
        {"label": "near", "distance_in": 180.0, "depth_in": 20.0},
        {"label": "far", "distance_in": 420.0, "depth_in": 240.0},
    ]
    services.save_depths(site, seen_version=1, rows=rows, by=boss)
    piece = asked(office, SpecRevision.objects.get(pk=held.pk))
    assert "Section A will sit on the bottom." in piece
    assert "at least 2.5 ft under them by the rules at the site" in piece
    assert "Shore end of A, between two points" in piece
    whole = asked(office, SpecRevision.objects.get(pk=held.pk), whole=True)
    assert "Section A sits on the bottom at low water" in whole


def test_it_sends_to_the_water_page_where_no_level_is_known(office: Client, held, boss: Staff) -> None:
    levels = {"datum": "", "low_in": None, "normal_in": None, "high_in": None}
    services.save_levels(held.job.site, seen_version=1, changes=levels, by=boss)
    piece = asked(office, SpecRevision.objects.get(pk=held.pk))
    assert "The water’s levels are not known." in piece
