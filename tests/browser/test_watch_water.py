"""A reservoir that is drawn down 20 ft: written in, its ramp too short on a day in March, lengthened, walked."""

from collections.abc import Iterator

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page, expect

from contractor.company.services import set_up_firm
from estimating.catalogue.services import load_starter
from jobs.records import services
from jobs.records.models import SpecRevision
from tests.jobs.conftest import make_job, make_site

pytestmark = pytest.mark.browser

FULL, DOWN = "20", "0"


@pytest.fixture
def page(transactional_db, live_server, chromium: Browser) -> Iterator[Page]:
    owner = {"login": "merrit", "name": "Merrit Vale", "email": ""}
    boss = set_up_firm(name="Vale Docks", units="imperial", currency="USD", password="a long password", owner=owner)
    load_starter(by=boss)
    site = make_site(boss, water_body="Hollow Reservoir", name="Lot 9", hinge_level_in=23 * 12.0)
    services.start_spec(make_job(boss, site=site, rough_size="6 x 16"), by=boss)
    client = Client()
    client.force_login(boss)
    cookie = {"name": settings.SESSION_COOKIE_NAME, "value": client.cookies[settings.SESSION_COOKIE_NAME].value}
    context = chromium.new_context(viewport={"width": 390, "height": 900})
    context.add_cookies([{**cookie, "url": live_server.url}])
    page = context.new_page()
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.goto(f"{live_server.url}/sites/{site.pk}/water/")
    yield page
    context.close()


def write_the_drawdown(page: Page) -> None:
    page.fill("#id_levels-datum", "the dam's staff")
    for box, feet in (("low", DOWN), ("normal", FULL), ("high", FULL)):
        page.fill(f"#id_levels-{box}_in", feet)
    for row, (day, feet) in enumerate([("1 May", FULL), ("1 October", FULL), ("1 January", DOWN)]):
        page.fill(f"#id_calendar-{row}-day", day)
        page.fill(f"#id_calendar-{row}-level_in", feet)
    page.fill("#id_depth-0-label", "near")
    page.fill("#id_depth-0-distance_in", "0")
    page.fill("#id_depth-0-depth_in", "18")
    page.fill("#id_depth-1-label", "far")
    page.fill("#id_depth-1-distance_in", "60")
    page.fill("#id_depth-1-depth_in", "40")
    with page.expect_navigation():
        page.get_by_role("button", name="Save the water").click()


def test_it_shows_a_ramp_fail_on_a_day_and_pass_once_it_is_longer(page: Page, live_server) -> None:
    write_the_drawdown(page)
    page.goto(live_server.url + SpecRevision.objects.get().get_absolute_url())
    page.select_option("#id_ramp-kind", "built")
    page.fill("#id_ramp-length", "8")
    page.keyboard.press("Tab")
    expect(page.locator("#range")).to_contain_text("this is 8′ 0″")
    expect(page.locator("#range")).to_contain_text("no reach")
    page.fill("#range-on", "13 April 2027")
    page.keyboard.press("Tab")
    # by hand: 102 of 120 days from 1 January to 1 May put the water at 17 ft; the hinge stands 6 ft above that
    expect(page.locator("#range-said")).to_contain_text("17.0 ft, by the calendar, on the dam's staff")
    expect(page.locator("#range-said")).to_contain_text("too steep")
    expect(page.locator("#range")).to_contain_text("on the bottom")
    page.fill("#id_ramp-length", "19")
    page.keyboard.press("Tab")
    expect(page.locator("#range-said")).to_contain_text("good")
    expect(page.locator("#range .levels tr").last).to_contain_text("13 April 2027")
    for width in (390, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.wrong == []
