"""From an empty database to the hand-over, as a new owner does it, at a desk and on a phone."""

import io
from collections.abc import Iterator
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Browser, ConsoleMessage, Page, expect
from pypdf import PdfReader

from estimating.catalogue.models import Item
from estimating.quotes.models import Quote
from jobs.supply.models import Order, Stock

pytestmark = pytest.mark.browser

PASSWORD = "heron spit at dawn"
DESK, PHONE = {"width": 1280, "height": 850}, {"width": 390, "height": 850}


@pytest.fixture(params=[DESK, PHONE], ids=["at a desk", "on a phone"])
def page(request, transactional_db, live_server, chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport=request.param)
    page = context.new_page()
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("console", lambda said: page.wrong.append(said.text) if is_trouble(said) else None)
    page.house = live_server.url
    page.goto(live_server.url)
    yield page
    context.close()


def is_trouble(said: ConsoleMessage) -> bool:
    # htmx speaks up when a newer edit takes the place of one that is still being answered: as it should.
    return said.type == "error" and not said.text.startswith("htmx:")


def look(page: Page) -> None:
    """What every page owes its reader: one heading, nothing off the side, no complaint from the browser."""
    assert page.locator("h1").count() == 1, page.url
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"], page.url
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
    for drawing in ("wide", "small"):
        expect(page.locator(f"#worked svg.{drawing}")).to_contain_text("24′ 0″")
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


def go_to(page: Page, path: str) -> None:
    page.goto(f"{page.house}{path}")
    look(page)


def read_pdf(body: bytes) -> str:
    return "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(body)).pages)


def name_who_sells_floats(page: Page, item: Item) -> None:
    go_to(page, "/catalogue/suppliers/new/")
    page.fill("#id_name", "Fernleigh Floats")
    page.fill("#id_lead_days", "5")
    press(page, "Add it")
    go_to(page, f"/catalogue/{item.pk}/")
    page.select_option("#price_supplier", label="Fernleigh Floats")
    page.fill("#price_amount", "180")
    with page.expect_navigation():
        page.locator("form.newprice button").last.click()
    look(page)


def order_the_floats(page: Page, job: str) -> int:
    go_to(page, f"/jobs/{job}/goods/")
    expect(page.locator("main")).to_contain_text("not ordered")
    go_to(page, "/orders/")
    press(page, "Draft an order to Fernleigh Floats")
    press(page, "Send it: give it its number")
    return int(Order.objects.get().lines.get().quantity)


def count(page: Page, floats: int) -> None:
    go_to(page, f"/orders/{Order.objects.get().pk}/count/")
    page.get_by_label("On the slip").fill(str(floats))
    page.get_by_label("Counted", exact=True).fill(str(floats))
    press(page, "Keep this count")
    press(page, "Set aside as shown")


def receive_in_two_loads(page: Page, floats: int) -> None:
    half = floats // 2
    count(page, half)
    go_to(page, "/")
    expect(page.locator("main")).to_contain_text("Marr")
    assert sum(stock.set_aside for stock in Stock.objects.all()) == half
    count(page, floats - half)
    assert sum(stock.set_aside for stock in Stock.objects.all()) == floats


def put_it_on_a_day(page: Page, job: str) -> None:
    go_to(page, "/schedule/crews/")
    page.get_by_label("Name of the crew").fill("Lake crew")
    press(page, "Start a crew")
    if "Crews, people, boats" in page.locator("h1").inner_text():
        follow(page, "Lake crew")
    for name in ("Merrit Vale", "Ansel Roake"):
        joins = page.locator("details", has=page.get_by_text("Somebody joins"))
        joins.evaluate("details => { details.open = true }")
        page.locator("form", has=page.get_by_role("button", name="Add them")).locator("[name=member-name]").fill(name)
        press(page, "Add them")
    go_to(page, f"/schedule/jobs/{job}/")
    follow(page, "Put it on a day")
    page.fill("#id_start", f"{timezone.localdate() + timedelta(days=21):%Y-%m-%d}")
    press(page, "Show what would move")
    if page.locator("#id_words").count():
        page.fill("#id_words", "The lumber is promised for that day")
    press(page, "Move as shown")
    go_to(page, "/schedule/")


def print_and_key_in(page: Page, job: str) -> None:
    go_to(page, f"/jobs/{job}/work-orders/")
    token = page.locator("main [name=csrfmiddlewaretoken]").first.input_value()
    sent = {"csrfmiddlewaretoken": token, "stage": "all"}
    where = f"{page.house}/jobs/{job}/work-orders/print/"
    sheets = read_pdf(page.request.post(where, form=sent, headers={"Referer": page.url}).body())
    for words in (f"{job}-1", f"{job}-7", "If the office has a later revision letter, throw this away."):
        assert words in sheets
    go_to(page, f"/sheets/{job}-1/A/")
    page.locator(".pers input").first.fill("7.5")
    press(page, "Keep it")
    expect(page.locator("main")).to_contain_text("Nothing is overwritten.")


def hand_it_over(page: Page, job: str) -> None:
    go_to(page, f"/jobs/{job}/hand-over/")
    press(page, "Make the hand-over package")
    page.fill("#id_name", "Ilse Marr")
    press(page, "Keep the signature")
    expect(page.locator("main")).to_contain_text("Ilse Marr signed edition 1")
    expect(page.locator("main")).to_contain_text("First-season check")
    text = read_pdf(page.request.get(f"{page.house}/jobs/{job}/hand-over/1.pdf").body())
    for words in ("Your dock: the hand-over", "How many people", "Anchors and chain", "never burn it"):
        assert words in text
    go_to(page, f"/jobs/{job}/cost/")
    expect(page.locator("main")).to_contain_text("7.50")


def test_it_leads_from_an_empty_database_to_the_hand_over(page: Page) -> None:
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
    text = read_pdf(served)
    for words in (
        "Heron Spit Docks",
        "Ilse Marr",
        "22 Heron Road",
        "Boards that do not splinter",
        f"{quote.total:,.2f}",
    ):
        assert words in text
    assert "margin" not in text.lower()

    job = quote.job.number
    floats = next(line for line in quote.figures["takeoff"]["lines"] if line["group"] == "floats")
    name_who_sells_floats(page, Item.objects.get(code=floats["code"]))
    receive_in_two_loads(page, order_the_floats(page, job))
    put_it_on_a_day(page, job)
    print_and_key_in(page, job)
    hand_it_over(page, job)
