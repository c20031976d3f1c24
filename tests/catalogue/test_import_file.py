"""A file is looked at before it counts: every bad cell is named, and it goes in whole or not at all."""

import csv
import io
from datetime import date
from decimal import Decimal

import pytest

from contractor.company.models import ChangeLog
from estimating.catalogue import services
from estimating.catalogue.models import Import, Item, Price, Supplier
from estimating.catalogue.services import ImportRefused, ItemDraft

from .conftest import price

pytestmark = pytest.mark.django_db
PRICE = {"price": "18.00", "currency": "USD", "dated": "2026-04-06"}
NEW_FLOAT = {
    "code": "float-s",
    "kind": "float",
    "name": "Float",
    "length in": "48",
    "width in": "24",
    "height in": "16",
    "weight lb": "46",
    "rated lift lb": "600",
    "lift is": "net",
    "source of the lift": "sheet",
}
NEW_JOIST = {
    "code": "2x6",
    "kind": "lumber",
    "name": "2x6",
    "name size": "2x6",
    "thickness in": "1.5",
    "width in": "5.5",
    "weight wet lb/ft": "3.4",
    "weight seasoned lb/ft": "2.2",
    "stock length ft": "16",
}


def written(*rows: dict[str, str], delimiter: str = ",") -> bytes:
    heads = list(dict.fromkeys(head for row in rows for head in row))
    out = io.StringIO()
    writer = csv.DictWriter(out, heads, delimiter=delimiter)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue().encode()


@pytest.fixture
def upload(owner):
    def keep(*rows: dict[str, str], delimiter: str = ",") -> Import:
        return services.keep_upload(file_name="list.csv", content=written(*rows, delimiter=delimiter), by=owner)

    return keep


@pytest.fixture
def plan(upload):
    return lambda *rows, **options: services.plan_of(upload(*rows, **options))


@pytest.fixture
def take_in(upload, owner):
    def apply(*rows: dict[str, str]):
        return services.apply_import(upload(*rows), seen=services.catalogue_digest(), by=owner)

    return apply


def bad(found) -> list[tuple[int, str, str]]:
    return [(cell.row, cell.letter, cell.heading) for cell in found.bad_cells]


# What is wrong with a cell: (the row, its column, words of the sentence). The plate is there already.
PLATE = {"code": "inside-corner"}
BAD_CELLS = [
    ({"code": "", "name": "Plate"}, "code", "needs the code"),
    ({"code": "two words", "name": "Plate"}, "code", "not a code"),
    ({**PLATE, "kind": "plate"}, "kind", "not one of: lumber"),
    ({**PLATE, "kind": "float"}, "kind", "kept as hardware"),
    ({"code": "new", "name": "New"}, "kind", "say what kind"),
    ({**PLATE, "name": "x" * 121}, "name", "At most 120 letters; this has 121"),
    ({**PLATE, "name": "(empty)"}, "name", "Needed"),
    ({**PLATE, "in use": "perhaps"}, "in use", "neither yes nor no"),
    ({**PLATE, "weight lb": "heavy"}, "weight lb", "not a weight"),
    ({**PLATE, "weight lb": "-3"}, "weight lb", "below zero"),
    ({**PLATE, "length in": "wide"}, "length in", "not a length"),
    ({**PLATE, "length in": "0"}, "length in", "Above zero"),
    ({**PLATE, "length in": "9999 ft"}, "length in", "Look at the unit"),
    ({**PLATE, "pack size": "0"}, "pack size", "From 0.001"),
    ({**PLATE, "pack size": "many"}, "pack size", "not a number"),
    ({**PLATE, "waste %": "100"}, "waste %", "to 99.99 %"),
    ({**PLATE, "hours to fit": "0.0001"}, "hours to fit", "At most 3 decimals"),
    ({**PLATE, "lead days": "2.5"}, "lead days", "whole number"),
    ({**PLATE, "species": "pine"}, "species", "Hardware have no species"),
    ({**PLATE, "fixings": "nut"}, "fixings", "not a code and a count"),
    ({**PLATE, "fixings": "nut x 0"}, "fixings", "takes none"),
    ({**PLATE, "fixings": "nut x 4"}, "fixings", "no item nut"),
    ({**PLATE, "fixings": "inside-corner x 1"}, "fixings", "not fixed with itself"),
    ({**PLATE, "substitutes": "other"}, "substitutes", "no item other"),
    ({**PLATE, "substitutes": "inside-corner"}, "substitutes", "stand in for itself"),
    ({**PLATE, "stock length ft": "16"}, "stock length ft", "Only lumber"),
    ({**PLATE, **PRICE, "price": "free"}, "price", "not an amount"),
    ({**PLATE, **PRICE, "price": "0"}, "price", "above zero"),
    ({**PLATE, **PRICE, "price": "12.345"}, "price", "more than 2 decimals"),
    ({**PLATE, **PRICE, "price": ""}, "price", "a currency but no price"),
    ({**PLATE, **PRICE, "currency": ""}, "currency", "needs its currency"),
    ({**PLATE, **PRICE, "currency": "dollars"}, "currency", "not a currency"),
    ({**PLATE, **PRICE, "currency": "CAD"}, "currency", "in CAD; the firm works in USD"),
    ({**PLATE, **PRICE, "dated": ""}, "dated", "needs its day"),
    ({**PLATE, **PRICE, "dated": "3/4/2026"}, "dated", "can’t be read as a date"),
    ({**PLATE, **PRICE, "dated": "2026-02-30"}, "dated", "There is no"),
    ({**PLATE, **PRICE, "dated": "2062-04-06"}, "dated", "more than a year ahead"),
    ({**PLATE, **PRICE, "valid until": "2026-04-01"}, "valid until", "end before"),
    ({**PLATE, "name": "=1+1"}, "name", "formula"),
    ({**NEW_FLOAT, "lift is": ""}, "lift is", "Needed for floats"),
    ({**NEW_FLOAT, "lift is": "both"}, "lift is", "not one of: net, gross, unknown"),
    ({**NEW_FLOAT, "rated lift lb": "0"}, "rated lift lb", "Above zero"),
    ({**NEW_JOIST, "stock length ft": ""}, "stock length ft", "in which lengths"),
    ({**NEW_JOIST, "weight wet lb/ft": ""}, "weight wet lb/ft", "Type the weight wet"),
    ({**NEW_JOIST, "weight seasoned lb/ft": "5"}, "weight seasoned lb/ft", "not heavier than wet"),
    ({**NEW_JOIST, "fixings": "inside-corner x 1"}, "fixings", "have no fixings"),
    ({**NEW_JOIST, "specific gravity": "55"}, "specific gravity", "From 0.05 to 1.2"),
]


