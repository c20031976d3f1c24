"""Many hands on the last floats and on one delivery, each on a connection of their own."""

import os
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection
from django.db.models import Sum

from jobs.supply import services
from jobs.supply.models import LedgerStays, Movement, Need, Order, Receipt, SetAside, Stock
from jobs.supply.services import ordering, receiving
from tests.quotes.making import a_job, the_shop, today
from tests.quotes.test_race_for_quotes import at_once
from tests.supply.making import a_float, a_need, a_supplier, on_shelf

pytestmark = pytest.mark.django_db(transaction=True)
HANDS = 20


def test_it_sets_the_last_ten_floats_aside_once():
    owner = the_shop()
    stock = on_shelf(a_float(), 10, by=owner)
    job = a_job(owner)
    needs = [a_need(owner, stock, 1, job=job) for _ in range(HANDS)]
    answers = at_once(*[lambda n=n: services.set_aside(n, quantity=Decimal(1), by=owner) for n in needs])
    assert sum(isinstance(answer, Need) for answer in answers) == 10
    assert sum(isinstance(answer, services.NotOnHand) for answer in answers) == 10
    stock.refresh_from_db()
    assert (stock.on_hand, stock.set_aside, stock.free) == (10, 10, 0)
    assert SetAside.objects.aggregate(s=Sum("quantity"))["s"] == 10


def test_it_posts_one_receipt_for_twenty_presses():
    owner = the_shop()
    stock = a_float()
    a_need(owner, stock, 12)
    order = services.draft_order(a_supplier(owner), stock_ids=[stock.pk], by=owner, on=today())
    order = ordering._send(order, by=owner)
    count = services.Count(order.lines.get(), Decimal(12), Decimal(12), Decimal(2))
    key, delivery = str(uuid4()), services.Delivery("40917", today())
    answers = at_once(*[lambda: services.receive(order, counts=[count], delivery=delivery, key=key, by=owner)] * HANDS)
    assert {getattr(answer, "pk", answer) for answer in answers} == {Receipt.objects.get().pk}
    stock.refresh_from_db()
    assert stock.on_hand == Movement.objects.aggregate(s=Sum("quantity"))["s"] == 10
    assert order.lines.get().owed == 2


def test_it_numbers_orders_in_a_row_and_orders_nothing_twice():
    owner = the_shop()
    stock, supplier = a_float(), a_supplier(owner)
    a_need(owner, stock, 8)
    drafts = at_once(*[lambda: services.draft_order(supplier, stock_ids=[stock.pk], by=owner, on=today())] * 6)
    assert sum(isinstance(answer, Order) for answer in drafts) == 1
    assert sum(isinstance(answer, services.NothingToOrder) for answer in drafts) == 5
    draft = Order.objects.get()
    at_once(*[lambda: ordering._send(draft, by=owner)] * 6)
    assert list(Order.objects.values_list("number", flat=True)) == [1]
    assert Stock.objects.get(pk=stock.pk).order_lines.count() == 1


def test_it_takes_the_count_again_after_the_machine_went_down_in_the_middle():
    """The floats are entered, the receipt is not finished, and the process is gone without a word."""
    owner = the_shop()
    stock = a_float()
    a_need(owner, stock, 12)
    order = services.draft_order(a_supplier(owner), stock_ids=[stock.pk], by=owner, on=today())
    order = ordering._send(order, by=owner)
    line, key, delivery = order.lines.get(), str(uuid4()), services.Delivery("40917", today())
    count = services.Count(line, Decimal(12), Decimal(12), Decimal(2))
    connection.close()  # the child opens its own
    child = os.fork()
    if child == 0:
        receiving.settle_state = lambda order: os._exit(9)
        services.receive(order, counts=[count], delivery=delivery, key=key, by=owner)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
    assert (Receipt.objects.count(), Movement.objects.count(), order.lines.get().owed) == (0, 0, 12)
    services.receive(order, counts=[count], delivery=delivery, key=key, by=owner)
    stock.refresh_from_db()
    assert (Receipt.objects.count(), stock.on_hand, order.lines.get().owed) == (1, 10, 2)
    with pytest.raises(LedgerStays):
        Receipt.objects.get().delete()
