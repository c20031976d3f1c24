"""Prices are dated, added and never overwritten; one of them counts on each day."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from contractor.company.models import ChangeLog
from estimating.catalogue import services
from estimating.catalogue.models import Price
from estimating.catalogue.services import FactsRefused, ItemDraft

from .conftest import price

pytestmark = pytest.mark.django_db
APRIL, MAY, JUNE = date(2026, 4, 6), date(2026, 5, 4), date(2026, 6, 1)


@pytest.fixture
def add(plate, owner):
    def add(amount: str, dated: date, supplier=None, **more):
        return services.add_price(plate, price(amount, dated, **more), supplier=supplier, by=owner)

    return add


def counts(plate, on: date) -> Decimal | None:
    found = services.current_prices(on=on).get((plate.pk, None))
    return found.amount if found else None


def test_it_counts_the_latest_price_not_dated_ahead(plate, add):
    add("18.00", APRIL)
    add("19.00", MAY)
    add("25.00", JUNE)
    assert [counts(plate, on) for on in (APRIL - timedelta(days=1), APRIL, MAY, JUNE - timedelta(days=1), JUNE)] == [
        None,
        Decimal("18.00"),
        Decimal("19.00"),
        Decimal("19.00"),
        Decimal("25.00"),
    ]


def test_it_keeps_every_price_ever_entered(plate, add):
    add("18.00", APRIL)
    add("19.00", MAY)
    assert list(plate.prices.values_list("amount", flat=True)) == [Decimal("19.00"), Decimal("18.00")]


def test_it_takes_the_usual_supplier_before_a_later_price_of_another(plate, owner, yard, mill, add):
    services.change_item(plate, ItemDraft("hardware", {"preferred_supplier": yard}), seen_version=1, by=owner)
    add("18.00", APRIL, yard)
    add("15.00", MAY, mill)
    assert counts(plate, JUNE) == Decimal("18.00")


def test_it_takes_the_latest_of_all_where_no_supplier_is_usual(plate, yard, mill, add):
    add("18.00", APRIL, yard)
    add("21.00", MAY, mill)
    assert counts(plate, JUNE) == Decimal("21.00")


def test_it_takes_the_latest_of_all_while_the_usual_supplier_has_named_none(plate, owner, yard, mill, add):
    services.change_item(plate, ItemDraft("hardware", {"preferred_supplier": yard}), seen_version=1, by=owner)
    add("21.00", MAY, mill)
    assert counts(plate, JUNE) == Decimal("21.00")


def test_it_takes_the_firms_own_older_figure_before_a_starter_figure(plate, yard, add):
    add("18.00", APRIL, yard)
    add("30.00", MAY, starter=True)
    assert counts(plate, JUNE) == Decimal("18.00")


def test_it_lets_the_last_entered_of_one_day_correct_the_others(plate, yard, add):
    add("81.00", APRIL, yard)
    add("18.00", APRIL, yard)
    assert counts(plate, MAY) == Decimal("18.00")


def test_it_forgets_no_price_but_counts_no_struck_one(plate, owner, yard, add):
    add("18.00", APRIL, yard)
    wrong = add("1.80", MAY, yard)
    services.strike_price(wrong, reason="a slip of the point", by=owner)
    assert counts(plate, JUNE) == Decimal("18.00")
    wrong.refresh_from_db()
    assert (wrong.struck_by, wrong.struck_reason) == (owner, "a slip of the point")


def test_it_asks_why_a_price_is_struck_out(owner, add):
    with pytest.raises(FactsRefused):
        services.strike_price(add("18.00", APRIL), reason="  ", by=owner)


def test_it_adds_the_very_same_price_once(plate, yard, add):
    assert add("18.00", APRIL, yard) == add("18.00", APRIL, yard)
    assert plate.prices.count() == 1


def test_it_keeps_a_price_for_each_stock_length(joist, owner, yard):
    short, long = joist.sticks.order_by("length_in")
    services.add_price(joist, price("12.00", APRIL), stick=short, supplier=yard, by=owner)
    services.add_price(joist, price("19.00", APRIL), stick=long, supplier=yard, by=owner)
    found = services.current_prices(on=MAY)
    assert {key[1]: each.amount for key, each in found.items()} == {
        short.pk: Decimal("12.00"),
        long.pk: Decimal("19.00"),
    }


@pytest.mark.parametrize(
    ("facts", "field", "said"),
    [
        (price("18.00", APRIL, currency="CAD"), "currency", "in CAD; the firm works in USD"),
        (price("0.00", APRIL), "amount", "above zero"),
        (price("18.00", APRIL, valid_until=APRIL - timedelta(days=1)), "valid_until", "end before"),
        (price("18.00", date(2062, 4, 6)), "dated", "more than a year ahead"),
    ],
)
def test_it_refuses_a_price_that_can_not_be(plate, owner, facts, field, said):
    with pytest.raises(FactsRefused) as refused:
        services.add_price(plate, facts, by=owner)
    assert list(refused.value.faults) == [field]
    assert said in refused.value.faults[field]
    assert not Price.objects.exists()


def test_it_refuses_a_price_of_lumber_without_its_length(joist, plate, owner):
    with pytest.raises(FactsRefused, match="which stock length"):
        services.add_price(joist, price("12.00", APRIL), by=owner)
    with pytest.raises(FactsRefused, match="not one of Inside corner plate"):
        services.add_price(plate, price("12.00", APRIL), stick=joist.sticks.first(), by=owner)


def test_it_writes_in_the_log_who_added_and_who_struck(plate, owner, yard, add):
    services.strike_price(add("18.00", APRIL, yard), reason="other plate", by=owner)
    struck, added = ChangeLog.objects.about(plate).newest_first()[:2]
    assert (added.did, added.after["amount"], added.after["supplier"]) == ("priced", "18.00", "Millpond Lumber")
    assert (struck.did, struck.after, struck.by) == ("struck out a price", {"reason": "other plate"}, owner)


def doubts(plate, on: date) -> list[str]:
    return services.prices_now(on=on)[plate.pk, None].doubts


def test_it_doubts_a_price_older_than_the_firm_allows(plate, owner, add):
    services.save_standing_choices(changes={"stale_after_days": 30}, seen_version=1, by=owner)
    add("18.00", APRIL)
    assert doubts(plate, APRIL + timedelta(days=30)) == []
    assert doubts(plate, APRIL + timedelta(days=31)) == ["31 days old"]


def test_it_doubts_a_price_that_has_ended(plate, add):
    add("18.00", APRIL, valid_until=MAY)
    assert doubts(plate, MAY) == []
    assert doubts(plate, MAY + timedelta(days=1)) == ["ended 4 May 2026"]


def test_it_doubts_a_starter_figure(plate, add):
    add("18.00", APRIL, starter=True)
    assert doubts(plate, APRIL) == ["starter figure"]


def test_it_takes_a_price_known_ahead(plate, owner):
    ahead = timezone.localdate() + timedelta(days=200)
    services.add_price(plate, price("18.00", ahead), by=owner)
    assert counts(plate, ahead - timedelta(days=1)) is None
    assert counts(plate, ahead) == Decimal("18.00")
