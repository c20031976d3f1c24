"""Random days in the yard: whatever is ordered, counted, voided, set aside or changed, the sums hold."""

from contextlib import suppress
from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.db.models import Sum
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from contractor.company.models import Company
from estimating.catalogue.models import Item
from jobs.supply import services
from jobs.supply.models import LedgerStays, Movement, Need, Order, OrderLine, Receipt, SetAside, Stock
from jobs.supply.services.advice import proposals, roll_up
from jobs.supply.services.coming import free_stock, missing_needs, owed_on_orders
from tests.people import person
from tests.quotes.making import a_job, the_shop, today
from tests.supply.making import a_float, a_need, a_supplier, on_shelf

pytestmark = pytest.mark.django_db
REFUSALS = (services.NotOnHand, ValidationError, services.OrderGone, services.NothingToOrder)
ACTS = (
    "order",
    "receive",
    "void",
    "reserve",
    "aside",
    "give up",
    "issue",
    "bring back",
    "cancel",
    "need",
    "adjust",
    "change",
)


def sums_hold() -> None:
    for stock in Stock.objects.all():
        moved = stock.movements.aggregate(s=Sum("quantity"))["s"] or 0
        aside = stock.needs.aggregate(s=Sum("set_aside"))["s"] or 0
        assert stock.on_hand == moved and stock.set_aside == aside
        assert 0 <= stock.set_aside <= stock.on_hand
        assert all(lies >= 0 for lies in Movement.objects.of(stock).by_shelf().values_list("lies", flat=True))
    for need in Need.objects.all():
        assert need.set_aside == (need.asides.aggregate(s=Sum("quantity"))["s"] or 0) >= 0
        gone = need.movements.aggregate(s=Sum("quantity"))["s"] or 0
        assert need.issued == -gone
    for line in OrderLine.objects.all():
        standing = line.receipt_lines.filter(receipt__voided_at=None)
        came = sum(row.accepted - row.over for row in standing)
        assert line.owed == line.quantity - came - line.cancelled >= 0


class Yard:
    """One stock, three jobs, and somebody who does what the dice say."""

    def __init__(self) -> None:
        self.by = person()
        self.stock, self.supplier = a_float(), a_supplier(self.by)
        self.jobs = [a_job(self.by) for _ in range(3)]

    def act(self, what: str, n: int) -> None:
        with suppress(REFUSALS):
            getattr(self, what.replace(" ", "_"))(n)
        sums_hold()

    def pick(self, rows, n: int):
        found = list(rows)
        if not found:
            raise ValidationError("nothing to pick")
        return found[n % len(found)]

    def need(self, n: int) -> None:
        day = today() + timedelta(days=n % 5)
        a_need(self.by, self.stock, n + 1, job=self.jobs[n % 3], needed_by=day)

    def order(self, n: int) -> None:
        drafted = services.draft_order(self.supplier, stock_ids=[self.stock.pk], by=self.by, on=today())
        services.ordering._send(drafted, by=self.by)

    def receive(self, n: int) -> None:
        order = self.pick(Order.objects.filter(number__isnull=False), n)
        line = order.lines.get()
        count = services.Count(line, Decimal(n), Decimal(n + 2), Decimal(n % 2), keep=n % 3 == 0)
        services.receive(order, counts=[count], delivery=services.Delivery("1", today()), key=str(uuid4()), by=self.by)

    def void(self, n: int) -> None:
        services.void_receipt(self.pick(Receipt.objects.all(), n), reason="Counted the wrong pallet", by=self.by)

    def reserve(self, n: int) -> None:
        services.reserve([self.stock.pk], by=self.by)

    def aside(self, n: int) -> None:
        services.set_aside(self.pick(Need.objects.standing(), n), quantity=Decimal(n + 1), by=self.by)

    def give_up(self, n: int) -> None:
        services.give_up(self.pick(Need.objects.all(), n), quantity=Decimal(n + 1), by=self.by, reason="Later")

    def issue(self, n: int) -> None:
        services.issue_to_job(self.pick(Need.objects.all(), n), quantity=Decimal(n + 1), by=self.by)

    def bring_back(self, n: int) -> None:
        shelf = services.shelf_called("Rack B")
        services.return_from_job(self.pick(Need.objects.all(), n), quantity=Decimal(n + 1), shelf=shelf, by=self.by)

    def cancel(self, n: int) -> None:
        if n % 2:
            services.cancel_need(self.pick(Need.objects.standing(), n), reason="Another dock", by=self.by)
        else:
            line = self.pick(OrderLine.objects.owed(), n)
            services.cancel_owed(line, quantity=Decimal(n + 1), reason="Cannot get it", by=self.by)

    def change(self, n: int) -> None:
        """Another spec: so many floats are drawn for the job now."""
        job, code = self.jobs[n % 3], self.stock.item.code
        line = {"code": code, "stage": "flotation", "with_waste": n, "group": "floats"}
        figures = {"takeoff": {"sticks": [], "lines": [line]}, "floats": [], "pieces": [], "boards": []}
        found = services.needs.difference(job, letter="B", figures=figures)
        services.apply_difference(job, found, by=self.by, reason="Drawn anew")
        drawn = (
            Need.objects.standing().filter(job=job).exclude(revision="").aggregate(n=Sum("quantity"), out=Sum("issued"))
        )
        assert (drawn["n"] or 0) == max(n, drawn["out"] or 0)

    def adjust(self, n: int) -> None:
        shelf = services.shelf_called("Yard")
        services.adjust_stock(self.stock, shelf=shelf, quantity=Decimal(n - 3) or 1, reason="Counted", by=self.by)


