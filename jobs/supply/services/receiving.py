"""A delivery is counted: posted once however often it is sent, voided with a reason, never deleted."""

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from jobs.records.models.saying import day_said
from jobs.supply.documents.slip_words import slip_words
from jobs.supply.models import (
    MovementKind,
    Order,
    OrderLine,
    OrderState,
    Receipt,
    ReceiptLine,
    ReceiptPhoto,
    Return,
    Shelf,
    Stock,
)

from .asides import loosen
from .holds import goods_came
from .ledger import ZERO, NotOnHand, Why, hold_stocks, move, said, take_off_shelves, usual_shelf
from .ordering import OrderGone, settle_state


@dataclass(frozen=True, slots=True)
class Count:
    """What one line of a delivery came to, in units of use.

    `line` is None for goods nobody ordered: then `stock` says what they are. With both, `stock` came instead of what
    the line ordered. `keep` takes what is over, wrong or not ordered into the yard; otherwise it goes back.
    """

    line: OrderLine | None
    slip: Decimal
    counted: Decimal
    damaged: Decimal = ZERO
    stock: Stock | None = None
    keep: bool = False
    shelf: Shelf | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Delivery:
    """A truck at the gate: the slip, the day, and what was written down."""

    slip: str
    received_on: date
    notes: str = ""
    slip_carries_note: bool = False
    photos: Sequence[Any] = field(default=())


@dataclass(frozen=True, slots=True)
class Sorted:
    """A count worked out: what stays, what of it nobody had ordered, what goes back."""

    accepted: Decimal
    over: Decimal
    to_return: Decimal


def sort_count(count: Count, owed: Decimal) -> Sorted:
    """Damaged ones go back; sound ones stay up to what is owed; the rest stays or goes back as was decided.

    >>> sort_count(Count(OrderLine(), Decimal(12), Decimal(11), Decimal(2)), Decimal(20)).accepted
    Decimal('9')
    """
    sound = count.counted - count.damaged
    is_wrong = count.line is not None and count.stock is not None and count.stock.pk != count.line.stock_id
    fits = ZERO if count.line is None or (is_wrong and not count.keep) else min(sound, owed)
    over = sound - fits if count.keep else ZERO
    return Sorted(fits + over, over, count.counted - fits - over)


@dataclass(frozen=True, slots=True)
class Looked:
    """A count before it is kept, in packs: what stays, what goes back, what is still owed and why."""

    line: OrderLine
    accepted: Decimal
    to_return: Decimal
    owed: Decimal
    why: str


def look_at(counts: Iterable[Count]) -> list[Looked]:
    """What these counts of ordered lines come to; nothing is kept."""
    return [_looked(count, count.line) for count in counts if count.line]


def _looked(count: Count, line: OrderLine) -> Looked:
    worked, size = sort_count(count, line.owed), line.pack_size
    fits = worked.accepted - worked.over
    parts = [
        (line.owed - count.slip, "not shipped"),
        (count.slip - count.counted, "short on the slip"),
        (count.counted - fits, "not kept for this line"),
    ]
    sums = [f"{said(number / size)} {words}" for number, words in parts if number > 0]
    left = (line.owed - fits) / size
    why = f"{' + '.join(sums)} = {said(left)}" if sum((n for n, _ in parts if n > 0), ZERO) == line.owed - fits else ""
    return Looked(line, worked.accepted / size, worked.to_return / size, left, why if left else "")


@transaction.atomic
def receive(order: Order, *, counts: Iterable[Count], delivery: Delivery, key: str, by: Staff | None) -> Receipt:
    """Enter one count. The same key posts once; sent again it gives back the receipt that stands.

    Raises OrderGone, ValidationError.
    """
    held = Order.objects.select_for_update().get(pk=order.pk)
    posted = Receipt.objects.filter(key=uuid.UUID(key)).first()
    if posted:
        return posted
    if held.state not in (OrderState.SENT, OrderState.DONE):
        raise OrderGone(held)
    counts = [count for count in counts if count.counted or count.slip]
    _refuse_nonsense(counts)
    receipt = Receipt.objects.create(
        key=uuid.UUID(key),
        order=held,
        slip=delivery.slip.strip(),
        received_on=delivery.received_on,
        notes=delivery.notes.strip(),
        slip_carries_note=delivery.slip_carries_note,
        by=by,
        by_name=by.name if by else "Wharfwright",
    )
    hold_stocks((count.stock or count.line.stock).pk for count in counts)
    lines = [_receive_line(receipt, count, by=by) for count in counts]
    receipt.driver_words = slip_words(lines)
    receipt.save(update_fields=["driver_words"])
    for photo in delivery.photos:
        ReceiptPhoto.objects.create(receipt=receipt, file=photo)
    settle_state(held)
    day = day_said(receipt.received_on, short=True, weekday=True)
    goods_came((line.stock_id for line in lines if line.accepted), how=f"{held} came {day}")
    log_made(receipt, by=by, facts={"slip": receipt.slip, "lines": [str(line) for line in lines]})
    log_change(held, did="counted a delivery", by=by, after={"slip": receipt.slip, "words": receipt.driver_words})
    return receipt


