from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contractor.money import MoneyNotUnderstood, cap_down, format_money, parse_money, round_to, share, to_cents


def test_it_refuses_floats() -> None:
    with pytest.raises(TypeError):
        to_cents(0.1)


@settings(max_examples=60, deadline=None)
@given(
    st.decimals(Decimal("-1000000"), Decimal("1000000"), places=2),
    st.lists(st.integers(0, 100), min_size=1, max_size=9).filter(any),
)
def test_it_shares_a_total_to_the_cent(total: Decimal, weights: list[int]) -> None:
    shares = share(total, weights)
    assert sum(shares) == total
    assert all(part == part.quantize(Decimal("0.01")) for part in shares)
    assert all(part * total >= 0 for part in shares)
    for part, weight in zip(shares[:-1], weights, strict=False):
        assert abs(part - total * weight / sum(weights)) < Decimal("0.01")


@pytest.mark.parametrize("weights", [[], [0, 0], [1, -1, 2]])
def test_it_refuses_weights_that_share_nothing(weights: list[int]) -> None:
    with pytest.raises(ValueError, match="weight"):
        share(Decimal("10.00"), weights)


@settings(max_examples=60, deadline=None)
@given(st.decimals(0, 100000, places=4), st.sampled_from([1, 5, 10, 50, 100]))
def test_it_rounds_a_price_to_the_nearest_step(amount: Decimal, step: int) -> None:
    rounded = round_to(amount, step)
    assert rounded % step == 0
    assert abs(rounded - amount) <= Decimal(step) / 2


def test_it_rounds_caps_down_never_up() -> None:
    assert cap_down(Decimal("6750") / 3) == Decimal("2250.00")
    assert cap_down(Decimal("2000.019")) == Decimal("2000.01")
    assert cap_down(Decimal("675"), Decimal("1000")) == Decimal("675.00")


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("6750", "6750"), ("$6,750", "6750"), ("€ 6.750,00", "6750"), ("6 750,50", "6750.50"), ("1,234", "1234"),
        ("12,5", "12.50"), (".5", "0.50"), ("−5", "-5"), ("6750 kr", "6750"), ("1,234,567.89", "1234567.89"),
    ],
)  # fmt: skip
def test_it_reads_an_amount_as_people_write_it(text: str, amount: str) -> None:
    assert parse_money(text) == Decimal(amount)


@pytest.mark.parametrize("text", ["", "abc", "1,23,4", "1.2.3", "12.345", "1e5", "--5", "9" * 13, "five"])
def test_it_refuses_what_is_no_amount(text: str) -> None:
    with pytest.raises(MoneyNotUnderstood):
        parse_money(text)


@settings(max_examples=60, deadline=None)
@given(st.decimals(Decimal("-999999"), Decimal("999999"), places=2))
def test_it_reads_back_what_it_prints(amount: Decimal) -> None:
    assert parse_money(format_money(amount)) == amount
