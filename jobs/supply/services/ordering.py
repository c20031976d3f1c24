"""What to order today, and orders: drafted for several jobs at once, sent once, followed until all is here."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_UP, Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import F
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Company, Staff
from contractor.company.numbers import next_number
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from estimating.catalogue.models import Price, Supplier
from jobs.supply.documents.order_paper import order_paper, pack_words
from jobs.supply.models import ExpectedDate, Order, OrderLine, OrderShare, OrderState, Stock

from .advising import goods_moved
from .coming import Missing, cover, free_stock, missing_needs
from .ledger import ZERO
from .needs import working_days_before

USUAL_LEAD = 5  # working days, where neither item nor supplier names one


@dataclass(frozen=True, slots=True)
class ToOrder:
    """One thing that nobody ordered: for which needs, in how many packs, and the last day the order can go out."""

    stock: Stock
    short: Decimal  # in units of use
    packs: Decimal
    pack_size: Decimal
    pack_words: str
    price: Price | None
    needs: tuple[Missing, ...]
    for_shelf: Decimal  # of `short`, to fill up to what the shop keeps
    needed_by: date
    lead_days: int
    last_day: date

    @property
    def amount(self) -> Decimal | None:
        return self.price.amount * self.packs if self.price else None

    @property
    def jobs(self) -> int:
        return len({need.job_id for need in self.needs})


@dataclass(frozen=True, slots=True)
class SupplierList:
    """What to order of one supplier, most pressing first. No supplier: nobody is known to sell it."""

    supplier: Supplier | None
    lines: tuple[ToOrder, ...]
    last_day: date
    amount: Decimal


class NothingToOrder(Exception):
    """Somebody ordered it meanwhile."""


class OrderGone(Exception):
    """The order is no draft any more; `order` says what it is."""

    def __init__(self, order: Order):
        super().__init__(str(order))
        self.order = order


def what_to_order(*, on: date) -> list[SupplierList]:
    """Everything that neither the yard nor an order covers, by supplier, the most pressing first."""
    shorts = _shorts(on)
    stocks = {stock.pk: stock for stock in Stock.objects.in_full().filter(pk__in=shorts)}
    prices = _prices(stocks.values(), on)
    by_supplier: dict[Supplier | None, list[ToOrder]] = defaultdict(list)
    for pk, (needs, short, for_shelf) in shorts.items():
        supplier, price = _source(stocks[pk], prices)
        by_supplier[supplier].append(_line(stocks[pk], (supplier, price), needs, (short, for_shelf), on))
    found = [
        SupplierList(
            supplier,
            tuple(sorted(lines, key=lambda line: (line.last_day, str(line.stock)))),
            min(line.last_day for line in lines),
            sum((line.amount or ZERO for line in lines), ZERO),
        )
        for supplier, lines in by_supplier.items()
    ]
    return sorted(found, key=lambda one: (one.supplier is None, one.last_day, str(one.supplier)))


def _shorts(on: date) -> dict[int, tuple[list[Missing], Decimal, Decimal]]:
    """By stock: the needs nobody ordered for, how much that is, and how much of it only fills the shelf."""
    shorts: dict[int, tuple[list[Missing], Decimal, Decimal]] = {}
    free, coming = free_stock(), _on_the_way()
    for one in cover(missing_needs(), free, []):
        covered = min(coming.get(one.need.stock_id, ZERO), one.unordered)
        coming[one.need.stock_id] = coming.get(one.need.stock_id, ZERO) - covered
        if one.unordered > covered:
            needs, short, _ = shorts.get(one.need.stock_id, ([], ZERO, ZERO))
            part = one.need._replace(missing=one.unordered - covered)
            shorts[one.need.stock_id] = ([*needs, part], short + part.missing, ZERO)
    spoken = defaultdict(lambda: ZERO)
    for need in missing_needs():
        spoken[need.stock_id] += need.missing
    for stock in Stock.objects.in_full().filter(item__minimum_on_hand__isnull=False, offcut=False):
        left = max(stock.free - spoken[stock.pk], ZERO) + max(coming.get(stock.pk, ZERO), ZERO)
        fill = stock.item.minimum_on_hand - left
        if fill > 0:
            needs, short, _ = shorts.get(stock.pk, ([], ZERO, ZERO))
            shorts[stock.pk] = (needs, short + fill, fill)
    return shorts


def _on_the_way() -> dict[int, Decimal]:
    """Still to come on orders sent or drafted, by stock."""
    rows = OrderLine.objects.filter(order__state__in=[OrderState.DRAFT, OrderState.SENT]).values_list(
        "stock_id", F("quantity") - F("accepted") - F("cancelled")
    )
    together: dict[int, Decimal] = defaultdict(lambda: ZERO)
    for stock_id, owed in rows:
        together[stock_id] += owed
    return together


def _prices(stocks: Iterable[Stock], on: date) -> dict[tuple[int, float, int | None], Price]:
    """The newest standing price of each item, length and supplier on a day; key None is the newest of anybody."""
    rows = Price.objects.standing().known_on(on).filter(item__in={s.item_id for s in stocks}, starter=False)
    found: dict[tuple[int, float, int | None], Price] = {}
    for price in rows.select_related("supplier", "stick").order_by("dated", "pk"):
        length_in = price.stick.length_in if price.stick else 0.0
        found[price.item_id, length_in, price.supplier_id] = price
        if price.supplier_id and price.supplier.active:
            found[price.item_id, length_in, None] = price
    return found


def _source(
    stock: Stock, prices: Mapping[tuple[int, float, int | None], Price]
) -> tuple[Supplier | None, Price | None]:
    newest = prices.get((stock.item_id, stock.length_in, None))
    usual = stock.item.preferred_supplier
    if usual:
        return usual, prices.get((stock.item_id, stock.length_in, usual.pk))
    return (newest.supplier, newest) if newest else (None, None)


def _line(
    stock: Stock,
    source: tuple[Supplier | None, Price | None],
    needs: list[Missing],
    amounts: tuple[Decimal, Decimal],
    on: date,
) -> ToOrder:
    (supplier, price), (short, for_shelf) = source, amounts
    size = Decimal(1) if stock.length_in else stock.item.pack_size
    lead = next(
        (days for days in (stock.item.lead_days, supplier.lead_days if supplier else None) if days is not None),
        USUAL_LEAD,
    )
    needed_by = min((need.needed_by for need in needs), default=on)
    return ToOrder(
        stock=stock,
        short=short,
        packs=(short / size).to_integral_value(ROUND_UP),
        pack_size=size,
        pack_words=pack_words(stock, size),
        price=price,
        needs=tuple(needs),
        for_shelf=for_shelf,
        needed_by=needed_by,
        lead_days=lead,
        last_day=working_days_before(needed_by, lead),
    )


@transaction.atomic
def draft_order(supplier: Supplier, *, stock_ids: Iterable[int], by: Staff, on: date) -> Order:
    """Draft one order for these things, for every job that waits for them. Raises NothingToOrder."""
    wanted = set(stock_ids)
    # Two people press at once: the second finds the first one's draft and nothing left to order.
    list(Stock.objects.select_for_update().filter(pk__in=wanted).order_by("pk"))
    lines = [line for one in what_to_order(on=on) for line in one.lines if line.stock.pk in wanted]
    if not lines:
        raise NothingToOrder(supplier.name)
    firm = Company.objects.the_firm()
    order = Order.objects.create(
        supplier=supplier,
        needed_by=min(line.needed_by for line in lines),
        ship_to=firm.address if firm else "",
        made_by=by,
    )
    for place, line in enumerate(lines):
        _put_on(order, line, place)
    log_change(order, did="drafted", by=by, after={"lines": [str(line) for line in order.lines.all()]})
    return order


def _put_on(order: Order, line: ToOrder, place: int) -> None:
    made = OrderLine.objects.create(
        order=order,
        stock=line.stock,
        packs=line.packs,
        pack_size=line.pack_size,
        pack_words=line.pack_words,
        unit_price=line.price.amount if line.price and line.price.supplier_id == order.supplier_id else None,
        quantity=line.packs * line.pack_size,
        position=place,
    )
    OrderShare.objects.bulk_create(
        OrderShare(line=made, need_id=need.need_id, quantity=need.missing) for need in line.needs
    )


@transaction.atomic
def save_order(
    order: Order, *, seen_version: int, changes: Mapping[str, Any], lines: Mapping[int, Mapping[str, Any]], by: Staff
) -> Order:
    """Change a draft: its days and words, and per line (by id) packs and price; no packs takes the line off.

    Raises OrderGone, ChangedMeanwhile, ValidationError.
    """
    held = _hold_draft(order)
    if held.version != seen_version:
        raise ChangedMeanwhile(held, seen_version, changes)
    for line in held.lines.all():
        _save_line(line, lines.get(line.pk, {}))
    saved = save_if_unchanged(held, seen_version, changes, by=by)
    if saved.version == seen_version:
        Order.objects.filter(pk=held.pk).update(version=seen_version + 1)
        log_change(held, did="changed", by=by, after={"version": seen_version + 1})
    return Order.objects.get(pk=held.pk)


def _save_line(line: OrderLine, facts: Mapping[str, Any]) -> None:
    if not facts:
        return
    if not facts["packs"]:
        line.delete()
        return
    line.packs, line.unit_price = facts["packs"], facts["unit_price"]
    line.quantity = line.packs * line.pack_size
    line.full_clean()
    line.save()


def send_order(order: Order, *, by: Staff, on: date) -> Order:
    """Give the order its number and its paper, once; a second press finds it sent. Raises OrderGone, ValidationError.

    The paper is made after the number is kept, so that nobody waits for it.
    """
    held = _send(order, by=by)
    paper_of(held, on=on)
    return held


def paper_of(order: Order, *, on: date) -> bytes:
    """The PDF as it was first made."""
    kept = Order.objects.values_list("pdf", flat=True).get(pk=order.pk)
    if kept is None:
        Order.objects.filter(pk=order.pk, pdf=None).update(pdf=order_paper(order, on=on))
        kept = Order.objects.values_list("pdf", flat=True).get(pk=order.pk)
    return bytes(kept)


@transaction.atomic
def _send(order: Order, *, by: Staff) -> Order:
    held = _hold(order)
    if held.state == OrderState.SENT:
        return held
    if held.state != OrderState.DRAFT:
        raise OrderGone(held)
    if not held.lines.exists():
        raise ValidationError("There is nothing on this order.")
    held.number, held.state, held.sent_at = next_number("purchase order"), OrderState.SENT, timezone.now()
    held.version += 1
    held.save()
    goods_moved(held.lines.values_list("stock_id", flat=True))
    log_change(held, did="sent", by=by, after={"number": held.number, "version": held.version})
    return held


@transaction.atomic
def drop_order(order: Order, *, by: Staff) -> Order:
    """Give up a draft; what it would have brought is to be ordered again. Raises OrderGone."""
    held = _hold_draft(order)
    held.state = OrderState.DROPPED
    held.version += 1
    held.save(update_fields=["state", "version"])
    log_change(held, did="dropped", by=by, after={"version": held.version})
    return held


@transaction.atomic
def promise(line: OrderLine, *, expected_on: date, by: Staff | None, note: str = "") -> ExpectedDate:
    """The supplier named a day; the first and every slip stay on record. Raises OrderGone."""
    order = _hold(line.order)
    if order.state != OrderState.SENT:
        raise OrderGone(order)
    before = line.expected_on
    goods_moved([line.stock_id])
    OrderLine.objects.filter(pk=line.pk).update(expected_on=expected_on)
    made = ExpectedDate.objects.create(
        line=line, expected_on=expected_on, note=note.strip(), by=by, by_name=by.name if by else "Wharfwright"
    )
    log_change(
        order, did="promised", by=by, before={str(line): before} if before else {}, after={str(line): expected_on}
    )
    return made


@transaction.atomic
def promise_all(order: Order, *, expected_on: date, by: Staff | None, note: str = "") -> None:
    """One day for everything the order still owes."""
    for line in order.lines.all():
        if line.owed > 0:
            promise(line, expected_on=expected_on, by=by, note=note)


@transaction.atomic
def cancel_owed(line: OrderLine, *, quantity: Decimal, reason: str, by: Staff) -> OrderLine:
    """So many of what is owed will not come any more, for a reason. Raises ValidationError."""
    order = _hold(line.order)
    held = OrderLine.objects.select_for_update().get(pk=line.pk)
    if not 0 < quantity <= held.owed:
        raise ValidationError(f"{held.owed.normalize():f} are owed; between one and all of them can be cancelled.")
    if not reason.strip():
        raise ValidationError("Say why it is cancelled.")
    held.cancelled += quantity
    held.save(update_fields=["cancelled"])
    goods_moved([held.stock_id])
    log_change(order, did="cancelled", by=by, after={"goods": str(held.stock), "quantity": quantity, "why": reason})
    settle_state(order)
    return held


def settle_state(order: Order) -> None:
    """An order is done when nothing is owed, and on order again when something is."""
    owing = any(line.owed > 0 for line in order.lines.all())
    state = OrderState.SENT if owing else OrderState.DONE
    if order.state != state:
        order.state = state
        order.save(update_fields=["state"])


def _hold(order: Order) -> Order:
    return Order.objects.select_for_update(of=("self",)).select_related("supplier").get(pk=order.pk)


def _hold_draft(order: Order) -> Order:
    held = _hold(order)
    if held.state != OrderState.DRAFT:
        raise OrderGone(held)
    return held
