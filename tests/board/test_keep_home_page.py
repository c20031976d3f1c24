"""The home page keeps what it worked out; whatever happens, it says what a page worked out from nothing would say."""

from contextlib import suppress
from datetime import timedelta
from decimal import Decimal
from random import Random
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from contractor.company.current import one_reading
from estimating.catalogue.models import Item
from jobs.board.services import board_on
from jobs.board.standings import Standings
from jobs.board.written import written
from jobs.handover import services as handover
from jobs.records import services as records
from jobs.records.models import Client, Job, Permit
from jobs.records.services import JobHasEnded, full_standing, with_papers
from jobs.schedule import services as schedule
from jobs.supply import services
from jobs.supply.models import Hold, Need, OrderLine, Receipt
from tests.people import browser_of, person
from tests.quotes.making import a_job, the_shop, today
from tests.supply.making import a_float, a_need, a_supplier, on_shelf, signed

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("no_press", "no_order_paper")]
REFUSALS = (
    services.NotOnHand,
    ValidationError,
    JobHasEnded,
    services.OrderGone,
    services.NothingToOrder,
    schedule.NoSuchStage,
)


class Shop:
    """A few jobs and somebody who does what the dice say."""

    def __init__(self, dice: Random) -> None:
        self.dice, self.by = dice, the_shop()
        self.stock, self.supplier = a_float(), a_supplier(self.by)
        self.signed = [signed(self.by, name=name).job for name in ("Quarrington",)]
        self.jobs = [*self.signed, a_job(self.by), a_job(self.by)]
        self.day = today()
        schedule.take_deposit(self.signed[0], amount=Decimal(99_999), cleared_on=today(), by=self.by)
        records.record_permit(self.signed[0], facts={"authority": "Town", "needed": False}, by=self.by)
        Need.objects.update(cancelled_at=timezone.now(), cancelled_reason="in the truck")
        for _ in range(3):
            self.need()

    def pick(self, rows):
        found = list(rows)
        if not found:
            raise ValidationError("nothing to pick")
        return self.dice.choice(found)

    def number(self) -> Decimal:
        return Decimal(self.dice.randint(1, 9))

    def need(self) -> None:
        when = today() + timedelta(self.dice.randint(-3, 20))
        a_need(self.by, self.stock, int(self.number()), job=self.pick(self.jobs), needed_by=when)

    def find(self) -> None:
        on_shelf(self.stock, int(self.number()), by=self.by)

    def aside(self) -> None:
        services.set_aside(self.pick(Need.objects.filter(stock=self.stock)), quantity=self.number(), by=self.by)

    def give_up(self) -> None:
        need = self.pick(Need.objects.filter(set_aside__gt=0))
        services.give_up(need, quantity=need.set_aside, by=self.by, reason="a later job")

    def cancel(self) -> None:
        services.cancel_need(self.pick(Need.objects.filter(stock=self.stock)), reason="not wanted", by=self.by)

    def order(self) -> None:
        made = services.draft_order(self.supplier, stock_ids=[self.stock.pk], by=self.by, on=today())
        services.send_order(made, by=self.by, on=today())

    def promise(self) -> None:
        line = self.pick(OrderLine.objects.filter(order__state="sent"))
        services.promise(line, expected_on=today() + timedelta(self.dice.randint(-2, 30)), by=self.by)

    def receive(self) -> None:
        line = self.pick(OrderLine.objects.filter(order__state="sent"))
        count = services.Count(line, self.number(), self.number())
        delivery = services.Delivery("7", today())
        services.receive(line.order, counts=[count], delivery=delivery, key=str(uuid4()), by=self.by)

    def void(self) -> None:
        services.void_receipt(self.pick(Receipt.objects.filter(voided_at=None)), reason="miscounted", by=self.by)

    def hold(self) -> None:
        kind = self.dice.choice(["customer", "floats", "permit", "weather"])
        services.set_hold(self.pick(self.jobs), kind=kind, words=f"the {kind} {self.number()}", by=self.by)

    def clear(self) -> None:
        services.clear_hold(self.pick(Hold.objects.filter(cleared_on=None)), reason="it came", by=self.by)

    def permit(self) -> None:
        facts = {"authority": f"Town {self.number()}", "applied_on": today(), "expires_on": today() + timedelta(5)}
        records.record_permit(self.pick(self.jobs), facts=facts, by=self.by)

    def grant(self) -> None:
        permit = self.pick(Permit.objects.filter(issued_on=None))
        records.save_permit(permit, seen_version=permit.version, changes={"issued_on": today()}, by=self.by)

    def stage(self) -> None:
        schedule.stage_done(self.pick(self.signed), self.dice.choice(["layout", "framing"]), today(), self.by)

    def hold_stage(self) -> None:
        schedule.hold_stage(self.pick(self.signed), "framing", f"rain {self.number()}", self.by)

    def let_go(self) -> None:
        schedule.release_stage(self.pick(self.signed), "framing", self.by)

    def deposit(self) -> None:
        schedule.take_deposit(self.pick(self.signed), amount=self.number() * 300, cleared_on=today(), by=self.by)

    def visits(self) -> None:
        handover.plan_visits(self.pick(self.signed), from_day=today() - timedelta(60), by=self.by)

    def rename(self) -> None:
        client = self.pick(Client.objects.all())
        changes = {"filed_under": f"Client {self.dice.randint(1, 99)}"}
        records.save_client(client, seen_version=client.version, changes=changes, by=self.by)

    def recall(self) -> None:
        item = self.pick(Item.objects.filter(stocks__needs__isnull=False).distinct())
        Item.objects.filter(pk=item.pk).update(name=f"Thing {self.dice.randint(1, 99)}")

    def end(self) -> None:
        self.jobs.append(a_job(self.by))
        records.end_job(self.pick(self.jobs[2:]), ending="refused", reason="Too dear", by=self.by, on=today())

    def tomorrow(self) -> None:
        self.day += timedelta(days=1)


