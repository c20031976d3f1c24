"""Deposits under their caps, and instalments that come to the total. Legal limits differ by place and by year."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.parts import DepositRule, Instalment
from estimating.engine.payments import deposit, old_limit, plan

D = Decimal
# California Business and Professions Code section 7159.5: the down payment may not be more than 1,000 dollars or
# 10 percent of the contract amount, whichever is less.
CALIFORNIA = DepositRule("lesser_of_percent_and_cap", D(10), D(1000), source="California B&P Code 7159.5")
# From memory, Maine, Title 10 section 1487: not more than one third of the contract price down; typed as 33.33 %.
ONE_THIRD = DepositRule("percent", D("33.33"))
# From memory, Massachusetts General Laws chapter 142A section 2: the greater of one third and special-order goods.
MASSACHUSETTS = DepositRule("greater_of_percent_and_special_order", D("33.33"))


@pytest.mark.parametrize(
    ("total", "most"),
    [("6750.00", "675.00"), ("9999.99", "999.99"), ("10000.00", "1000.00"), ("25000.00", "1000.00")],
)
def test_a_capped_deposit_is_the_lesser_of_the_two(total, most):
    assert deposit(D(total), CALIFORNIA) == D(most)


@pytest.mark.parametrize("total", ["6647.66", "8123.47", "9999.99", "0.07"])
def test_a_deposit_is_rounded_down_so_that_it_never_passes_its_limit(total):
    for rule, limit in ((CALIFORNIA, D(total) / 10), (ONE_THIRD, D(total) / 3)):
        assert limit - D("0.01") * (1 + D(total) / 100) < deposit(D(total), rule) <= limit


def test_special_order_goods_can_raise_the_deposit():
    assert deposit(D("9000.00"), MASSACHUSETTS, D("2000.00")) == D("2999.70")
    assert deposit(D("9000.00"), MASSACHUSETTS, D("4100.00")) == D("4100.00")


def test_a_deposit_raised_by_special_orders_is_said():
    [finding] = plan(D("9000.00"), MASSACHUSETTS, (), D("4100.00")).findings
    assert "4,100.00" in str(finding.headline) and "2,999.70" in str(finding.cure)
    assert plan(D("9000.00"), MASSACHUSETTS, (), D("2000.00")).findings == ()


def test_a_deposit_is_never_more_than_the_total():
    assert deposit(D("100.00"), MASSACHUSETTS, D("4100.00")) == D("100.00")


def test_an_unknown_rule_is_refused():
    with pytest.raises(ValueError, match="half_now"):
        deposit(D(100), DepositRule("half_now"))


def test_the_last_instalment_takes_the_odd_cents():
    thirds = [Instalment(trigger, D("33.33")) for trigger in ("Framed", "Floating", "Handed over")]
    payments = plan(D("1000.01"), DepositRule("none"), thirds).payments
    assert [(p.trigger, p.amount) for p in payments] == [
        ("Framed", D("333.30")),
        ("Floating", D("333.30")),
        ("Handed over", D("333.41")),
    ]


def test_without_instalments_the_rest_is_due_on_completion():
    payments = plan(D("6750.00"), CALIFORNIA, ()).payments
    assert [(p.trigger, p.amount) for p in payments] == [("On signing", D("675.00")), ("On completion", D("6075.00"))]


def test_nothing_owed_asks_for_nothing():
    assert plan(D("0.00"), CALIFORNIA, ()).payments == ()


@given(
    total=st.decimals(0, 200_000, places=2),
    percent=st.decimals(0, 100, places=2),
    shares=st.lists(st.decimals(0, 100, places=2), max_size=6),
    kind=st.sampled_from(["none", "percent", "lesser_of_percent_and_cap"]),
)
def test_payments_come_to_the_total_to_the_cent(total, percent, shares, kind):
    rule = DepositRule(kind, percent, D(1000))
    payments = plan(total, rule, [Instalment(f"Stage {n}", s) for n, s in enumerate(shares)]).payments
    assert sum(p.amount for p in payments) == total
    assert all(p.amount >= 0 for p in payments)


@pytest.mark.parametrize(("checked", "warned"), [(date(2025, 5, 7), False), (date(2025, 5, 6), True), (None, False)])
def test_a_rule_looked_up_over_a_year_ago_is_told(checked: date | None, warned: bool) -> None:
    """Twelve months: common practice, no source."""
    rule = DepositRule("percent", D("10"), checked=checked)
    assert [finding.code for finding in old_limit(rule, date(2026, 5, 7))] == ["deposit_rule_old"] * warned