def _refuse_nonsense(counts: Sequence[Count]) -> None:
    if not counts:
        raise ValidationError("Nothing was counted. Type how many came of one line at least.")
    for count in counts:
        if min(count.slip, count.counted, count.damaged) < 0 or count.damaged > count.counted:
            raise ValidationError("Damaged ones are part of what was counted.")


def _receive_line(receipt: Receipt, count: Count, *, by: Staff | None) -> ReceiptLine:
    line = OrderLine.objects.select_for_update().get(pk=count.line.pk) if count.line else None
    came = hold_stocks([(count.stock or line.stock).pk]).popitem()[1]
    owed = line.owed if line else ZERO
    worked = sort_count(count, owed)
    made = ReceiptLine.objects.create(
        receipt=receipt,
        order_line=line,
        stock=came,
        instead_of=line.stock if line and came.pk != line.stock_id else None,
        shelf=count.shelf or usual_shelf(came),
        ordered=owed,
        slip=count.slip,
        counted=count.counted,
        damaged=count.damaged,
        accepted=worked.accepted,
        over=worked.over,
        to_return=worked.to_return,
        note=count.note.strip(),
    )
    if line:
        line.accepted += worked.accepted - worked.over
        # The truck of that day has come: what is still owed waits for a day of its own.
        if line.owed and line.expected_on and line.expected_on <= receipt.received_on:
            line.expected_on = None
        line.save(update_fields=["accepted", "expected_on"])
    if worked.accepted:
        cost = line.cost_each if line else None
        why = Why(MovementKind.RECEIVED, unit_cost=cost, receipt_line=made)
        move(came, worked.accepted, why, shelf=made.shelf, by=by)
    if worked.to_return:
        _send_back_later(made, by=by)
    return made


def _send_back_later(line: ReceiptLine, *, by: Staff | None) -> Return:
    is_damaged = line.damaged > 0
    words = "damaged" if line.damaged == line.to_return else "damaged or over" if is_damaged else "not ordered"
    return Return.objects.create(
        supplier=line.receipt.order.supplier,
        stock=line.stock,
        receipt_line=line,
        quantity=line.to_return,
        reason=f"{words.capitalize()}: {line.note}" if line.note else words.capitalize(),
        replaced=is_damaged,
        by_name=by.name if by else "Wharfwright",
    )


@transaction.atomic
def void_receipt(receipt: Receipt, *, reason: str, by: Staff) -> Receipt:
    """Take a count back, for a reason: the stock leaves, the order owes it again. Voided twice it stays voided once.

    Goods set aside meanwhile are given up, latest needed first. Raises NotOnHand when some have gone to a job,
    ValidationError without a reason or when goods of it went back.
    """
    order = Order.objects.select_for_update().get(pk=receipt.order_id)
    held = Receipt.objects.select_for_update().get(pk=receipt.pk)
    if held.voided_at:
        return held
    if not reason.strip():
        raise ValidationError("Say why this count is void.")
    lines = list(held.lines.select_related("stock__item", "order_line"))
    if Return.objects.filter(receipt_line__in=lines, went_on__isnull=False, voided=False).exists():
        raise ValidationError("Goods of this delivery have gone back already; the count stays.")
    stocks = hold_stocks(line.stock_id for line in lines)
    for line in lines:
        _void_line(line, stocks[line.stock_id], reason=reason.strip(), by=by)
    Return.objects.filter(receipt_line__in=lines).update(voided=True)
    held.voided_at, held.voided_by_name, held.voided_reason = timezone.now(), by.name, reason.strip()
    held.save(update_fields=["voided_at", "voided_by_name", "voided_reason"])
    settle_state(order)
    log_change(held, did="voided", by=by, after={"why": held.voided_reason})
    return held


def _void_line(line: ReceiptLine, stock: Stock, *, reason: str, by: Staff) -> None:
    if line.order_line:
        ordered = OrderLine.objects.select_for_update().get(pk=line.order_line_id)
        ordered.accepted -= line.accepted - line.over
        last = ordered.promises.last()
        ordered.expected_on = last.expected_on if last else None
        ordered.save(update_fields=["accepted", "expected_on"])
    if not line.accepted:
        return
    if stock.on_hand < line.accepted:
        raise NotOnHand(f"{said(line.accepted - stock.on_hand)} of {stock} have gone to jobs. Bring them back first.")
    loosen(stock, free=line.accepted, by=by, reason=f"The count was voided: {reason}")
    paid = line.movements.filter(kind=MovementKind.RECEIVED).values_list("unit_cost", flat=True).first()
    why = Why(MovementKind.RECEIPT_VOIDED, reason, unit_cost=paid, receipt_line=line)
    take_off_shelves(stock, line.accepted, why, by=by)
