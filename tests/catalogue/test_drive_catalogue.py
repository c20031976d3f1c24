"""The catalogue in Chromium: begun, searched, priced and fed with a file on a phone; its pages fit a desk too."""

import pytest

from estimating.catalogue.models import Item, JointRule, Price
from tests.people import PASSWORD, person, the_firm

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
LIST = "code,stock length ft,supplier,price,currency,dated\n2x8,16,Millpond Lumber,{},USD,2026-11-20\n"
ROOMS = ("", "{item}/", "{item}/edit/", "new/float/", "joints/", "joints/{rule}/", "standing/", "labour/", "files/")


@pytest.fixture
def page(chromium, live_server):
    """The owner in front of an empty catalogue."""
    the_firm(), person()
    context = chromium.new_context(base_url=live_server.url, viewport={"width": 390, "height": 900})
    page = context.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.on("console", lambda line: page.complaints.append(line.text) if "Policy" in line.text else None)
    page.goto("/login/?next=/catalogue/start/")
    page.fill("#id_login", "merrit")
    page.fill("#id_password", PASSWORD)
    page.click("text=Sign in")
    yield page
    assert page.complaints == []
    context.close()


def test_it_goes_from_nothing_to_the_firms_own_price(page):
    page.click("text=Begin with the starter catalogue")
    page.click("text=Put your own prices into the catalogue")
    page.fill("#words", "2x8")
    page.wait_for_selector("#found .lead2:has-text('1 of 43 items')")
    page.click("#found a:has-text('2x8')")
    page.fill("[name=dated]", "20 November 2026")
    page.click("text=Add the prices")
    page.wait_for_selector(".err:has-text('Type a price')")
    page.fill("[name^=amount_] >> nth=4", "19.5")
    page.click("text=Add the prices")
    page.wait_for_selector("table.now td:has-text('19.50')")
    assert Price.objects.get(starter=False).stick.length_in == 192.0

    for price, said in (("free", "is not an amount"), ("20.45", "1 price added")):
        page.goto("/catalogue/files/")
        content = LIST.format(price).encode()
        page.set_input_files("[name=file]", {"name": "list.csv", "mimeType": "text/csv", "buffer": content})
        page.click("text=See what would change")
        page.wait_for_selector(f"main :text('{said}')")
    page.click("text=Take it in")
    page.wait_for_selector("main :text('1 price added')")
    assert Item.objects.get(code="2x8").prices.filter(amount="20.45").exists()

    made = {"item": Item.objects.get(code="2x8").pk, "rule": JointRule.objects.first().pk}
    for room in ROOMS:
        assert page.goto(f"/catalogue/{room.format(**made)}").status == 200
        for width in (390, 1280):
            page.set_viewport_size({"width": width, "height": 900})
            over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
            assert over <= 0, room


def test_it_says_what_was_understood_while_it_is_typed(page):
    page.goto("/catalogue/new/lumber/")
    for box, typed, echo in (
        ("sticks", "8, 10-6", "8′ 0″, 10′ 6″"),
        ("wet_lb_per_ft", "6.5 kg/m", "4.37 lb/ft"),
        ("thickness_in", "38.1 mm", "1 1/2″"),
    ):
        page.fill(f"[name={box}]", typed)
        page.press(f"[name={box}]", "Tab")
        page.wait_for_selector(f"#id_{box}_echo:has-text('{echo}')")
