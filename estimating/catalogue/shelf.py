"""What the pages of the catalogue show, gathered from its tables."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimating.catalogue.documents.price_line import PriceLine, draw_price_lines
from estimating.catalogue.models import Item, Kind, Price, Stick
from estimating.catalogue.services.prices import PriceNow, prices_now
from estimating.catalogue.wording import SaidPrice, item_line, said_length, said_price

NOBODY = "no supplier named"
LOOKS = {
    "starter": "starter figures",
    "old": "old or ended prices",
    "none": "without a price",
}


@dataclass(frozen=True)
class ShelfRow:
    item: Item
    line: str
    price: SaidPrice | None


@dataclass(frozen=True)
class Shelf:
    """The items found, by kind, and how many of all items need a look at their price."""

    groups: list[tuple[Kind, list[ShelfRow]]]
    found: int
    of: int
    starter: int
    old: int
    none: int


def shelf(*, on: date, kind: str = "", words: str = "", look: str = "", with_prices: bool) -> Shelf:
    """The list of items in use. Without prices nothing about money is read, let alone shown."""
    items = list(Item.objects.offered().with_parts().by_kind_and_name())
    prices = _by_item(prices_now(on=on).values(), items) if with_prices else {}
    rows = [ShelfRow(item, item_line(item), said_price(item, prices.get(item.pk, ()))) for item in items]
    wanted = {item.pk for item in Item.objects.offered().named_like(words)} if words.strip() else None
    kept = [
        row
        for row in rows
        if (not kind or row.item.kind == kind)
        and (wanted is None or row.item.pk in wanted)
        and (not look or not with_prices or look in _looks(row))
    ]
    counted = [look for row in rows for look in _looks(row)] if with_prices else []
    groups = [(each, [row for row in kept if row.item.kind == each]) for each in Kind]
    return Shelf(
        groups=[(each, found) for each, found in groups if found],
        found=len(kept),
        of=len(items),
        **{name: counted.count(name) for name in LOOKS},
    )


def _by_item(prices: Iterable[PriceNow], items: list[Item]) -> dict[int, list[PriceNow]]:
    """Leaves out lengths no longer offered."""
    offered = {stick.pk for item in items for stick in item.sticks.all() if stick.offered} | {None}
    found = defaultdict(list)
    for now in prices:
        if now.price.stick_id in offered:
            found[now.price.item_id].append(now)
    return found


def _looks(row: ShelfRow) -> set[str]:
    if row.price is None:
        return {"none"}
    looks = {"starter"} if "starter figure" in row.price.doubts else set()
    return looks | ({"old"} if any(doubt != "starter figure" for doubt in row.price.doubts) else set())


@dataclass(frozen=True)
class LengthPrice:
    """The price that counts now of one stock length, or of the pack."""

    label: str
    now: PriceNow | None


@dataclass(frozen=True)
class PriceRow:
    """The prices of one supplier and day, one cell for each stock length; a cell holds what was entered, newest first.

    Prices of an item without lengths stand in the one cell.
    """

    dated: date
    valid_until: date | None
    supplier: str
    notes: str
    cells: list[list[Price]]


@dataclass(frozen=True)
class PriceBook:
    """An item's prices: what counts now, all that were ever entered, and their line over time."""

    now: list[LengthPrice]
    heads: list[str]
    rows: list[PriceRow]
    drawing: str
    small_drawing: str
    drawn: Stick | None
    lengths: list[Stick]


def price_book(item: Item, *, on: date, length_pk: int | None = None) -> PriceBook:
    """Everything about an item's prices; the drawing shows one stock length, the longest unless another is asked."""
    sticks = [stick for stick in item.sticks.all() if stick.offered]
    counts = prices_now(on=on, items=[item])
    places: list[Stick | None] = [*sticks] if item.is_wood else [None]
    prices = list(item.prices.select_related("supplier", "stick", "entered_by", "struck_by").newest_first())
    columns = sorted({price.stick for price in prices if price.stick}, key=lambda s: s.length_in) or [None]
    shown = next((stick for stick in sticks if stick.pk == length_pk), sticks[-1] if sticks else None)
    lines = _lines([price for price in prices if price.stick_id == (shown.pk if shown else None)])
    title = f"Prices of {item.name}{f', {_length_label(shown)}' if shown else ''}"
    return PriceBook(
        now=[LengthPrice(_length_label(s), counts.get((item.pk, s.pk if s else None))) for s in places],
        heads=[_length_label(stick) for stick in columns],
        rows=_rows(prices, [stick.pk if stick else None for stick in columns]),
        drawing=draw_price_lines(lines, until=on, title=title),
        small_drawing=draw_price_lines(lines, until=on, title=title, small=True),
        drawn=shown,
        lengths=sticks,
    )


def _rows(prices: list[Price], columns: list[int | None]) -> list[PriceRow]:
    groups: dict[tuple, list[Price]] = defaultdict(list)
    for price in prices:
        groups[price.dated, price.supplier_id, price.starter, price.valid_until].append(price)
    return [
        PriceRow(
            dated=group[0].dated,
            valid_until=group[0].valid_until,
            supplier=_source(group[0]),
            notes="; ".join(dict.fromkeys(note for price in group for note in _notes(price))),
            cells=[[price for price in group if price.stick_id == column] for column in columns],
        )
        for group in groups.values()
    ]


def _notes(price: Price) -> list[str]:
    struck = f"{price.amount} struck out by {price.struck_by}: {price.struck_reason}" if price.struck_at else ""
    return [words for words in (price.note, struck) if words]


def _source(price: Price) -> str:
    if price.supplier:
        return price.supplier.name
    return "starter figure" if price.starter else NOBODY


def _lines(prices: list[Price]) -> list[PriceLine]:
    """Each supplier's prices, the earliest first; starter figures only while there is nothing else."""
    standing = [price for price in reversed(prices) if price.struck_at is None]
    own = [price for price in standing if not price.starter]
    by_supplier: dict[str, list[tuple[date, Decimal]]] = defaultdict(list)
    for price in own or standing:
        by_supplier[_source(price)].append((price.dated, price.amount))
    return [PriceLine(name, tuple(points)) for name, points in by_supplier.items()]


def _length_label(stick: Stick | None) -> str:
    return said_length(stick.length_in) if stick else ""
