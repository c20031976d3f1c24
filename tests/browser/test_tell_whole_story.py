"""From an empty database to a signed quote, as a new owner does it in the browser, at a desk and on a phone."""

import io
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect
from pypdf import PdfReader

from estimating.quotes.models import Quote

pytestmark = pytest.mark.browser

PASSWORD = "heron spit at dawn"


@pytest.fixture(params=[1280, 390])
def page(request, transactional_db, live_server, chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": request.param, "height": 850})
    page = context.new_page()
    page.wide = request.param
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("console", lambda said: page.wrong.append(said.text) if is_trouble(said) else None)
    page.goto(live_server.url)
    yield page
    context.close()


def is_trouble(said: ConsoleMessage) -> bool:
    # htmx speaks up when a newer edit takes the place of one that is still being answered: as it should.
    return said.type == "error" and not said.text.startswith("htmx:")


def look(page: Page) -> None:
    """What every page owes its reader: one heading, nothing off the side, no complaint from the browser."""
    assert page.locator("h1").count() == 1, page.url
    assert page.evaluate("document.documentElement.scrollWidth") <= page.wide, page.url
    assert page.wrong == [], page.url


def press(page: Page, words: str) -> None:
    with page.expect_navigation():
        page.locator("main").get_by_role("button", name=words, exact=True).first.click()
    look(page)


def follow(page: Page, words: str) -> None:
    with page.expect_navigation():
        page.locator("main").get_by_role("link", name=words, exact=True).first.click()
    look(page)


def name_the_firm(page: Page) -> None:
    look(page)
    page.fill("#id_name", "Heron Spit Docks")
    page.fill("#id_owner_name", "Merrit Vale")
    page.fill("#id_login", "merrit")
    page.fill("#id_password", PASSWORD)
    press(page, "Open the shop")
    press(page, "Begin with the starter catalogue")


def take_the_call(page: Page) -> None:
    follow(page, "Write down the first call")
    page.fill("#id_names", "Ilse Marr, Tom Marr")
    page.fill("#id_phones", "555 0142")
    page.fill("#id_water_body", "Long Lake")
    page.fill("#id_site_name", "22 Heron Road")
    page.fill("#id_their_words", "An L, so that two boats lie quiet.")
    press(page, "Open the job")


def measure_the_water(page: Page) -> None:
    follow(page, "Levels, readings and depths")
    page.fill("[name$=datum] >> nth=0", "causeway staff")
    for box, feet in (("low", "1.5"), ("normal", "3.5"), ("high", "4.5")):
        page.fill(f"[name$={box}_in] >> nth=0", feet)
    page.fill("#id_depth-0-label", "lake end")
    page.fill("#id_depth-0-distance_in", "30")
    page.fill("#id_depth-0-depth_in", "7.5")
    press(page, "Save the water")
    expect(page.locator("#site")).to_contain_text("normal 3.5 ft")


def draw_the_ell(page: Page) -> None:
    press(page, "Start the spec")
    page.select_option("#id_shape", "ell")
    page.fill("#id_width", "6")
    page.fill("#id_length", "24'")
    page.fill("#id_leg_length", "12-0")
    page.select_option("#id_ramp-kind", "built")
    page.select_option("#id_anchors-plan", "two")
    shown = page.locator("#worked svg.wide" if page.wide > 760 else "#worked svg.small")
    expect(shown).to_contain_text("24′ 0″")
    expect(page.locator("#worked")).to_contain_text("above the water")
    look(page)
    with page.expect_navigation():
        page.get_by_role("button", name="Keep it, on to the quote").first.click()
    look(page)


def offer_two_deckings(page: Page) -> None:
    page.click("text=Options to take or leave")
    page.click("text=Add an option >> nth=0")
    page.fill("#id_option-0-name", "Boards that do not splinter")
    page.select_option("#id_option-0-choice", "swap:deck-2x6>deck-composite")
    expect(page.locator("#customer")).to_contain_text("Boards that do not splinter")
    look(page)


def send_and_sign(page: Page) -> None:
    page.get_by_role("button", name="Send and freeze quote A").first.click()
    expect(page.locator("main")).to_contain_text("Waiting for a signature")
    look(page)
    follow(page, "They accepted")
    page.check("[name=how] >> nth=0")
    press(page, "Enter the acceptance")
    expect(page.locator("main")).to_contain_text("Accepted by Ilse Marr")


def test_it_leads_from_an_empty_database_to_a_signed_quote(page: Page) -> None:
    name_the_firm(page)
    take_the_call(page)
    measure_the_water(page)
    draw_the_ell(page)
    offer_two_deckings(page)
    send_and_sign(page)
    quote = Quote.objects.get()
    assert quote.state == "accepted"
    served = page.request.get(page.url + "customer.pdf").body()
    assert served == bytes(quote.customer_pdf)
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(served)).pages)
    for words in (
        "Heron Spit Docks",
        "Ilse Marr",
        "22 Heron Road",
        "Boards that do not splinter",
        f"{quote.total:,.2f}",
    ):
        assert words in text
    assert "margin" not in text.lower()
