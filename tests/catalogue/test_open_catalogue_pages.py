"""The pages: who sees what, what is typed is kept, and a second click makes nothing twice."""

import re
from datetime import date

import pytest
from django.urls import reverse
from django.utils import timezone

from estimating.catalogue import services
from estimating.catalogue.models import JointRule, Price, Supplier
from estimating.catalogue.services import ItemDraft

from .conftest import price
from .pages import item, page, text_of

pytestmark = pytest.mark.django_db
DENIED_TO_CREW = [
    "choose_kind",
    "retired",
    "suppliers",
    "new_supplier",
    "new_rule",
    "standing",
    "labour",
    "imports",
    "start",
]


def all_pages() -> list[tuple[str, list]]:
    some, rule = item("2x8"), JointRule.objects.first()
    priced, supplier = Price.objects.first(), Supplier.objects.first()
    return [
        ("items", []),
        ("joints", []),
        ("item", [some.pk]),
        ("item", [item("float-24x48x16").pk]),
        *((name, []) for name in DENIED_TO_CREW),
        ("edit_item", [some.pk]),
        ("retire_item", [some.pk]),
        ("strike_price", [priced.pk]),
        ("supplier", [supplier.pk]),
        ("rule", [rule.pk]),
        ("drop_rule", [rule.pk]),
        *(("new_item", [kind]) for kind in ("lumber", "decking", "float", "hardware", "chain", "anchor", "ramp")),
    ]


@pytest.mark.page
def test_it_opens_every_page_with_one_heading(starter, yard, office):
    for name, args in all_pages():
        assert page(office, name, *args).count("<h1") == 1, name


@pytest.mark.page
def test_it_opens_the_pages_of_an_empty_catalogue(office):
    for name in ["items", "joints", *DENIED_TO_CREW]:
        page(office, name)


@pytest.mark.parametrize("role", ["crew_lead", "crew"])
@pytest.mark.page
def test_it_shows_the_crew_items_and_joints_without_any_money(starter, yard, owner, browsers, role):
    services.add_price(item("nut"), price("987.65", date(2026, 11, 3)), supplier=yard, by=owner)
    amounts = {f"{each.amount:,.2f}" for each in Price.objects.all()} | {"987.65", "Millpond Lumber", "USD"}
    for name, args in (("items", []), ("item", [item("nut").pk]), ("item", [item("2x8").pk]), ("joints", [])):
        said = text_of(page(browsers[role], name, *args))
        assert not [amount for amount in amounts if re.search(rf"(?<![\d.]){re.escape(amount)}(?!\d)", said)], name
        assert "rice" not in said.replace("Carriage", ""), name
    for name in DENIED_TO_CREW:
        assert browsers[role].get(reverse(f"catalogue:{name}")).status_code == 403, name


@pytest.mark.parametrize("role", ["crew_lead", "crew"])
def test_it_lets_the_crew_change_nothing(starter, yard, browsers, role):
    for name, args in all_pages():
        if name not in ("items", "item", "joints"):
            address = reverse(f"catalogue:{name}", args=args)
            assert browsers[role].get(address).status_code == 403, name
            assert browsers[role].post(address, {"x": "1"}).status_code == 403, name
    for name, args in (("add_price", [1]), ("take_in", [1]), ("drop_import", [1]), ("export", ["csv"])):
        assert browsers[role].post(reverse(f"catalogue:{name}", args=args)).status_code == 403, name


def test_it_finds_items_by_words_kind_and_look(starter, owner, yard, office):
    services.add_price(item("nut"), price("15.00", timezone.localdate()), supplier=yard, by=owner)
    Price.objects.filter(item__code="lag-4").delete()
    assert "43 items." in text_of(page(office, "items"))
    assert "1 of 43 items." in text_of(page(office, "items", look="none"))
    assert "Lag 3/8 x 4 in" in page(office, "items", look="none")
    assert "41 of 43 items." in text_of(page(office, "items", look="starter"))
    assert "2 of 43 items." in text_of(page(office, "items", kind="ramp"))
    assert "Nothing in the catalogue fits that." in page(office, "items", q="piano")


def test_it_answers_a_search_with_the_list_alone(starter, office):
    answer = office.get(reverse("catalogue:items"), {"q": "nut"}, headers={"HX-Request": "true"})
    assert answer.content.decode().strip().startswith('<div id="found"')


def test_it_asks_as_few_questions_of_a_large_catalogue_as_of_a_small_one(
    starter, owner, office, django_assert_max_num_queries
):
    facts = {"name": "Plate", "use_unit": "each"}
    for number in range(30):
        services.make_item(ItemDraft("hardware", facts, code=f"plate-{number}"), by=owner)
    with django_assert_max_num_queries(14):
        page(office, "items")