@pytest.mark.parametrize(("row", "heading", "said"), BAD_CELLS)
@pytest.mark.page
def test_it_names_the_bad_cell(plate, plan, row, heading, said):
    found = plan(row)
    letter = "ABCDEFGHIJKLMNOP"[list(row).index(heading)] if heading in row else ""
    assert (2, letter, heading) in bad(found)
    assert any(said in cell.sentence for cell in found.bad_cells if cell.heading == heading), found.bad_cells


@pytest.mark.page
def test_it_names_every_bad_cell_at_once(plate, plan):
    rows = [{**PLATE, **PRICE, "price": "free", "currency": "CAD"}, {"code": "", "price": "1"}, {"code": "x y"}]
    assert bad(plan(*rows)) == [(2, "B", "price"), (3, "A", "code"), (4, "A", "code")]


@pytest.mark.page
def test_it_names_a_heading_it_does_not_know(plate, plan):
    (cell,) = plan({**PLATE, "pack": "25"}).bad_cells
    assert (cell.row, cell.letter) == (1, "B")
    assert "Did you mean “pack size”?" in cell.sentence


@pytest.mark.page
def test_it_wants_a_column_of_codes(plan):
    (cell, *_) = plan({"name": "Plate"}).bad_cells
    assert "one of them must be “code”" in cell.sentence


@pytest.mark.page
def test_it_refuses_the_same_heading_twice(plate, owner):
    upload = services.keep_upload(file_name="a.csv", content=b"code,name,Name\ninside-corner,A,B\n", by=owner)
    assert bad(services.plan_of(upload)) == [(1, "C", "Name")]


@pytest.mark.page
def test_it_refuses_cells_beside_the_last_heading(plate, owner):
    upload = services.keep_upload(file_name="a.csv", content=b"code,name\ninside-corner,A,B\n", by=owner)
    assert bad(services.plan_of(upload)) == [(2, "C", "")]


@pytest.mark.page
def test_it_refuses_rows_of_one_item_that_disagree(joist, plan):
    rows = [{"code": "2x8", "name": "2x8 treated"}, {"code": "2X8", "name": ""}, {"code": "2x8", "name": "Joist"}]
    (cell,) = plan(*rows).bad_cells
    assert (cell.row, cell.letter, cell.typed) == (4, "B", "Joist")
    assert "Row 2 says 2x8 treated" in cell.sentence


