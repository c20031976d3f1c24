from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contractor.quantities import (
    AmountNotUnderstood,
    LengthNotUnderstood,
    echo_amount,
    echo_level,
    edit_amount,
    edit_level,
    format_level,
    parse_amount,
    parse_level,
    say,
)

# Exact by definition (international yard and pound agreement, 1959): 1 lb = 0.45359237 kg, 1 ft = 0.3048 m.


@pytest.mark.parametrize("text", ["U", "u", " unknown ", "?", "??"])
def test_it_keeps_an_unknown_level_apart_from_zero(text: str) -> None:
    assert parse_level(text) is None
    assert parse_level("0") == 0
    assert echo_level(None, "imperial") == "unknown"


def test_it_reads_levels_in_decimal_feet_or_metres() -> None:
    assert parse_level("5.9") == 70.8
    assert parse_level("1.8", system="metric") == parse_level("1800 mm")
    assert parse_level("-0.5 ft") == -6
    assert echo_level(42, "imperial") == "3.5 ft, 1.07 m"


def test_it_asks_for_a_level_when_the_box_is_empty() -> None:
    with pytest.raises(LengthNotUnderstood, match="U if nobody knows"):
        parse_level("  ")


@settings(max_examples=100, deadline=None)
@given(st.integers(-2000, 20000), st.sampled_from([12 / 100, 12 / 10, 1 / 16]), st.sampled_from(["imperial", "metric"]))
def test_it_edits_a_level_without_moving_it(steps: int, step_in: float, system: str) -> None:
    level_in = steps * step_in
    assert parse_level(edit_level(level_in, system), system=system) == level_in


@pytest.mark.parametrize(
    ("text", "kind", "kept"),
    [
        ("450", "weight", 450),
        ("450 lb", "weight", 450),
        ("1,250 lbs", "weight", 1250),
        ("45.359237 kg", "weight", 100),
        ("9.290304 m2", "area", 100),
        ("96 sq ft", "area", 96),
        ("1.609344 km", "distance", 1),
        ("50 psf", "pressure", 50),
        ("12.5 cu ft", "volume", 12.5),
    ],
)
def test_it_keeps_every_amount_in_one_unit(text: str, kind: str, kept: float) -> None:
    assert parse_amount(text, kind) == pytest.approx(kept, rel=1e-12)


def test_it_reads_a_bare_weight_as_kilograms_in_a_metric_firm() -> None:
    assert parse_amount("45.359237", "weight", system="metric") == pytest.approx(100, rel=1e-12)
    assert echo_amount(100, "weight", "metric") == "45 kg, 100 lb"


@pytest.mark.parametrize("text", ["", "heavy", "-4 lb", "4 ft", "1.2.3", "4 lb 3", "1e9", "9" * 20])
def test_it_refuses_what_is_no_weight(text: str) -> None:
    with pytest.raises(AmountNotUnderstood, match="Type a weight like 450 lb or 450 kg"):
        parse_amount(text, "weight")


@settings(max_examples=80, deadline=None)
@given(st.integers(1, 100_000), st.booleans(), st.sampled_from(["weight", "area", "distance", "pressure", "volume"]))
def test_it_edits_an_amount_without_moving_it(tenths: int, metric: bool, kind: str) -> None:
    kept = parse_amount(str(tenths / 10), kind, system="metric" if metric else "imperial")
    assert parse_amount(edit_amount(kept, kind, "imperial"), kind) == kept
    assert parse_amount(edit_amount(kept, kind, "metric"), kind, system="metric") == kept


@pytest.mark.parametrize(
    ("value", "unit", "imperial", "metric"),
    [
        (192, "in", "16′ 0″", "4.88 m"),
        (69.5, "in_cut", "5′ 9 1/2″", "1,765 mm"),
        (18.07, "in_small", "18.1 in", "459 mm"),
        (-0.01, "in_small", "0.0 in", "0 mm"),
        (42, "ft_level", "3.5 ft", "1.07 m"),
        (1000, "lb", "1,000 lb", "454 kg"),
        (20, "psf", "20 psf", "0.96 kPa"),
        (96, "sqft", "96 sq ft", "8.9 m²"),
        (34, "h", "34.0 h", "34.0 h"),
        (48, "count", "48", "48"),
        (Decimal("6750"), "money", "6,750.00", "6,750.00"),
        (17.46, "deg", "17.5°", "17.5°"),
        (Decimal("12.07"), "percent", "12.07%", "12.07%"),
        (1.5, "psi", "1.5 psi", "1.5 psi"),
        (None, "lb", "unknown", "unknown"),
    ],
)
def test_it_says_a_figure_with_its_unit(value, unit: str, imperial: str, metric: str) -> None:
    assert say(value, unit, "imperial") == imperial
    assert say(value, unit, "metric") == metric


def test_it_prints_a_level_with_no_more_decimals_than_it_needs() -> None:
    assert [format_level(inches, "imperial") for inches in (42, 39, 0, -0.001)] == [
        "3.5 ft",
        "3.25 ft",
        "0.0 ft",
        "0.0 ft",
    ]