ACTS = [name for name in vars(Shop) if not name.startswith("_") and name not in ("pick", "number")]


@pytest.mark.parametrize("seed", [1, 2])
def test_it_says_what_a_page_worked_out_from_nothing_says(seed: int, django_capture_on_commit_callbacks) -> None:
    shop, known = Shop(Random(seed)), Standings()
    told = set()
    for _ in range(32):
        act = shop.dice.choice(ACTS)
        with suppress(REFUSALS), django_capture_on_commit_callbacks(execute=True):
            getattr(shop, act)()
        with one_reading():
            show = shop.dice.choice(["", "floats", "hardware"])
            kept, fresh = board_on(shop.day, show=show, known=known), board_on(shop.day, show=show)
            pages = [written(one, {"today": shop.day, "every_date": True}, may_act=True) for one in (kept, fresh)]
        assert pages[0] == pages[1], act
        told.add(pages[0])
    assert len(told) > 10  # the page did change


def test_it_shows_a_job_under_every_kind_of_thing_that_it_waits_for() -> None:
    by = the_shop()
    job = signed(by).job
    shown = {
        one.name: {row.standing.awaited for group in board_on(today(), show=one.name).groups for row in group.rows}
        for one in board_on(today()).filters
    }
    floats = Need.objects.missing().get(job=job, stock__item__kind="float")
    assert shown["floats"] == {floats.stock.so_many(floats.missing)}  # though the frame's lumber comes first
    assert [len(shown[kind]) for kind in ("", "floats", "hardware", "lumber")] == [1, 1, 1, 1]
    assert shown["water"] == set()
    counts = {one.name: one.count for one in board_on(today()).filters}
    assert counts["floats"] == counts["hardware"] == counts["lumber"] == 1


def test_the_page_of_a_job_says_what_the_home_page_says() -> None:
    shop = Shop(Random(3))
    for _ in range(25):
        with suppress(REFUSALS):
            getattr(shop, shop.dice.choice(ACTS))()
    rows = [row.standing for group in board_on(shop.day).groups for row in group.rows]
    jobs = {job.pk: job for job in with_papers(Job.objects.open())}
    assert {one.job.pk: one.said for one in rows} == {pk: full_standing(j, on=shop.day).said for pk, j in jobs.items()}


def test_it_shows_the_change_to_the_next_reader() -> None:
    by = the_shop()
    browser, job = browser_of(person()), signed(by).job
    before = browser.get("/").content.decode()
    services.set_hold(job, kind="customer", words="the colour of the boards", by=by)
    after = browser.get("/").content.decode()
    assert "the colour of the boards" not in before and "the colour of the boards" in after
    schedule.take_deposit(job, amount=Decimal(99_999), cleared_on=timezone.localdate(), by=by)
    services.clear_hold(Hold.objects.get(), reason="green", by=by)
    for stage in ("layout", "framing"):
        schedule.stage_done(job, stage, timezone.localdate(), by)
    assert "Framing done" in browser.get("/").content.decode()
