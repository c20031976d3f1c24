"""The list of orders and one order, gathered once for their pages."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from jobs.supply.models import Order, OrderLine, OrderState, Receipt

from .advice import RollUp, roll_up
from .coming import free_stock, missing_needs, owed_on_orders
from .ordering import SupplierList, what_to_order

SHOWN_DONE = 20


@dataclass(frozen=True, slots=True)
class OrderRow:
    order: Order
    expected_on: date | None  # the next day something is promised for
    is_late: bool
    undated: int  # lines owing without a promised day
    owed_lines: int


@dataclass(frozen=True, slots=True)
class OrdersPage:
    to_order: tuple[SupplierList, ...]
    today: date
    drafts: tuple[Order, ...]
    out: tuple[OrderRow, ...]
    done: tuple[Order, ...]
    rolled: tuple[RollUp, ...]


@dataclass(frozen=True, slots=True)
class OrderPage:
    lines: tuple[OrderLine, ...]
    receipts: tuple[Receipt, ...]
    total: Decimal | None  # None while a price is missing
    owes: bool


def orders_page(*, on: date) -> OrdersPage:
    """What to order today, and every order that is not finished; the newest finished ones below."""
    out = [_row(order, on) for order in _listed(Order.objects.out())]
    rolled = roll_up(needs=missing_needs(), free=free_stock(), owed=owed_on_orders(), on=on)
    return OrdersPage(
        to_order=tuple(what_to_order(on=on)),
        today=on,
        drafts=tuple(_listed(Order.objects.drafts())),
        out=tuple(sorted(out, key=lambda row: (row.expected_on or date.max, row.order.number))),
        done=tuple(_listed(Order.objects.filter(state=OrderState.DONE))[:SHOWN_DONE]),
        rolled=tuple(rolled),
    )


def order_page(order: Order) -> OrderPage:
    """One order with its lines, their jobs and promises, and how it was counted."""
    lines = tuple(order.lines.select_related("stock__item").prefetch_related("shares__need__job__client", "promises"))
    amounts = [line.amount for line in lines]
    return OrderPage(
        lines=lines,
        receipts=tuple(order.receipts.prefetch_related("lines__stock__item")),
        total=None if None in amounts else sum(amounts, Decimal(0)),
        owes=any(line.owed for line in lines),
    )


def _listed(orders: QuerySet) -> QuerySet:
    return orders.defer("pdf").in_full().newest_first()


def _row(order: Order, on: date) -> OrderRow:
    owing = [line for line in order.lines.all() if line.owed > 0]
    days = [line.expected_on for line in owing if line.expected_on]
    first = min(days, default=None)
    return OrderRow(order, first, bool(first and first < on), len(owing) - len(days), len(owing))
