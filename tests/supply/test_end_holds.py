"""Holds whose end the records show end by themselves, with the why in the history; the others are cleared by hand."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from contractor.company.models import ChangeLog, Staff
from estimating.quotes import services as quotes
from estimating.quotes.models import Quote
from jobs.records import services as records
from jobs.records.models import Job, Permit
from jobs.schedule.services import take_deposit
from jobs.supply import services
from jobs.supply.models import Hold, HoldKind, Order
from jobs.supply.services import ordering
from tests.people import browser_of, person
from tests.quotes.making import a_job, sent, the_shop, today
from tests.supply.making import a_float, a_need, a_supplier

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("no_press")]


@pytest.fixture
def by() -> Staff:
    return the_shop()


def held(job: Job, by: Staff, kind: str, **facts) -> Hold:
    return services.set_hold(job, kind=kind, words=f"the {kind}", by=by, **facts)


def why(hold: Hold) -> str:
    hold.refresh_from_db()
    if hold.cleared_on:
        assert hold.cleared_by_name == "Wharfwright"
        assert ChangeLog.objects.filter(did="cleared a hold", after__why=hold.cleared_reason).exists()
    return hold.cleared_reason


def test_it_ends_with_the_last_permit_that_is_needed(by: Staff) -> None:
    job = a_job(by)
    hold, by_hand = held(job, by, HoldKind.PERMIT), held(job, by, HoldKind.PERMIT, ends_itself=False)
    records.record_permit(job, facts={"authority": "Town", "issued_on": today()}, by=by)
    county = records.record_permit(job, facts={"authority": "County"}, by=by)
    late = held(job, by, HoldKind.PERMIT)
    assert why(hold).startswith("The permit of Town is granted") and not why(late)
    records.save_permit(county, seen_version=county.version, changes={"issued_on": today()}, by=by)
    assert why(late).startswith("The permit of County is granted") and not why(by_hand)
    assert Permit.objects.count() == 2


def test_it_ends_with_the_signature_and_with_the_whole_deposit(by: Staff) -> None:
    job = a_job(by)
    quote = sent(by, job=job)
    signature, deposit, colour = (held(job, by, kind) for kind in ("signature", "deposit", "customer"))
    quotes.accept_quote(quote, quotes.Acceptance("Ilse", today(), "paper", frozenset()), by=by)
    assert why(signature).startswith(f"Quote {quote.letter} was signed") and not why(deposit)
    Quote.objects.update(payments=[{"trigger": "signing", "amount": "2000.00"}])
    take_deposit(job, amount=Decimal(1999), cleared_on=today(), by=by)
    assert not why(deposit)
    take_deposit(job, amount=Decimal(1), cleared_on=today(), by=by)
    assert why(deposit).startswith("The deposit cleared") and not why(colour)


def ordered(by: Staff, need) -> Order:
    order = services.draft_order(a_supplier(by), stock_ids=[need.stock_id], by=by, on=today())
    return ordering._send(order, by=by)


def receive(order: Order, count: int, by: Staff) -> None:
    line, quantity = order.lines.get(), Decimal(count)
    delivery = services.Delivery("9", today())
    counts = [services.Count(line, quantity, quantity)]
    services.receive(order, counts=counts, delivery=delivery, key=str(uuid4()), by=by)


def test_it_ends_when_the_last_of_the_goods_is_in_the_yard(by: Staff) -> None:
    need = a_need(by, a_float(), 6)
    other = a_need(by, need.stock, 1, needed_by=today() + timedelta(30))
    hold, hinges = held(need.job, by, HoldKind.FLOATS), held(need.job, by, HoldKind.HARDWARE)
    later = held(other.job, by, HoldKind.FLOATS)
    order = ordered(by, need)
    receive(order, 4, by)
    assert not why(hold)
    receive(order, 2, by)
    assert why(hold).startswith(f"{order} came") and why(hold).endswith("its floats are in the yard.")
    assert not why(hinges) and not why(later)


def test_it_prints_a_sheet_to_count_on_and_says_what_to_finish_first(by: Staff, monkeypatch) -> None:
    papers = []
    monkeypatch.setattr(
        "jobs.supply.documents.receiving_sheet.render_pdf", lambda html, **_: papers.append(html) or b"%PDF"
    )
    need = a_need(by, a_float(), 6)
    order = ordered(by, need)
    receive(order, 2, by)
    desk = browser_of(person())
    assert "Print the receiving sheet" in desk.get(order.get_absolute_url()).content.decode()
    assert desk.get(f"{order.get_absolute_url()}receiving-sheet.pdf")["Content-Type"] == "application/pdf"
    assert all(words in papers[0] for words in (need.stock.item.name, '<td class="r n">4</td>', ", 6 ordered"))
    services.promise(order.lines.get(), expected_on=today() + timedelta(3), by=by)
    page = desk.get("/orders/finish-first/").content.decode()
    assert need.job.number in page and "complete" in page and "No other sharing does better" in page
