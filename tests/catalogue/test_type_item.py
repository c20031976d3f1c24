"""What is typed about an item or a price is kept, and what is wrong is said at its box."""

import re
from datetime import date
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from django.urls import reverse

from contractor.company.once import new_key
from estimating.catalogue import services
from estimating.catalogue.models import Item, Price
from estimating.catalogue.services import ItemDraft

from .conftest import price
from .pages import item, page, text_of

pytestmark = pytest.mark.django_db


def lumber_form(**changes) -> dict[str, str]:
    typed = {
        "once": new_key(),
        "code": "2x10",
        "name": "2x10 treated",
        "nominal": "2x10",
        "thickness_in": "1 1/2",
        "width_in": "9.25",
        "wet_lb_per_ft": "5.8",
        "seasoned_lb_per_ft": "3.6",
        "sticks": "8, 12, 16' 0\"",
        "waste_percent": "5",
    }
    return typed | changes


def test_it_makes_lumber_as_it_was_typed(office):
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), lumber_form())
    made = item("2x10")
    assert answer.headers["Location"] == made.get_absolute_url()
    assert (made.thickness_in, made.width_in, made.waste_percent) == (1.5, 9.25, Decimal(5))
    assert [stick.length_in for stick in made.sticks.all()] == [96.0, 144.0, 192.0]


@pytest.mark.page
def test_it_keeps_what_was_typed_and_says_what_is_wrong_at_each_box(office):
    typed = lumber_form(width_in="wide", sticks="8, eighty", wet_lb_per_ft="", name="", notes="keep me")
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    html = answer.content.decode()
    assert answer.status_code == 422
    for words in ("wide", "8, eighty", "keep me", "2x10"):
        assert words in html
    assert set(answer.context["form"].errors) == {"name", "width_in", "sticks"}
    assert not Item.objects.exists()


@pytest.mark.page
def test_it_says_at_its_box_what_does_not_go_together(office):
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), lumber_form(seasoned_lb_per_ft="9"))
    assert answer.status_code == 422
    assert "not heavier than wet" in answer.context["form"].errors["seasoned_lb_per_ft"][0]


def test_it_makes_one_item_of_a_double_click(office):
    typed = lumber_form()
    first = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    second = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    assert first.headers["Location"] == second.headers["Location"]
    assert Item.objects.count() == 1


def float_form(browser, thing: Item, **changes) -> dict[str, str]:
    """The boxes of the page as a browser would send them back."""
    context = browser.get(reverse("catalogue:edit_item", args=[thing.pk])).context
    typed = {"version": str(thing.version)}
    for form in (context["form"], context["lines"].management_form, *context["lines"].forms):
        for box in form:
            value = box.value()
            typed[box.html_name] = "" if value is None else value
    return {name: value for name, value in typed.items() if value not in (None, [])} | changes


def test_it_saves_a_page_sent_back_untouched_without_a_change(starter, office):
    thing = item("float-24x48x16")
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), float_form(office, thing))
    thing.refresh_from_db()
    assert (answer.status_code, thing.version) == (303, 1)


def test_it_tells_the_later_of_two_what_the_first_changed_and_loses_nothing(starter, owner, office):
    thing = item("float-24x48x16")
    typed = float_form(office, thing, weight_lb="48 lb", shelf="F2")
    services.change_item(thing, ItemDraft("float", {"weight_lb": 50.0}), seen_version=1, by=owner)
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    said = text_of(answer.content.decode())
    assert answer.status_code == 409
    assert "Oona Vance saved this" in said
    assert "Own weight 46 lb 50 lb 48 lb" in said
    assert 'value="F2"' in answer.content.decode()
    settle = typed | {"version": "2", "stands": "theirs", "theirs": "weight_lb", "left": ""}
    assert office.post(reverse("catalogue:edit_item", args=[thing.pk]), settle).status_code == 303
    thing.refresh_from_db()
    assert (thing.weight_lb, thing.shelf, thing.version) == (50.0, "F2", 3)


@pytest.mark.page
def test_it_refuses_a_fixing_twice_beside_the_list(starter, office):
    thing, nut = item("float-24x48x16"), item("nut")
    typed = float_form(office, thing)
    typed |= {"fix-2-part": nut.pk, "fix-2-quantity": "1", "fix-3-part": nut.pk, "fix-3-quantity": "2"}
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    assert answer.status_code == 422
    assert "Add the counts up" in answer.content.decode()
    assert thing.fixings.count() == 2


@pytest.mark.page
def test_it_asks_how_many_of_a_part(starter, office):
    thing = item("float-24x48x16")
    typed = float_form(office, thing) | {"fix-2-part": item("nut").pk, "fix-2-quantity": ""}
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    assert answer.status_code == 422
    assert "How many of Nut 1/2 in" in answer.content.decode()


def test_it_adds_prices_of_several_lengths_at_once_and_once(joist, yard, office):
    short, long = joist.sticks.order_by("length_in")
    typed = {
        "once": new_key(),
        "supplier": yard.pk,
        "dated": "6 April 2026",
        f"amount_{short.pk}": "12",
        f"amount_{long.pk}": "",
    }
    for _ in range(2):
        answer = office.post(reverse("catalogue:add_price", args=[joist.pk]), typed)
        assert answer.status_code == 303
    added = Price.objects.get()
    assert (added.stick, added.amount, added.currency, added.dated) == (
        short,
        Decimal("12.00"),
        "USD",
        date(2026, 4, 6),
    )


@pytest.mark.parametrize(
    ("typed", "box"),
    [
        ({"amount": ""}, "amount"),
        ({"amount": "free"}, "amount"),
        ({"amount": "-3"}, "amount"),
        ({"amount": "3", "dated": "someday"}, "dated"),
        ({"amount": "3", "dated": "6 April 2062"}, "dated"),
        ({"amount": "3", "dated": "6 April 2026", "valid_until": "1 April 2026"}, "valid_until"),
    ],
)
@pytest.mark.page
def test_it_keeps_a_price_it_refuses_in_its_box(plate, office, typed, box):
    typed = {"once": new_key(), "dated": "6 April 2026", "note": "spring list", **typed}
    answer = office.post(reverse("catalogue:add_price", args=[plate.pk]), typed)
    assert answer.status_code == 422
    assert box in answer.context["form"].errors
    assert 'value="spring list"' in answer.content.decode()
    assert not Price.objects.exists()


@pytest.mark.page
def test_it_shows_prices_over_time_in_a_drawing_that_says_them(plate, yard, mill, owner, office):
    for supplier, amount, day in ((yard, "17.00", 1), (yard, "18.50", 20), (mill, "16.00", 10)):
        services.add_price(plate, price(amount, date(2026, 3, day)), supplier=supplier, by=owner)
    html = page(office, "item", plate.pk)
    drawings = re.findall(r"<svg class=\"dwg.*?</svg>", html, re.DOTALL)
    assert len(drawings) == 2
    said = ElementTree.fromstring(drawings[0]).find("desc").text
    assert said == "Millpond Lumber: 17.00 on 1 March 2026, 18.50 on 20 March 2026; North Mill: 16.00 on 10 March 2026"


def test_it_strikes_a_price_out_and_keeps_it_readable(plate, yard, owner, office):
    wrong = services.add_price(plate, price("170.00", date(2026, 3, 1)), supplier=yard, by=owner)
    address = reverse("catalogue:strike_price", args=[wrong.pk])
    assert office.post(address, {"reason": ""}).status_code == 422
    assert office.post(address, {"reason": "a slip"}).status_code == 303
    assert "<s>170.00</s>" in page(office, "item", plate.pk)
    assert office.get(address).status_code == 404
