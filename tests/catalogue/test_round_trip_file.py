"""What the catalogue writes, it reads back unchanged."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from estimating.catalogue import services
from estimating.catalogue.models import Fixing, Item, JointRule, Price, StandingChoices, Stick, Supplier
from estimating.catalogue.services import ItemDraft
from estimating.catalogue.sheet.writing import csv_bytes, xlsx_bytes

from .conftest import price

pytestmark = pytest.mark.django_db
WRITERS = {"csv": csv_bytes, "xlsx": xlsx_bytes}
ODD = '=cmd|"calc", ½ ″; - see note\nsecond line'


@pytest.fixture(params=["csv", "xlsx"])
def written(request) -> Callable[..., tuple[str, bytes]]:
    return lambda **options: (
        f"catalogue.{request.param}",
        WRITERS[request.param](services.catalogue_rows(**options)),
    )


@pytest.fixture
def odd(plate, joist, yard, mill, owner) -> None:
    """A catalogue with everything a file could get wrong."""
    services.change_item(
        plate,
        ItemDraft("hardware", {"notes": ODD, "finish": "'quoted", "shelf": "0012", "weight_lb": 3.2 / 3}),
        seen_version=1,
        by=owner,
    )
    lengths = [500 / 25.4, 144.0, 193.5, 1200 / 7]
    facts = {"preferred_supplier": yard, "over_length_in": 0.0, "width_in": 184 / 25.4}
    services.change_item(joist, ItemDraft("lumber", facts, stick_lengths_in=lengths), seen_version=1, by=owner)
    draft = ItemDraft(
        "accessory", {"name": "+Cleat", "symbol": "cleat"}, code="cleat", fixings=[(plate, Decimal("0.5"))]
    )
    cleat = services.make_item(draft, by=owner)
    services.change_item(cleat, ItemDraft("accessory", {}, substitutes=[plate]), seen_version=1, by=owner)
    services.retire_item(cleat, seen_version=2, by=owner)
    for day, amount in enumerate(("12.00", "12.50", "13.75"), 1):
        for stick in joist.sticks.all():
            services.add_price(
                joist, price(amount, date(2026, 3, day), note="- list"), stick=stick, supplier=mill, by=owner
            )
    services.add_price(plate, price("1234.50", date(2026, 3, 1), valid_until=date(2026, 9, 1)), by=owner)
    services.add_price(plate, price("99.00", date(2026, 3, 1)), supplier=yard, by=owner)
    services.add_price(plate, price("9.90", date(2026, 3, 1)), supplier=yard, by=owner)
    wrong = services.add_price(plate, price("7.00", date(2026, 4, 1)), supplier=yard, by=owner)
    services.strike_price(wrong, reason="slip", by=owner)


def plan(file, by):
    name, content = file
    return services.plan_of(services.keep_upload(file_name=name, content=content, by=by))


def take_in(file, by):
    name, content = file
    upload = services.keep_upload(file_name=name, content=content, by=by)
    return services.apply_import(upload, seen=services.catalogue_digest(), by=by)


def empty_the_catalogue() -> None:
    StandingChoices.objects.all().delete()
    for model in (JointRule, Price, Fixing, Stick, Item, Supplier):
        model.objects.all().delete()


def test_it_finds_nothing_to_change_in_its_own_export(starter, owner, written):
    found = plan(written(), owner)
    assert found.bad_cells == []
    assert found.nothing_changes
    assert found.unchanged_items == Item.objects.count()
    assert found.unchanged_prices == Price.objects.count()


@pytest.mark.parametrize("history", [False, True])
def test_it_finds_nothing_to_change_in_an_odd_catalogue(odd, owner, written, history):
    found = plan(written(history=history), owner)
    assert found.bad_cells == []
    assert (found.changed_items, found.new_items, found.prices) == ([], [], [])


def test_it_builds_the_same_catalogue_from_its_export(odd, owner, written):
    before, file = list(services.catalogue_rows(history=True)), written(history=True)
    shapes = [list(stick) for stick in Stick.objects.order_by("item__code", "length_in").values_list("length_in")]
    empty_the_catalogue()
    take_in(file, owner)
    assert list(services.catalogue_rows(history=True)) == before
    after = [list(stick) for stick in Stick.objects.order_by("item__code", "length_in").values_list("length_in")]
    assert after == shapes
    assert Item.objects.get(code="inside-corner").notes == ODD
    assert Item.objects.get(code="inside-corner").weight_lb == 3.2 / 3


def test_it_leaves_struck_prices_out(odd):
    assert "7.00" not in {row.get("amount") for row in services.catalogue_rows(history=True)}


def test_it_writes_the_last_word_of_a_day_only(odd):
    amounts = [row.get("amount") for row in services.catalogue_rows(history=True) if row["code"] == "inside-corner"]
    assert amounts == ["1234.50", "9.90"]


def test_it_writes_the_latest_of_each_supplier_unless_all_are_asked_for(odd):
    latest = [row for row in services.catalogue_rows() if row["code"] == "2x8"]
    assert [row["amount"] for row in latest] == ["13.75"] * 4
    assert len([row for row in services.catalogue_rows(history=True) if row["code"] == "2x8"]) == 12


def test_it_guards_text_that_a_spreadsheet_would_run(odd):
    text = csv_bytes(services.catalogue_rows()).decode("utf-8-sig")
    assert "\"'=cmd|" in text
    assert ",'+Cleat," in text
