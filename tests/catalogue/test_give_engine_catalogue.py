"""The database gives the engine what was put in."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from contractor.company.models import PaymentStep, TaxRate
from estimating.catalogue import services
from estimating.catalogue.models import Item, LabourRate, StandingChoices
from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.parts import Instalment
from estimating.engine.reasons import SpecFaults

from .conftest import price

pytestmark = pytest.mark.django_db
ON = date(2026, 11, 20)


def test_it_gives_the_starter_file_back(starter):
    file, rules = starter_catalogue()
    assert services.engine_catalogue(on=file.on) == file
    kept = services.firm_rules(on=file.on)
    assert (kept.labour_rates, kept.labour_factors) == (rules.labour_rates, rules.labour_factors)


def test_it_takes_starter_prices_in_the_currency_of_the_firm(company, owner):
    company.currency = "CAD"
    company.save()
    services.load_starter(by=owner)
    kept = services.engine_catalogue(on=starter_catalogue()[0].on)
    assert kept.currency == "CAD"
    assert {good.price.currency for good in kept.goods.values()} == {"CAD"}


def test_it_dates_no_starter_price_ahead_of_today(owner, monkeypatch):
    monkeypatch.setattr("estimating.catalogue.services.starter.timezone.localdate", lambda: date(2026, 1, 5))
    services.load_starter(by=owner)
    assert services.engine_catalogue(on=date(2026, 1, 5)).goods["nut"].price.dated == date(2026, 1, 5)


def test_it_adds_nothing_when_the_starter_is_taken_in_twice(starter, owner):
    before = Item.objects.count()
    assert services.load_starter(by=owner).items == 0
    assert Item.objects.count() == before


def test_it_leaves_the_firms_own_items_alone_when_the_starter_is_added(joist, owner):
    services.load_starter(by=owner)
    joist.refresh_from_db()
    assert joist.name == "2x8 ground contact"
    assert Item.objects.filter(code="bolt-2-1/2").exists()


def test_it_says_what_is_missing_before_anything_can_be_worked_out(joist):
    with pytest.raises(SpecFaults) as refused:
        services.engine_catalogue(on=ON)
    said = [str(fault.message) for fault in refused.value.faults]
    assert said[:2] == ["Choose the usual stringers.", "Choose the usual end frames."]


def test_it_is_ready_once_the_choices_every_dock_needs_are_made(starter):
    StandingChoices.objects.update(anchor=None, chain=None, ramp_board=None)
    assert services.catalogue_gaps() == []
    assert services.engine_catalogue(on=ON).standing.anchor == ""


def test_it_gives_the_price_of_the_day_asked_for(starter, owner, yard):
    nut = Item.objects.get(code="nut")
    services.add_price(nut, price("15.00", date(2026, 9, 1)), supplier=yard, by=owner)
    services.add_price(nut, price("16.50", date(2026, 11, 10)), supplier=yard, by=owner)
    amounts = {
        on: services.engine_catalogue(on=on).goods["nut"].price.amount for on in (date(2026, 10, 1), date(2026, 11, 10))
    }
    assert amounts == {date(2026, 10, 1): Decimal("15.00"), date(2026, 11, 10): Decimal("16.50")}


def test_it_keeps_a_retired_item_for_specs_that_name_it(starter, owner):
    ramp = Item.objects.get(code="ramp-3x12")
    services.retire_item(ramp, seen_version=ramp.version, by=owner)
    assert "ramp-3x12" in services.engine_catalogue(on=ON).goods
    assert not Item.objects.offered().filter(code="ramp-3x12").exists()


def test_it_takes_a_lift_nobody_explained_as_gross(starter):
    Item.objects.filter(code="float-24x48x16").update(lift_basis="unknown")
    item = services.engine_catalogue(on=ON).floats["float-24x48x16"]
    assert item.net_lift_lb == item.rated_lift_lb - item.weight_lb


def test_it_works_out_lumber_weight_from_specific_gravity(joist):
    """Densities printed for G 0.55 (NDS Supplement formula, check values section 2): 37.33 at 19 %, 36.28 at 12 %."""
    Item.objects.filter(pk=joist.pk).update(
        wet_lb_per_ft=None,
        seasoned_lb_per_ft=None,
        specific_gravity=0.55,
        wet_moisture_percent=19,
        seasoned_moisture_percent=12,
    )
    joist.refresh_from_db()
    section_sqft = 1.5 * 7.25 / 144
    assert services.lumber_weights(joist) == pytest.approx((37.33 * section_sqft, 36.28 * section_sqft), rel=2e-4)


@pytest.mark.parametrize(
    ("mode", "engine_mode", "taxed"),
    [
        ("shop_pays", "shop_is_end_user", ()),
        ("materials", "separated_materials", (("HST", Decimal("13.000")),)),
        ("whole_price", "whole_price", (("HST", Decimal("13.000")),)),
        ("both", "end_user_and_whole_price", (("HST", Decimal("13.000")),)),
        ("exempt", "exempt", ()),
    ],
)
def test_it_says_how_the_firm_is_taxed(company, mode, engine_mode, taxed):
    company.tax_mode = mode
    company.save()
    TaxRate.objects.create(name="HST", percent=15, from_date=date(2020, 1, 1))
    TaxRate.objects.create(name="HST", percent=13, from_date=date(2026, 7, 1))
    TaxRate.objects.create(name="HST", percent=11, from_date=ON + timedelta(days=1))
    tax = services.firm_rules(on=ON).tax
    assert (tax.mode, tax.sales_taxes) == (engine_mode, taxed)


def test_it_takes_overhead_one_way_only(company):
    assert services.firm_rules(on=ON).overhead_per_hour == Decimal("16.00")
    company.overhead_mode, company.overhead_figure = "percent", Decimal(18)
    company.save()
    rules = services.firm_rules(on=ON)
    assert (rules.overhead_per_hour, rules.overhead_percent) == (None, Decimal(18))


def pay(*steps: tuple[str, int]) -> None:
    PaymentStep.objects.all().delete()
    for position, (trigger, percent) in enumerate(steps, 1):
        PaymentStep.objects.create(position=position, trigger=trigger, percent=percent)


@pytest.mark.parametrize(
    ("limit", "most", "cap", "expected"),
    [
        ("none", 0, 0, ("percent", 30, 0)),
        ("percent", 10, 0, ("percent", 10, 0)),
        ("percent", 50, 0, ("percent", 30, 0)),
        ("lesser", 10, 1000, ("lesser_of_percent_and_cap", 10, 1000)),
        ("lesser", 50, 1000, ("lesser_of_percent_and_cap", 30, 1000)),
        ("greater", 20, 0, ("greater_of_percent_and_special_order", 20, 0)),
        ("greater", 33, 0, ("percent", 30, 0)),
    ],
)
def test_it_asks_the_deposit_of_the_plan_held_under_the_limit(company, limit, most, cap, expected):
    company.deposit_rule, company.deposit_percent, company.deposit_cap = limit, most, cap
    company.save()
    pay(("signing", 30), ("decking", 40), ("defects", 30))
    deposit = services.firm_rules(on=ON).deposit
    assert (deposit.kind, deposit.percent, deposit.cap) == expected


def test_it_shares_what_is_left_after_the_deposit(company):
    pay(("signing", 30), ("decking", 40), ("defects", 30))
    assert services.firm_rules(on=ON).instalments == (
        Instalment("when decking is done", Decimal("57.142857")),
        Instalment("after the defects list", Decimal("42.857143")),
    )


def test_it_asks_no_deposit_when_the_plan_has_none(company):
    pay(("framing", 50), ("defects", 50))
    rules = services.firm_rules(on=ON)
    assert rules.deposit.kind == "none"
    assert sum(instalment.percent_of_rest for instalment in rules.instalments) == 100


def test_it_uses_the_firms_own_hours(starter, owner):
    rate = LabourRate.objects.get(code="float")
    services.save_labour(rates={rate: (rate.version, Decimal("0.4"))}, factors={}, by=owner)
    kept = {each.code: each for each in services.firm_rules(on=ON).labour_rates}["float"]
    assert (kept.hours_per_unit, kept.source) == (Decimal("0.4"), "FIRM")
