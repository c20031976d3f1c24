"""Goods of the made-up firm: floats in the yard, two orders out, one of them counted in part. All invented."""

from datetime import date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

from django.utils import timezone

from contractor.company.models import Staff
from estimating.catalogue.models import Supplier
from jobs.records.models import Job
from jobs.supply.models import Need, Order, OrderLine

from .services import (
    Count,
    Delivery,
    adjust_stock,
    draft_order,
    keep_offcut,
    promise_all,
    receive,
    send_order,
    set_hold,
    share_out,
    shelf_called,
    stock_of,
    what_to_order,
)
from .services.advice import proposals


def load_demo(*, by: Staff, on: date) -> None:
    """Orders for the signed jobs: the hardware is here, half the floats came, the lumber is promised."""
    jobs = list(Job.objects.filter(needs__isnull=False).distinct().order_by("number"))
    if not jobs:
        return
    _yard(by=by)
    for one in what_to_order(on=on):
        if one.supplier is not None:
            _order(one.supplier, [line.stock.pk for line in one.lines], by=by, on=on)
    set_hold(
        jobs[-1],
        kind="customer",
        words="a word on which side the ladder goes",
        by=by,
        since=on - timedelta(days=3),
        check_on=on + timedelta(days=2),
        stages=("decking",),
    )


def _yard(*, by: Staff) -> None:
    """Some of what jobs need lies about already, and offcuts of the framing."""
    shelf = shelf_called("Rack A")
    for need in Need.objects.in_full().filter(stock__item__kind__in=["fastener", "hardware"]):
        adjust_stock(need.stock, shelf=shelf, quantity=need.quantity, reason="First count of the yard", by=by)
    wood = Need.objects.in_full().filter(stock__item__kind="lumber").first()
    if wood:
        offcuts = stock_of(wood.stock.item, 52.0)
        keep_offcut(offcuts, count=3, shelf=shelf_called("Offcuts"), by=by)
    share_out({one.need.pk: one.gives for one in proposals(_free(), on=timezone.localdate())}, by=by)


def _free() -> set[int]:
    return set(Need.objects.missing().values_list("stock_id", flat=True))


def _order(supplier: Supplier, stock_ids: list[int], *, by: Staff, on: date) -> None:
    order = send_order(draft_order(supplier, stock_ids=stock_ids, by=by, on=on), by=by, on=on)
    sent_on = timezone.make_aware(datetime.combine(on - timedelta(days=11), datetime.min.time()))
    Order.objects.filter(pk=order.pk).update(sent_at=sent_on)  # an order cannot go out in the past; this one did
    promise_all(order, expected_on=on - timedelta(days=2), by=by, note="their first word")
    promise_all(order, expected_on=on + timedelta(days=6), by=by, note="the truck broke down")
    floats = OrderLine.objects.filter(order=order, stock__item__kind="float").first()
    if floats:
        _count(order, floats, by=by, on=on)


def _count(order: Order, line: OrderLine, *, by: Staff, on: date) -> None:
    slip = (line.quantity * Decimal("0.6")).to_integral_value()
    count = Count(line, slip, slip, Decimal(1), note="split flange", shelf=shelf_called("Float rack"))
    delivery = Delivery("40917", on - timedelta(days=1), "Half the load; the rest follows.", True)
    receive(order, counts=[count], delivery=delivery, key=str(uuid4()), by=by)
