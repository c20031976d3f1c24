"""The home page of a firm with ten thousand jobs behind it: at most twice a bare Django list page of fifty rows.

The first reading after every kind of change counts, not only the later ones. Run with `pytest --benchmark-only`.
Processor time, the two pages in turn, the middle of the rounds.
"""

import time
from datetime import timedelta
from decimal import Decimal
from statistics import median
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from contractor.company.journal import log_made
from contractor.company.models import Role, Staff
from estimating.catalogue.models import Item, Supplier
from estimating.quotes.models import Quote
from jobs.records import services as records
from jobs.records.models import Client, Job, Permit, Site, SpecRevision
from jobs.supply import services as supply
from jobs.supply.models import Need, Order, OrderLine, OrderShare, Stock
from tests.people import browser_of, person
from tests.quotes.making import the_shop

pytestmark = pytest.mark.django_db
JOBS, OPEN, SIGNED, LINES, ROUNDS = 10_000, 300, 120, 12, 7


def furnish(by: Staff) -> None:
    """Ten thousand jobs, 300 of them open, 120 of those signed with a dozen things each still to come."""
    today, now = timezone.localdate(), timezone.now()
    Client.objects.bulk_create(Client(names=f"Client {n}", filed_under=f"Client {n}") for n in range(OPEN))
    Site.objects.bulk_create(Site(water_body=f"Lake {n}", name=f"{n} Shore Road") for n in range(OPEN))
    clients, sites = list(Client.objects.all()), list(Site.objects.all())
    Job.objects.bulk_create(
        Job(
            number=f"{20 + n // 500}-{n % 500:03}",
            year=2020 + n // 500,
            sequence=n % 500,
            client=clients[n % OPEN],
            site=sites[n % OPEN],
            owner=by,
            stage_since=today,
            called_on=today - timedelta(days=n % 60),
            ending="" if n < OPEN else "finished",
            ended_on=None if n < OPEN else today,
        )
        for n in range(JOBS)
    )
    jobs = list(Job.objects.open().order_by("pk"))
    SpecRevision.objects.bulk_create(
        SpecRevision(job=job, letter="A", position=1, document={}, created_by=by) for job in jobs
    )
    facts = {"spec_letter": "A", "spec_document": {}, "margin_percent": 15, "rounding_step": 10, "title": "Dock"}
    sent = {"sent_at": now, "total": Decimal(6750), "figures": {}, "customer_pdf": b"pdf", "tax_mode": "whole_price"}
    yes = {"accepted_on": today, "accepted_by_name": "A client"}
    Quote.objects.bulk_create(
        Quote(job=job, letter="A", state=state, valid_until=today, created_by=by, **facts, **sent, **more)
        for n, job in enumerate(jobs)
        for state, more in [("accepted", yes) if n < SIGNED else ("sent", {})]
    )
    signed = jobs[:SIGNED]
    Permit.objects.bulk_create(Permit(job=job, authority="Town", needed=False) for job in signed)
    items = list(Item.objects.exclude(kind__in=["lumber", "decking"])[:LINES])
    Stock.objects.bulk_create(Stock(item=item) for item in items)
    stocks = list(Stock.objects.all())
    day = {"needed_by": today + timedelta(days=9), "signed_on": today, "stage": "flotation"}
    Need.objects.bulk_create(
        Need(job=job, stock=stock, quantity=8, revision="A", **day) for job in signed for stock in stocks
    )
    supplier = Supplier.objects.create(name="Fernleigh Float Supply")
    for number in range(1, 31):
        order = Order.objects.create(number=number, supplier=supplier, state="sent", needed_by=today, sent_at=now)
        line = OrderLine.objects.create(
            order=order,
            stock=stocks[number % len(stocks)],
            packs=40,
            pack_words="each",
            quantity=40,
            expected_on=today + timedelta(days=number % 20),
        )
        OrderShare.objects.create(line=line, need=Need.objects.filter(stock=line.stock).first(), quantity=8)


