"""A delivery is a count: partial, over, wrong, damaged, voided, and whole again after a crash."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from contractor.company.models import Role
from estimating.catalogue.models import Item
from jobs.supply import services
from jobs.supply.models import Movement, Order, OrderLine, Receipt, ReceiptLine, Return, Stock
from jobs.supply.services import ordering, receiving
from jobs.supply.services.yard_page import history_of
from tests.people import browser_of, person
from tests.quotes.making import today
from tests.supply.making import a_float, a_need, a_supplier

pytestmark = pytest.mark.django_db


def ordered(by, quantity: int, stock: Stock | None = None) -> OrderLine:
    """A sent order of so many floats."""
    stock = stock or a_float()
    a_need(by, stock, quantity)
    draft = services.draft_order(a_supplier(by), stock_ids=[stock.pk], by=by, on=today())
    return ordering._send(draft, by=by).lines.get()


def counted(line: OrderLine, *numbers: int, by, **facts) -> ReceiptLine:
    """Slip, counted, damaged."""
    count = services.Count(line, *[Decimal(number) for number in numbers], **facts)
    made = services.receive(
        line.order, counts=[count], delivery=services.Delivery("40917", today()), key=str(uuid4()), by=by
    )
    line.refresh_from_db()
    return made.lines.get()


def test_it_owes_what_did_not_ship_what_was_short_and_what_is_damaged(owner):
    """Common practice, no source: 20 ordered, slip 12, counted 11, damaged 2: 9 stay, 2 go back, 11 are owed."""
    line = ordered(owner, 20)
    row = counted(line, 12, 11, 2, by=owner, note="split flange")
    assert (row.accepted, row.to_return, row.owed, line.owed) == (9, 2, 11, 11)
    assert row.receipt.driver_words.endswith("11 received, 1 short, 2 damaged (split flange), 9 kept.")
    (looked,) = services.look_at([services.Count(OrderLine.objects.get(pk=line.pk), Decimal(0), Decimal(0))])
    assert looked.owed == 11 and looked.why == "11 not shipped = 11"
    assert Stock.objects.get(pk=line.stock_id).on_hand == 9
    assert Return.objects.get().quantity == 2 and Return.objects.get().replaced


def test_it_sends_back_what_is_over_unless_it_is_kept(owner):
    line = ordered(owner, 4)
    row = counted(line, 4, 5, 0, by=owner)
    assert (row.accepted, row.over, row.to_return, line.owed) == (4, 0, 1, 0)
    assert Order.objects.get(pk=line.order_id).state == "done"
    again = counted(line, 2, 2, 0, by=owner, keep=True)
    assert (again.accepted, again.over, line.owed) == (2, 2, 0)
    assert Stock.objects.get(pk=line.stock_id).on_hand == 6


def test_it_sends_back_what_is_wrong_and_takes_it_when_it_is_kept(owner):
    line = ordered(owner, 4)
    other = services.stock_of(Item.objects.filter(kind="float").order_by("pk").last())
    assert other.pk != line.stock_id
    row = counted(line, 4, 4, 0, by=owner, stock=other)
    assert (row.accepted, row.to_return, row.instead_of, line.owed) == (0, 4, line.stock, 4)
    counted(line, 4, 4, 0, by=owner, stock=other, keep=True)
    other.refresh_from_db()
    assert (other.on_hand, line.owed) == (4, 0)


def test_it_rolls_back_a_count_that_broke_in_the_middle_and_takes_it_again(owner, monkeypatch):
    line = ordered(owner, 12)
    key = str(uuid4())
    post = dict(
        counts=[services.Count(line, Decimal(12), Decimal(12))], delivery=services.Delivery("1", today()), key=key
    )

    def crash(*_):
        raise ConnectionError("the lights went out")

    monkeypatch.setattr(receiving, "settle_state", crash)
    with pytest.raises(ConnectionError):
        services.receive(line.order, **post, by=owner)
    assert not Receipt.objects.exists() and not Movement.objects.exists()
    assert Stock.objects.get(pk=line.stock_id).on_hand == 0
    monkeypatch.undo()
    services.receive(line.order, **post, by=owner)
    assert Stock.objects.get(pk=line.stock_id).on_hand == 12
    assert services.receive(line.order, **post, by=owner) == Receipt.objects.get()


def test_it_voids_a_count_with_a_reason_and_gives_up_what_was_set_aside(owner):
    line = ordered(owner, 12)
    row = counted(line, 12, 12, 0, by=owner)
    services.reserve([line.stock_id], by=owner)
    with pytest.raises(ValidationError):
        services.void_receipt(row.receipt, reason="  ", by=owner)
    services.void_receipt(row.receipt, reason="Counted the neighbour’s pallet", by=owner)
    line.refresh_from_db()
    stock = Stock.objects.get(pk=line.stock_id)
    assert (stock.on_hand, stock.set_aside, line.owed) == (0, 0, 12)
    assert Receipt.objects.get().voided_reason and stock.needs.get().missing == 12
    assert services.void_receipt(row.receipt, reason="Again", by=owner).voided_reason.startswith("Counted")


def test_it_does_not_void_what_has_gone_to_a_job(owner):
    line = ordered(owner, 4)
    row = counted(line, 4, 4, 0, by=owner)
    services.reserve([line.stock_id], by=owner)
    services.issue_to_job(line.stock.needs.get(), quantity=Decimal(3), by=owner)
    with pytest.raises(services.NotOnHand) as refused:
        services.void_receipt(row.receipt, reason="Wrong", by=owner)
    assert "3 of" in refused.value.sentence
    assert Receipt.objects.get().voided_at is None


def test_it_values_the_yard_at_last_and_average_cost(owner):
    """Two counts at 100.00 and 130.00: the last is 130.00, the average of 10 and 20 is 120.00 (by pencil)."""
    first = ordered(owner, 10)
    OrderLine.objects.filter(pk=first.pk).update(unit_price=Decimal("100"))
    first.refresh_from_db()
    counted(first, 10, 10, 0, by=owner)
    second = ordered(owner, 20)
    OrderLine.objects.filter(pk=second.pk).update(unit_price=Decimal("130"))
    second.refresh_from_db()
    voided = counted(second, 20, 20, 0, by=owner)
    row = history_of(first.stock).row
    assert (row.last, row.average) == (130, 120)
    services.void_receipt(voided.receipt, reason="Not ours", by=owner)
    row = history_of(Stock.objects.get(pk=first.stock_id)).row
    assert (row.last, row.average) == (100, 100)


def test_it_keeps_the_first_promise_and_every_slip(owner):
    line = ordered(owner, 4)
    for days in (3, 10, 14):
        services.promise(line, expected_on=today() + timedelta(days=days), by=owner)
    line.refresh_from_db()
    assert line.expected_on == today() + timedelta(days=14)
    assert [(one.expected_on - today()).days for one in line.promises.all()] == [3, 10, 14]


def test_it_takes_a_count_from_the_crew_lead_and_hides_prices(owner):
    line = ordered(owner, 4)
    OrderLine.objects.filter(pk=line.pk).update(unit_price=Decimal("987.65"))
    browser = browser_of(person(Role.CREW_LEAD))
    typed = {f"line-{line.pk}-{name}": value for name, value in (("slip", "4"), ("counted", "3"), ("damaged", "4"))}
    facts = {"received_on": "7 May 2026", "once": str(uuid4())}
    page = browser.post(f"/orders/{line.order_id}/count/", {**typed, **facts})
    assert page.status_code == 422 and "More than the 3 counted." in page.content.decode()
    answer = browser.post(f"/orders/{line.order_id}/count/", {**typed, **facts, f"line-{line.pk}-damaged": "1"})
    assert answer.status_code == 303
    again = browser.post(f"/orders/{line.order_id}/count/", {**typed, **facts, f"line-{line.pk}-damaged": "1"})
    assert again.headers["Location"] == answer.headers["Location"] and Receipt.objects.count() == 1
    for address in (answer.headers["Location"], f"/orders/{line.order_id}/", "/yard/", f"/yard/{line.stock_id}/"):
        page = browser.get(address)
        assert page.status_code == 200 and "987.65" not in page.content.decode()
