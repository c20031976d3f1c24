"""What a signed quote needs, and what a changed spec does to it."""

from datetime import date
from decimal import Decimal

import pytest
from django.db.models import Sum

from estimating.catalogue.models import Stick
from jobs.records import services as records
from jobs.supply import services
from jobs.supply.models import Need
from tests.quotes.making import COMPOSITE, longer, straight, today, with_ramp
from tests.supply.making import on_shelf, signed

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("no_press")]


def test_it_needs_what_the_takeoff_of_the_accepted_quote_says(owner):
    quote = signed(owner, spec=with_ramp())
    needs = list(Need.objects.in_full())
    lines = quote.figures["takeoff"]["lines"]
    wood = [line for line in lines if line["group"] in ("framing lumber", "decking")]
    prices = {(stick.item_id, stick.length_in): stick.prices.first().amount for stick in Stick.objects.all()}
    sticks = [need for need in needs if need.stock.length_in]
    cost = sum(need.quantity * prices[need.stock.item_id, need.stock.length_in] for need in sticks)
    assert 0 < cost <= sum(Decimal(line["cost"]) for line in wood)  # the takeoff packs by a plain rule
    for code in {line["code"] for line in wood}:
        feet = sum(n.quantity * Decimal(n.stock.length_in) / 12 for n in sticks if n.stock.item.code == code)
        assert feet >= sum(Decimal(line["net"]) for line in wood if line["code"] == code)
    floats = [need for need in needs if need.stock.item.kind == "float"]
    assert {need.section for need in floats} == {"A", "B"}
    assert sum(need.quantity for need in floats) == len(quote.figures["floats"])
    by_unit = {
        line["code"]: Decimal(line["with_waste"]) for line in lines if line["group"] in ("hardware", "fasteners")
    }
    assert by_unit == {n.stock.item.code: n.quantity for n in needs if n.stock.item.kind in ("hardware", "fastener")}
    assert {need.revision for need in needs} == {quote.spec_letter}


def test_it_needs_the_boards_the_customer_chose(owner):
    signed(owner, options=[COMPOSITE], taken=(COMPOSITE["name"],))
    boards = Need.objects.filter(stock__item__kind="decking").values_list("stock__item__code", flat=True)
    assert set(boards) == {"deck-composite"}


def test_it_adds_nothing_when_asked_again(owner):
    quote = signed(owner)
    count = Need.objects.count()
    assert not services.needs_from_quote(quote, by=owner).changes
    assert Need.objects.count() == count > 5


def test_it_shows_what_a_changed_spec_means_before_anything_moves(owner):
    quote = signed(owner, spec=longer(straight(), 240.0))
    before = Need.objects.in_full().get(stock__item__kind="float")
    stock = before.stock
    on_shelf(stock, 50, by=owner)
    services.set_aside(before, quantity=before.quantity, by=owner)
    revision = records.start_spec(quote.job, spec=longer(straight(), 120.0), by=owner)
    found = services.difference_to(quote.job, revision, on=today())
    change = next(one for one in found.changes if one.item == stock.item)
    assert change.fewer == change.put_back > 0 and change.on_order == change.bring_back == 0
    assert Need.objects.get(stock=stock).quantity == before.quantity
    services.apply_difference(quote.job, found, by=owner, reason="The client wants it shorter")
    after = Need.objects.get(stock=stock)
    assert after.quantity == after.set_aside == change.wants
    assert after.asides.aggregate(s=Sum("quantity"))["s"] == after.set_aside
    assert not services.difference_to(quote.job, revision, on=today()).changes


def test_it_moves_needs_to_three_working_days_before_their_stage(owner):

    job = signed(owner).job
    services.retime_needs(job=job, starts={"framing": date(2027, 5, 6)}, by=owner)  # a Thursday
    days = set(Need.objects.filter(job=job, stage="framing").values_list("needed_by", flat=True))
    assert days == {date(2027, 5, 3)}