def processor_s(browser: Browser, address: str) -> float:
    begin = time.process_time()
    answer = browser.get(address)
    spent = time.process_time() - begin
    assert answer.status_code == 200
    return spent


class Changes:
    """What happens in a shop on a day, one after the other, each to another job."""

    def __init__(self, by: Staff) -> None:
        self.by, self.jobs = by, list(Job.objects.open().order_by("pk"))
        self.stock = Stock.objects.order_by("pk").first()
        self.needs = list(Need.objects.filter(stock=self.stock).order_by("pk"))
        self.line = OrderLine.objects.filter(stock=self.stock).first()

    def note(self, n: int) -> None:
        log_made(self.jobs[n], by=self.by)

    def hold(self, n: int) -> None:
        supply.set_hold(self.jobs[n], kind="customer", words="the colour of the boards", by=self.by)

    def permit(self, n: int) -> None:
        records.record_permit(self.jobs[SIGNED + n], facts={"authority": "County"}, by=self.by)

    def find(self, n: int) -> None:
        shelf = supply.shelf_called("Yard")
        supply.adjust_stock(self.stock, shelf=shelf, quantity=Decimal(9), reason="Found", by=self.by)

    def aside(self, n: int) -> None:
        supply.set_aside(self.needs[n], quantity=Decimal(1), by=self.by)

    def promise(self, n: int) -> None:
        supply.promise(self.line, expected_on=timezone.localdate() + timedelta(30 + n), by=self.by)

    def receive(self, n: int) -> None:
        count = supply.Count(OrderLine.objects.get(pk=self.line.pk), Decimal(4), Decimal(4))
        delivery = supply.Delivery(f"{n}", timezone.localdate())
        supply.receive(self.line.order, counts=[count], delivery=delivery, key=str(uuid4()), by=self.by)


@pytest.mark.urls("tests.benchmarks.bare_list")
def test_it_opens_the_home_page_in_twice_the_time_of_a_bare_list(benchmark, django_capture_on_commit_callbacks) -> None:
    by = the_shop()
    furnish(by)
    browser = browser_of(person(Role.OWNER))
    processor_s(browser, "/bare/")
    cold = processor_s(browser, "/")
    changes, told = Changes(by), {}
    for kind in [name for name in vars(Changes) if not name.startswith("_")]:
        pairs = []
        for n in range(ROUNDS):
            with django_capture_on_commit_callbacks(execute=True):  # as on a server: the writer waits for it
                getattr(changes, kind)(n)
            pairs.append((processor_s(browser, "/"), processor_s(browser, "/bare/")))
        told[kind] = tuple(median(times) for times in zip(*pairs, strict=True))
    benchmark.pedantic(browser.get, ("/",), rounds=3)
    pairs = [(processor_s(browser, "/"), processor_s(browser, "/bare/")) for _ in range(ROUNDS)]
    told["nothing"] = tuple(median(times) for times in zip(*pairs, strict=True))
    for kind, (home, bare) in told.items():
        print(f"\n{kind}: home {home * 1000:.1f} ms, bare list {bare * 1000:.1f} ms, {home / bare:.2f} times", end="")
        benchmark.extra_info[kind] = round(home / bare, 2)
    print(f"\nthe first of all after a start {cold * 1000:.0f} ms")
    assert all(home < 2 * bare for home, bare in told.values())
    assert asked_after_a_change(browser, by) == with_open(browser, by, 15)


def asked_after_a_change(browser: Browser, by: Staff) -> int:
    """How many questions the page asks of the database when it has to be written anew."""
    supply.set_hold(Job.objects.open().first(), kind="customer", words="the colour", by=by)
    with CaptureQueriesContext(connection) as asked:
        browser.get("/")
    return len(asked)


def with_open(browser: Browser, by: Staff, count: int) -> int:
    last = Job.objects.open().order_by("pk")[count].pk
    Job.objects.open().filter(pk__gte=last).update(ending="finished", ended_on=timezone.localdate())
    asked_after_a_change(browser, by)
    return asked_after_a_change(browser, by)
