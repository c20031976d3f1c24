"""Twelve floats come for three jobs, two of them damaged: counted on a phone, and the home page before and after."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Browser, Page

from contractor.company.models import Staff
from estimating.quotes.models import Quote
from jobs.records import services as records
from jobs.supply import services
from jobs.supply.models import Order, Stock
from tests.browser.test_tell_whole_story import follow, is_trouble, look, press
from tests.people import PASSWORD
from tests.quotes.making import a_job, the_shop, today
from tests.supply.making import a_float, a_need, a_supplier

pytestmark = pytest.mark.browser
WAIT = (("Quarrington", 8), ("Okafor", 6), ("Vanterpool", 4))


def signed_job(name: str, floats: int, by: Staff):
    job = a_job(by, client={"names": name, "filed_under": name})
    facts = {"spec_letter": "A", "spec_document": {}, "margin_percent": 15, "rounding_step": 10, "title": "Dock"}
    long_ago = timedelta(days=40)  # the time to cancel is over
    facts |= {"sent_at": timezone.now() - long_ago}
    sent = {"total": 6750, "figures": {}, "customer_pdf": b"pdf", "valid_until": today()}
    yes = {"accepted_on": today() - long_ago, "accepted_by_name": name}
    Quote.objects.create(
        job=job, letter="A", state="accepted", tax_mode="whole_price", created_by=by, **facts, **sent, **yes
    )
    records.record_permit(job, facts={"authority": "Town", "needed": False}, by=by)
    a_need(by, a_float(), floats, job=job, needed_by=today() + timedelta(days=2))


@pytest.fixture
def yard(transactional_db) -> Order:
    """Three jobs wait for eighteen floats; the order is out and promised for today."""
    by = the_shop()
    for name, floats in WAIT:
        signed_job(name, floats, by)
    draft = services.draft_order(a_supplier(by), stock_ids=[a_float().pk], by=by, on=today())
    order = services.send_order(draft, by=by, on=today())
    services.promise_all(order, expected_on=today(), by=by)
    return order


@pytest.fixture
def page(yard, live_server, chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 390, "height": 850})
    page = context.new_page()
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("console", lambda said: page.wrong.append(said.text) if is_trouble(said) else None)
    page.goto(live_server.url)
    page.get_by_label("Login name").fill("merrit")
    page.get_by_label("Password").fill(PASSWORD)
    with page.expect_navigation():
        page.locator("main button").first.click()
    yield page
    context.close()


def sentence_of(page: Page, name: str) -> str:
    return page.locator("li.hold", has=page.get_by_role("link", name=name, exact=True)).inner_text()


def test_it_counts_twelve_floats_for_three_jobs_with_two_damaged(page: Page, yard: Order, live_server) -> None:
    look(page)
    for name, floats in WAIT:
        assert f"Waiting for {floats} floats" in sentence_of(page, name)
        assert "promised today" in sentence_of(page, name)
    notes = page.get_by_label("Notes for today").inner_text()
    assert "3 jobs wait" in notes and "18 owed" in notes and "18 promised" in notes

    page.goto(f"{live_server.url}{yard.get_absolute_url()}")
    follow(page, "Count the delivery")
    page.get_by_label("On the slip").fill("12")
    page.get_by_label("Counted", exact=True).fill("12")
    page.get_by_label("Damaged").fill("2")
    page.get_by_role("button", name="Work it out").click()
    page.locator("#worked table").wait_for()
    worked = page.locator("#worked").inner_text()
    assert "6 not shipped + 2 not kept for this line = 8" in worked
    press(page, "Keep this count")

    assert "12 received, 2 damaged, 10 kept" in page.locator("main").inner_text()
    given = {row.locator("th").inner_text().split()[-1]: row for row in page.locator("table.share tbody tr").all()}
    proposed = {name: row.locator("input").input_value() for name, row in given.items()}
    assert proposed == {"Quarrington": "0", "Okafor": "6", "Vanterpool": "4"}  # ten floats finish two jobs, not one
    press(page, "Set aside as shown")

    page.goto(live_server.url)
    look(page)
    assert "Waiting for 8 floats" in sentence_of(page, "Quarrington")
    for name in ("Okafor", "Vanterpool"):
        assert "floats" not in sentence_of(page, name) and "plans the work" in sentence_of(page, name)
    stock = Stock.objects.get(pk=a_float().pk)
    assert (stock.on_hand, stock.set_aside, stock.free) == (10, 10, 0)
