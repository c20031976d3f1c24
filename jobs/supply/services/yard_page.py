"""The yard and its history, gathered once for their pages."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from jobs.supply.models import Movement, Need, Return, Shelf, Stock

from .coming import owed_on_orders
from .ledger import average_costs, last_costs
from .returning import returns_open

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class YardRow:
    stock: Stock
    shelves: tuple[tuple[str, Decimal], ...]
    owed: Decimal
    last: Decimal | None  # what one cost the last time
    average: Decimal | None
    is_low: bool

    @property
    def value_last(self) -> Decimal | None:
        return None if self.last is None else (self.stock.on_hand * self.last).quantize(CENT)

    @property
    def value_average(self) -> Decimal | None:
        return None if self.average is None else (self.stock.on_hand * self.average).quantize(CENT)


@dataclass(frozen=True, slots=True)
class YardPage:
    groups: tuple[tuple[str, tuple[YardRow, ...]], ...]
    offcuts: tuple[YardRow, ...]
    low: tuple[YardRow, ...]
    value_last: Decimal
    value_average: Decimal
    unpriced: int
    returns: tuple[Return, ...]


@dataclass(frozen=True, slots=True)
class HistoryRow:
    movement: Movement
    after: Decimal  # on hand once it had happened


@dataclass(frozen=True, slots=True)
class HistoryPage:
    row: YardRow
    movements: tuple[HistoryRow, ...]  # newest first
    together: Decimal  # the sum of all movements: what is on hand
    needs: tuple[Need, ...]


def yard_page(*, find: str = "") -> YardPage:
    """What lies in the yard, or is awaited there; of these words only, if given."""
    stocks = Stock.objects.in_full().by_name()
    for word in find.split():
        stocks = stocks.filter(item__name__icontains=word) | stocks.filter(item__code__icontains=word)
    low = set(Stock.objects.low().values_list("pk", flat=True))
    rows = _rows(stocks, low)
    shown = [row for row in rows if row.stock.on_hand or row.owed or row.is_low]
    groups: dict[str, list[YardRow]] = defaultdict(list)
    for row in shown:
        if not row.stock.offcut:
            groups[row.stock.item.get_kind_display()].append(row)
    return YardPage(
        groups=tuple((name, tuple(rows)) for name, rows in groups.items()),
        offcuts=tuple(row for row in shown if row.stock.offcut and row.stock.on_hand),
        low=tuple(row for row in shown if row.is_low),
        value_last=sum((row.value_last or Decimal(0) for row in shown), Decimal(0)),
        value_average=sum((row.value_average or Decimal(0) for row in shown), Decimal(0)),
        unpriced=sum(1 for row in shown if row.stock.on_hand and row.average is None),
        returns=tuple(returns_open()),
    )


def history_of(stock: Stock) -> HistoryPage:
    """Every movement of one thing with what was on hand after it."""
    row = _rows([stock], set(Stock.objects.low().filter(pk=stock.pk).values_list("pk", flat=True)))[0]
    after, rows = Decimal(0), []
    for movement in Movement.objects.of(stock).select_related("shelf", "job__client", "receipt_line__receipt__order"):
        after += movement.quantity
        rows.append(HistoryRow(movement, after))
    needs = Need.objects.standing().of_open_jobs().in_full().filter(stock=stock).first_needed_first()
    return HistoryPage(row, tuple(reversed(rows)), after, tuple(need for need in needs if need.issued < need.quantity))


def _rows(stocks: Iterable[Stock], low: set[int]) -> list[YardRow]:
    found = list(stocks)
    names = dict(Shelf.objects.values_list("pk", "name"))
    lying: dict[int, list[tuple[str, Decimal]]] = defaultdict(list)
    here = Movement.objects.filter(stock__in=[stock.pk for stock in found]).by_shelf()
    for stock_id, shelf_id, lies in here.values_list("stock_id", "shelf_id", "lies"):
        lying[stock_id].append((names[shelf_id], lies))
    owed: dict[int, Decimal] = defaultdict(Decimal)
    for one in owed_on_orders():
        owed[one.stock_id] += one.owed
    last, average = last_costs(), average_costs()
    return [
        YardRow(
            stock,
            tuple(sorted(lying[stock.pk])),
            owed[stock.pk],
            last.get(stock.pk),
            average.get(stock.pk),
            stock.pk in low,
        )
        for stock in found
    ]
