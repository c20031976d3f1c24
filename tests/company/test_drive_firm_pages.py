"""The firm's pages in Chromium: with scripts they answer in place, on a phone nothing runs off the edge."""

import pytest

from contractor.company import services
from contractor.company.models import Company, Role
from tests.people import PASSWORD, person, the_firm

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def page(chromium, live_server):
    """The owner, signed in, on a page that notes every complaint of the browser."""
    the_firm(), person(Role.OWNER)
    context = chromium.new_context(base_url=live_server.url)
    page = context.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.on("console", lambda line: page.complaints.append(line.text) if "Policy" in line.text else None)
    page.goto("/login/")
    page.fill("#id_login", "merrit")
    page.fill("#id_password", PASSWORD)
    page.click("text=Sign in")
    page.goto("/company/")
    yield page
    assert page.complaints == []
    context.close()


def test_it_echoes_saves_and_refuses_in_place(page):
    page.fill("#loads_person_weight_lb", "90 kg")
    page.press("#loads_person_weight_lb", "Tab")
    page.wait_for_selector("#loads_person_weight_lb_echo:has-text('198 lb, 90 kg')")
    page.fill("#facts_phone", "555 0114")
    page.fill("#price_margin_percent", "120")
    page.click("text=Save margin and contingency")
    page.wait_for_selector("#price .err:has-text('you typed 120')")
    page.fill("#price_margin_percent", "18")
    page.click("text=Save margin and contingency")
    page.wait_for_selector("#price .saved")
    # The other forms of the page moved along with the version, and kept what was typed in them.
    page.click("text=Save name and address")
    page.wait_for_selector("#facts .saved")
    company = Company.objects.get()
    assert (company.margin_percent, company.phone, company.version) == (18, "555 0114", 3)


def test_it_settles_a_conflict_in_place(page):
    services.save_company(Company.objects.get(), seen_version=1, changes={"phone": "555 0199"}, by=person(Role.OFFICE))
    page.fill("#facts_phone", "555 0100")
    page.click("text=Save name and address")
    page.click("text=Save mine over it")
    page.wait_for_selector("#facts .saved")
    assert Company.objects.get().phone == "555 0100"


def test_it_fits_every_width(page):
    for address in (
        "/company/",
        "/company/staff/",
        "/company/staff/hire/",
        "/company/log/",
        "/company/password/",
        "/x/",
    ):
        page.goto(address)
        assert page.locator("h1").count() == 1
        for width in (320, 390, 760, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{address} at {width}"