@pytest.mark.page
def test_it_refuses_two_prices_of_one_day_and_supplier(plate, plan):
    rows = [{**PLATE, "supplier": "Mill", **PRICE}, {**PLATE, "supplier": "mill", **PRICE, "price": "19.00"}]
    (cell,) = plan(*rows).bad_cells
    assert (cell.row, cell.heading) == (3, "price")
    assert "Row 2 has another price" in cell.sentence


@pytest.mark.page
def test_it_refuses_a_price_of_lumber_without_its_length(joist, plan):
    (cell,) = plan({"code": "2x8", "stock length ft": "", **PRICE}).bad_cells
    assert (cell.letter, cell.sentence) == ("B", "Say which stock length this is the price of.")


def test_it_refuses_to_retire_what_a_rule_names(starter, plan):
    (cell,) = plan({"code": "nut", "in use": "no"}).bad_cells
    assert "Still named by joint rule" in cell.sentence


@pytest.mark.page
def test_it_asks_which_of_two_readings_a_comma_means(plate, plan):
    (cell,) = plan({**PLATE, **PRICE, "price": "1,250"}, delimiter=";").bad_cells
    assert cell.sentence == "1,250 can be read two ways in this file. Write 1250 or 1.250."


@pytest.mark.parametrize(
    ("typed", "amount"), [("1,250.50", "1250.50"), ("12,50", "12.50"), ("$18", "18.00"), ("1250", "1250.00")]
)
@pytest.mark.page
def test_it_reads_amounts_as_people_write_them(plate, plan, typed, amount):
    (found,) = plan({**PLATE, **PRICE, "price": typed}).prices
    assert found.facts.amount == Decimal(amount)


@pytest.mark.parametrize("typed", ["2026-04-06", "6 Apr 2026", "6 April 2026", "April 6, 2026", "Mon 6 Apr 2026"])
@pytest.mark.page
def test_it_reads_days_with_the_month_as_a_word(plate, plan, typed):
    (found,) = plan({**PLATE, **PRICE, "dated": typed}).prices
    assert found.facts.dated == date(2026, 4, 6)


@pytest.mark.parametrize(
    ("typed", "length_in"), [("16", 192.0), ("16' 0\"", 192.0), ("193.5 in", 193.5), ("5 m", 5000 / 25.4)]
)
@pytest.mark.page
def test_it_reads_lengths_as_people_write_them(joist, plan, typed, length_in):
    (found,) = plan({"code": "2x8", "stock length ft": typed, **PRICE}).prices
    assert found.length_in == length_in


def test_it_shows_what_would_change_and_changes_nothing(plate, yard, owner, plan):
    services.add_price(plate, price("17.00", date(2026, 3, 1)), supplier=yard, by=owner)
    found = plan(
        {**PLATE, "name": "Inside plate", "finish": "galvanized", "supplier": "millpond lumber", **PRICE},
        {"code": "lag", "kind": "fastener", "name": "Lag", "supplier": "Bolt Barn", **PRICE},
    )
    assert found.bad_cells == []
    assert [(change.label, change.before, change.after) for change in found.changed_items[0].changes] == [
        ("Name", "Inside corner plate", "Inside plate"),
        ("Finish", "nothing", "galvanized"),
    ]
    assert [item.code for item in found.new_items] == ["lag"]
    assert [(p.code, p.supplier, p.before) for p in found.prices] == [
        ("inside-corner", "Millpond Lumber", Decimal("17.00")),
        ("lag", "Bolt Barn", None),
    ]
    assert found.new_suppliers == ["Bolt Barn"]
    assert (Item.objects.count(), Supplier.objects.count(), Price.objects.count()) == (1, 1, 1)


@pytest.mark.parametrize("silent", [{}, {"shelf": "", "name": "", "kind": "", "fixings": ""}])
def test_it_leaves_facts_alone_that_the_file_says_nothing_of(plate, owner, plan, silent):
    services.change_item(plate, ItemDraft("hardware", {"shelf": "B3"}), seen_version=1, by=owner)
    found = plan({**PLATE, **silent, **PRICE})
    assert (found.changed_items, found.unchanged_items, len(found.prices)) == ([], 1, 1)