class TestAnyDay(TestCase):
    @classmethod
    def setUpTestData(cls) -> None:
        the_shop()
        cls.yard = Yard()
        for opening in ("need", "need", "order", "receive"):
            cls.yard.act(opening, 4)

    @settings(max_examples=12)
    @given(st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 9)), min_size=4, max_size=12))
    def test_it_adds_up_after_any_day(self, acts):
        for what, n in acts:
            self.yard.act(what, n)


def test_it_never_changes_a_movement(owner):
    on_shelf(a_float(), 3, by=owner)
    movement = Movement.objects.get()
    with pytest.raises(LedgerStays):
        movement.save()
    with pytest.raises(LedgerStays):
        movement.delete()


def test_it_refuses_in_the_database_what_the_code_forgot(owner):
    stock = on_shelf(a_float(), 3, by=owner)
    for wrong in ({"set_aside": 4}, {"on_hand": -1}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Stock.objects.filter(pk=stock.pk).update(**wrong)


def test_it_reopens_the_need_of_a_job_whose_goods_were_taken(owner):
    stock = on_shelf(a_float(), 8, by=owner)
    giver, taker = a_need(owner, stock, 8), a_need(owner, stock, 8)
    giver = services.set_aside(giver, quantity=Decimal(8), by=owner)
    services.take_from(giver, to=taker, quantity=Decimal(5), reason="Their crew stands there today", by=owner)
    giver.refresh_from_db()
    taker.refresh_from_db()
    assert (giver.missing, taker.set_aside) == (5, 5)
    assert "stands there today" in SetAside.objects.filter(need=giver).last().reason
    with pytest.raises(ValueError):
        services.take_from(giver, to=taker, quantity=Decimal(1), reason=" ", by=owner)


def test_it_reserves_for_who_needs_it_first(owner):
    stock = on_shelf(a_float(), 10, by=owner)
    late = a_need(owner, stock, 8, needed_by=today() + timedelta(days=9))
    soon = a_need(owner, stock, 8, needed_by=today())
    services.reserve([stock.pk], by=owner)
    late.refresh_from_db()
    soon.refresh_from_db()
    assert (soon.set_aside, late.set_aside) == (8, 2)


def test_it_advises_which_section_the_goods_can_finish() -> None:
    """Ten floats do for section A, six, and for the whole second job, four; section B gets none of them."""
    by = the_shop()
    stock = on_shelf(a_float(), 10, by=by)
    first, second = a_need(by, stock, 6), a_need(by, stock, 4)
    rest = a_need(by, stock, 6, job=first.job, needed_by=today() + timedelta(1))
    for need, section in ((first, "A"), (rest, "B")):
        need.section = section
        need.save()
    found = roll_up(needs=missing_needs(), free=free_stock(), owed=owed_on_orders(), on=today())
    name, other = first.job.client.filed_under, second.job.client.filed_under
    assert found[0].advice.startswith(f"They are enough for {name} section A now, {other} now. 1 job waits still.")
    assert {one.need.pk: one.gives for one in proposals([stock.pk], on=today())} == {
        first.pk: 6,
        second.pk: 4,
        rest.pk: 0,
    }


def test_it_keeps_offcuts_from_the_length_the_firm_says() -> None:
    by = the_shop()
    Company.objects.update(keep_offcut_in=24)
    board = Item.objects.filter(kind="lumber").first()
    services.put_on_shelf(board, length_in=30.0, quantity=Decimal(2), where=("Rack", "left over"), by=by)
    assert services.offcuts_on_hand() == [(board.code, 30.0, 2)]
    with pytest.raises(services.NotOnHand, match="under 2′"):
        services.put_on_shelf(board, length_in=23.0, quantity=Decimal(1), where=("Rack", "left over"), by=by)
