"""The home page of a firm with ten thousand jobs behind it: at most twice a bare Django list page of fifty rows.

Run with `pytest --benchmark-only`. Processor time, the two pages in turn, the middle of the rounds.
"""

import time
from datetime import timedelta
from decimal import Decimal
from statistics import median

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from contractor.company.journal import log_made
from contractor.company.models import Role, Staff
from estimating.catalogue.models import Item, Supplier
from estimating.quotes.models import Quote
from jobs.records.models import Client, Job, Permit, Site, SpecRevision
from jobs.supply.models import Need, Order, OrderLine, OrderShare, Stock
from tests.people import browser_of, person
from tests.quotes.making import the_shop

pytestmark = pytest.mark.django_db
JOBS, OPEN, SIGNED, LINES, ROUNDS = 10_000, 300, 120, 12, 15


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


@pytest.mark.urls("tests.benchmarks.bare_list")
def test_it_opens_the_home_page_in_twice_the_time_of_a_bare_list(benchmark) -> None:
    by = the_shop()
    furnish(by)
    browser = browser_of(person(Role.OWNER))
    for address in ("/bare/", "/"):
        processor_s(browser, address)
    log_made(Job.objects.first(), by=by)
    first = processor_s(browser, "/")  # somebody changed something: written anew
    benchmark.pedantic(browser.get, ("/",), rounds=3)
    pairs = [(processor_s(browser, "/"), processor_s(browser, "/bare/")) for _ in range(ROUNDS)]
    home, bare = (median(times) for times in zip(*pairs, strict=True))
    benchmark.extra_info.update(
        first_ms=round(first * 1000, 1), home_ms=round(home * 1000, 1), bare_ms=round(bare * 1000, 1)
    )
    print(f"\nhome {home * 1000:.1f} ms, first after a change {first * 1000:.1f} ms, bare list {bare * 1000:.1f} ms")
    assert home < 2 * bare
    assert first < 1.0
    assert asked_after_a_change(browser, by) == with_open(browser, by, 15)


def asked_after_a_change(browser: Browser, by: Staff) -> int:
    """How many questions the page asks of the database when it has to be written anew."""
    log_made(Job.objects.first(), by=by)
    with CaptureQueriesContext(connection) as asked:
        browser.get("/")
    return len(asked)


def with_open(browser: Browser, by: Staff, count: int) -> int:
    last = Job.objects.open().order_by("pk")[count].pk
    Job.objects.open().filter(pk__gte=last).update(ending="finished", ended_on=timezone.localdate())
    return asked_after_a_change(browser, by)
