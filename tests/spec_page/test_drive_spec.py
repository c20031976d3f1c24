"""The spec page in Chromium: the right column follows the boxes, and the boxes are left in peace."""

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


@pytest.fixture
def page(transactional_db, live_server, chromium: Browser) -> Iterator[Page]:
    owner = {"login": "merrit", "name": "Merrit Vale", "email": ""}
    boss = set_up_firm(name="Vale Docks", units="imperial", currency="USD", password="a long password", owner=owner)
    load_starter(by=boss)
    site = make_site(boss, hinge_level_in=79.0)
    levels = {"datum": "the causeway staff", "low_in": 18.0, "normal_in": 42.0, "high_in": 54.0}
    services.save_levels(site, changes=levels, seen_version=1, by=boss)
    revision = services.start_spec(make_job(boss, site=site, rough_size="6 x 16"), by=boss)
    client = Client()
    client.force_login(boss)
    cookie = {"name": settings.SESSION_COOKIE_NAME, "value": client.cookies[settings.SESSION_COOKIE_NAME].value}
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    context.add_cookies([{**cookie, "url": live_server.url}])
    page = context.new_page()
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("console", lambda said: page.wrong.append(said.text) if "Content Security" in said.text else None)
    page.goto(live_server.url + revision.get_absolute_url())
    yield page
    context.close()


def test_it_follows_the_boxes_and_leaves_them_in_peace(page: Page) -> None:
    page.fill("#id_width", "8'")
    page.keyboard.press("Tab")
    expect(page.locator("#worked svg.wide")).to_contain_text("8′ 0″")
    assert page.evaluate("document.activeElement.id") == "id_length"
    page.keyboard.type("24")
    page.keyboard.press("Tab")
    expect(page.locator("#region-sections")).to_contain_text("12′ 0″ × 8′ 0″")
    assert page.evaluate("document.activeElement.id") == "id_count"
    assert page.input_value("#id_width") == "8'" and page.input_value("#id_length") == "24"
    expect(page.locator("#id_length_echo")).to_contain_text("7.32 m")
    expect(page.locator("#news")).to_contain_text("above the water")
    assert page.wrong == []


def test_it_says_what_is_wrong_at_the_box_and_takes_it_back(page: Page) -> None:
    page.fill("#id_gap", "9")
    page.keyboard.press("Tab")
    expect(page.locator("#id_gap_fault")).to_contain_text("between 0″ and 2″")
    expect(page.locator("#faults")).to_contain_text("Cannot be worked out yet")
    expect(page.locator("#id_gap")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#worked svg.wide")).to_be_visible()
    page.fill("#id_gap", "1/8")
    page.keyboard.press("Tab")
    expect(page.locator("#id_gap_fault")).to_be_empty()
    expect(page.locator("#id_gap")).not_to_have_attribute("aria-invalid", "true")
    expect(page.locator("#faults")).not_to_contain_text("Cannot")
    assert page.wrong == []


def test_it_describes_an_ell_with_ramp_and_anchors_and_keeps_it(page: Page) -> None:
    page.select_option("#id_shape", "ell")
    page.fill("#id_leg_length", "12")
    page.select_option("#id_ramp-kind", "built")
    page.select_option("#id_anchors-plan", "two")
    for wide, drawing in ((1280, "wide"), (390, "small")):
        page.set_viewport_size({"width": wide, "height": 850})
        shown = page.locator(f"#worked svg.{drawing}")
        expect(shown).to_be_visible()
        expect(shown).to_contain_text("ramp")
        assert page.evaluate("document.documentElement.scrollWidth") <= wide
    expect(page.locator("#region-ramp")).to_contain_text("written on the site")
    with page.expect_navigation():
        page.locator("#spec-form .btns.save .go").click()
    kept = services.spec_of(SpecRevision.objects.get())
    assert [section.turned for section in kept.sections] == [False, True]
    assert kept.ramp.length_in == 144 and len(kept.anchors) == 2
    assert page.wrong == []
