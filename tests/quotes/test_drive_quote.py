"""The quote's page in Chromium: both copies follow what is typed, nothing is lost, and it is sent as it was seen."""

from collections.abc import Iterator

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page, expect

from estimating.quotes.models import Quote
from tests.quotes.making import drafted, the_shop, with_ramp
from tests.quotes.reading import pages

pytestmark = pytest.mark.browser


@pytest.fixture
def page(transactional_db, live_server, chromium: Browser, request) -> Iterator[Page]:
    owner = the_shop()
    quote = drafted(owner, spec=with_ramp())
    client = Client()
    client.force_login(owner)
    cookie = {"name": settings.SESSION_COOKIE_NAME, "value": client.cookies[settings.SESSION_COOKIE_NAME].value}
    facts = getattr(request, "param", {})
    context = chromium.new_context(
        viewport={"width": facts.get("wide", 1280), "height": 900}, java_script_enabled=facts.get("script", True)
    )
    context.add_cookies([{**cookie, "url": live_server.url}])
    page = context.new_page()
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("console", lambda said: page.wrong.append(said.text) if "Content Security" in said.text else None)
    page.goto(live_server.url + quote.get_absolute_url())
    yield page
    context.close()


def hold_to_both_widths(page: Page) -> None:
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_it_follows_what_is_typed_and_leaves_the_boxes_in_peace(page: Page):
    before = page.inner_text("#pays")
    page.fill("#id_margin_percent", "30")
    page.keyboard.press("Tab")
    expect(page.locator("#pays")).not_to_have_text(before)
    assert page.evaluate("document.activeElement.id") == "id_rounding_step"
    expect(page.locator("#customer .total td")).to_have_text(page.inner_text("#pays"))
    page.fill("#id_margin_percent", "lots")
    page.click("text=Words on the paper")
    expect(page.locator("#id_margin_percent_fault")).to_contain_text("“lots” is not a percentage")
    expect(page.locator("#id_margin_percent")).to_have_attribute("aria-invalid", "true")
    page.fill("#id_title", "A dock for two boats")
    page.keyboard.press("Tab")
    expect(page.locator("#troubles")).to_contain_text("One box needs another look.")
    assert (page.input_value("#id_margin_percent"), page.input_value("#id_title")) == ("lots", "A dock for two boats")
    assert page.evaluate("document.activeElement.id") == "id_scope"
    page.fill("#id_margin_percent", "25")
    page.keyboard.press("Tab")
    expect(page.locator("#id_margin_percent_fault")).to_be_empty()
    expect(page.locator("#customer")).to_contain_text("A dock for two boats")
    assert page.wrong == []


@pytest.mark.parametrize("page", [{"wide": 390}], indirect=True)
def test_it_is_sent_with_what_was_typed_last(page: Page):
    page.click("text=Options to take or leave")
    page.click("text=Add an option >> nth=0")
    page.select_option("#id_option-0-choice", "swap:deck-2x6>deck-composite")
    expect(page.locator("#customer")).to_contain_text("then ")
    before = page.inner_text("#pays")
    page.fill("#id_margin_percent", "20")
    page.keyboard.press("Tab")
    expect(page.locator("#pays")).not_to_have_text(before)
    hold_to_both_widths(page)
    price = page.inner_text("#pays")
    page.click("text=Send and freeze quote A")
    expect(page.locator(".statement")).to_contain_text("Waiting for a signature")
    expect(page.locator("main")).to_contain_text(price)
    hold_to_both_widths(page)
    quote = Quote.objects.get()
    _, second = pages(bytes(quote.customer_pdf))
    assert price in second and "Composite deck board, 1×5-1/2 instead of 2×6 treated deck board" in second
    assert (quote.margin_percent, f"{quote.total:,.2f}") == (20, price)
    assert page.wrong == []


@pytest.mark.parametrize("page", [{"script": False}], indirect=True)
def test_it_works_without_scripts(page: Page):
    before = page.inner_text("#pays")
    page.fill("#id_margin_percent", "30")
    page.click("text=Work it out")
    assert page.inner_text("#pays") != before and page.input_value("#id_margin_percent") == "30"
    page.fill("#id_margin_percent", "lots")
    page.click("button:has-text('Keep it')")
    expect(page.locator("#id_margin_percent_fault")).to_contain_text("“lots” is not a percentage")
    page.fill("#id_margin_percent", "28")
    page.click("text=Send and freeze quote A")
    expect(page.locator("main")).to_contain_text("The figures are not those you last saw.")
    page.click("text=Send and freeze quote A")
    expect(page.locator(".statement")).to_contain_text("Waiting for a signature")
