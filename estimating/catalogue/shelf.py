"""What the pages of the catalogue show, gathered from its tables."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from contractor.company.current import units
from contractor.quantities import format_length
from estimating.catalogue.documents.price_line import PriceLine, draw_price_lines
from estimating.catalogue.models import Item, Kind, Price, Stick
from estimating.catalogue.services.prices import PriceNow, prices_now
from estimating.catalogue.wording import SaidPrice, item_line, said_price

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
class PriceBook:
    """An item's prices: what counts now, all that were ever entered, and their line over time."""

    now: list[LengthPrice]
    rows: list[Price]
    drawing: str
    drawn: str
    lengths: list[Stick]


def price_book(item: Item, *, on: date, length_pk: int | None = None) -> PriceBook:
    """Everything about an item's prices; the drawing shows one stock length, the longest unless another is asked."""
    sticks = [stick for stick in item.sticks.all() if stick.offered]
    counts = prices_now(on=on, items=[item])
    places: list[Stick | None] = [*sticks] if item.is_wood else [None]
    rows = list(item.prices.select_related("supplier", "stick", "entered_by", "struck_by").newest_first())
    shown = next((stick for stick in sticks if stick.pk == length_pk), sticks[-1] if sticks else None)
    said = _length_label(shown)
    return PriceBook(
        now=[LengthPrice(_length_label(s), counts.get((item.pk, s.pk if s else None))) for s in places],
        rows=rows,
        drawing=_draw(item, [row for row in rows if row.stick_id == (shown.pk if shown else None)], on, said),
        drawn=said,
        lengths=sticks,
    )


def _draw(item: Item, rows: list[Price], on: date, length: str) -> str:
    by_supplier: dict[str, list[tuple[date, object]]] = defaultdict(list)
    for row in reversed(rows):
        if row.struck_at is None:
            name = row.supplier.name if row.supplier else ("starter figure" if row.starter else NOBODY)
            by_supplier[name].append((row.dated, row.amount))
    lines = [PriceLine(name, tuple(points)) for name, points in by_supplier.items()]
    title = f"Prices of {item.name}{f', {length}' if length else ''}"
    return draw_price_lines(lines, until=on, title=title)


def _length_label(stick: Stick | None) -> str:
    return format_length(stick.length_in, units()) if stick else ""