def test_it_empties_the_facts_it_is_told_to(plate, yard, owner, take_in):
    facts = {"shelf": "B3", "weight_lb": 3.0, "preferred_supplier": yard}
    services.change_item(plate, ItemDraft("hardware", facts), seen_version=1, by=owner)
    take_in({**PLATE, "shelf": "(empty)", "weight lb": "(empty)", "usual supplier": "(empty)"})
    plate.refresh_from_db()
    assert (plate.shelf, plate.weight_lb, plate.preferred_supplier) == ("", None, None)


def test_it_takes_the_whole_file_in(plate, owner, take_in):
    bolt = {"code": "bolt", "kind": "fastener", "name": "Bolt", "pack size": "25"}
    take_in(
        {**NEW_FLOAT, "fixings": "bolt x 8; inside-corner x 1", "usual supplier": "Bolt Barn", **PRICE},
        bolt,
        {**PLATE, "substitutes": "", "supplier": "Bolt Barn", **PRICE},
        {**NEW_JOIST, **PRICE, "in use": "no"},
        {"code": "2x6", "stock length ft": "12", **PRICE, "price": "14.00"},
    )
    item = Item.objects.get(code="float-s")
    assert [(f.part.code, f.quantity) for f in item.fixings.all()] == [("bolt", 8), ("inside-corner", 1)]
    assert item.preferred_supplier.name == "Bolt Barn"
    joist = Item.objects.get(code="2x6")
    assert (joist.active, [stick.length_in for stick in joist.sticks.all()]) == (False, [144.0, 192.0])
    assert Price.objects.count() == 4
    assert Supplier.objects.count() == 1
    done = Import.objects.get()
    assert (done.state, done.outcome) == ("applied", "3 new items, 4 prices added, 1 new supplier.")
    assert ChangeLog.objects.about(done).get().did == "took in"


def test_it_takes_nothing_in_while_one_cell_is_bad(plate, take_in):
    with pytest.raises(ImportRefused, match="still wrong"):
        take_in({**PLATE, "name": "Inside plate", **PRICE}, {**PLATE, **PRICE, "price": "free"})
    plate.refresh_from_db()
    assert (plate.name, Price.objects.count()) == ("Inside corner plate", 0)


def test_it_undoes_everything_when_the_last_write_fails(plate, upload, owner, monkeypatch):
    kept = upload({**PLATE, "name": "Inside plate", **PRICE}, {"code": "lag", "kind": "fastener", "name": "Lag"})

    def broken(*args, **kwargs):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr("estimating.catalogue.services.imports.add_prices", broken)
    with pytest.raises(RuntimeError):
        services.apply_import(kept, seen=services.catalogue_digest(), by=owner)
    plate.refresh_from_db()
    assert (plate.name, Item.objects.count()) == ("Inside corner plate", 1)
    assert Import.objects.get().state == "waiting"


@pytest.mark.parametrize("change", ["item", "price", "struck", "supplier"])
def test_it_refuses_a_file_looked_at_before_the_catalogue_changed(plate, yard, upload, owner, change):
    standing = services.add_price(plate, price("17.00", date(2026, 3, 1)), by=owner)
    kept, seen = upload({**PLATE, **PRICE}), services.catalogue_digest()
    if change == "item":
        services.change_item(plate, ItemDraft("hardware", {"shelf": "B3"}), seen_version=1, by=owner)
    elif change == "price":
        services.add_price(plate, price("16.00", date(2026, 3, 2)), by=owner)
    elif change == "struck":
        services.strike_price(standing, reason="slip", by=owner)
    else:
        services.change_supplier(yard, facts={"phone": "1"}, seen_version=1, by=owner)
    with pytest.raises(ImportRefused, match="changed the catalogue since"):
        services.apply_import(kept, seen=seen, by=owner)
    assert not Price.objects.filter(amount="18.00").exists()


def test_it_takes_a_file_in_once(plate, upload, owner):
    kept = upload({**PLATE, **PRICE})
    services.apply_import(kept, seen=services.catalogue_digest(), by=owner)
    with pytest.raises(ImportRefused, match="taken in already: 1 price added"):
        services.apply_import(kept, seen=services.catalogue_digest(), by=owner)
    assert Price.objects.count() == 1


def test_it_takes_no_file_in_that_was_put_aside(plate, upload, owner):
    kept = upload({**PLATE, **PRICE})
    services.drop_import(kept, by=owner)
    kept.refresh_from_db()
    assert kept.sheet == {}
    with pytest.raises(ImportRefused, match="put aside"):
        services.apply_import(kept, seen=services.catalogue_digest(), by=owner)


def test_it_says_when_nothing_is_new(plate, take_in):
    with pytest.raises(ImportRefused, match="Nothing in the file is new"):
        take_in(PLATE)
