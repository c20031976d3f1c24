"""A sheet's page in Chromium on the narrowest phone: big targets, read back as it is typed, kept with one press."""

import pytest

from contractor.company.models import Role
from jobs.fieldwork.models import Entry
from tests.people import PASSWORD, person
from tests.quotes.making import the_shop

from .conftest import built, sheet

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
TOO_SMALL = """[...document.querySelectorAll(
  'main button, main select, main input:not([type=hidden],[type=checkbox])')]
  .filter(e => e.offsetParent && e.getBoundingClientRect().height < 48).map(e => e.outerHTML)"""
OVER = "document.documentElement.scrollWidth - innerWidth"


def test_it_is_keyed_in_on_a_phone_with_gloves(chromium, live_server):
    owner, lead = the_shop(), person(Role.CREW_LEAD)
    order = sheet(built(owner), "framing", owner)
    context = chromium.new_context(base_url=live_server.url, viewport={"width": 360, "height": 740})
    page, complaints = context.new_page(), []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda line: complaints.append(line.text) if "Policy" in line.text else None)
    page.goto("/login/")
    page.fill("#id_login", lead.login)
    page.fill("#id_password", PASSWORD)
    page.click("text=Sign in")
    page.goto("/sheets/")
    page.fill("input[name=number]", order.number)
    page.click("text=Find it")
    assert page.evaluate(OVER) <= 0 and page.evaluate(TOO_SMALL) == []
    page.fill("#id_A_diagonal_1_0", "10")
    page.fill("#id_A_diagonal_1_1", "0")
    page.fill("#id_A_diagonal_1_2", "2")
    page.wait_for_selector("text== 10′ 0 1/8″")
    for _ in range(3):
        page.click(f"[aria-label='{lead.name}, a quarter hour more']")
    page.set_viewport_size({"width": 320, "height": 740})
    assert page.evaluate(OVER) <= 0
    page.click("text=Keep it")
    page.wait_for_selector("text=Kept.")
    found = {entry.key: entry.number for entry in Entry.objects.exclude(kind="words")}
    assert found == {"A.diagonal_1": 120.125, f"hours.p{lead.pk}": 0.75} and complaints == []
    context.close()
