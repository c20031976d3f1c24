from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contractor.quantities import LengthNotUnderstood, echo, edit_text, format_length, parse_length

# Ways of writing a length, from the trade's habit; the inches are arithmetic, no source needed.
WRITTEN = [
    ("16", 192),
    ("16'", 192),
    ("16' 0\"", 192),
    ("16-0", 192),
    ("16 - 0", 192),
    ("16 ft", 192),
    ("16ft 6in", 198),
    ("5'9 1/2", 69.5),
    ("5' 9-1/2\"", 69.5),
    ("5'-9 1/2\"", 69.5),
    ("5-9 1/2", 69.5),
    ("5’ 9½”", 69.5),
    ("5′ 9″", 69),
    ('69.5"', 69.5),
    ("69 1/2 in", 69.5),
    ("69-1/2''", 69.5),
    ("9-1/2", 114),
    ("5.9", 70.8),
    ("5.9 ft", 70.8),
    ('1/8"', 0.125),
    (" 0 ", 0),
    ("2.54 m", 100),
    ("2,54 m", 100),
    ("2540 mm", 100),
    ("2,540 mm", 100),
    ("2 540 mm", 100),
    ("254 cm", 100),
    ("2 m 54 cm", 100),
    ("2.54 metres", 100),
]


@pytest.mark.parametrize(("text", "inches"), WRITTEN)
def test_it_reads_a_length_as_people_write_it(text: str, inches: float) -> None:
    assert parse_length(text) == inches


@pytest.mark.parametrize(
    ("text", "unit", "inches"),
    [("1/8", "in", 0.125), ("9-1/2", "in", 9.5), ("140", "mm", 140 / 25.4), ("2,54", "m", 100), ("16-0", "in", 192)],
)
def test_it_gives_a_bare_number_the_unit_of_the_box(text: str, unit: str, inches: float) -> None:
    assert parse_length(text, default_unit=unit) == inches


def test_it_reads_a_bare_number_as_metres_in_a_metric_firm() -> None:
    assert parse_length("1.27", system="metric") == 50


@pytest.mark.parametrize(
    "text",
    [
        "", "abc", "-5", "5,9", "5 9", "1/0", "5 9/8", "1e5", "1.2.3", "5' 14\"", "5.5' 3\"", "12 m 3 ft", "1,500 cm",
        "9" * 12, "9" * 41, "ft", "5'9 1/2 1/2", "nan", "inf",
    ],
)  # fmt: skip
@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_it_refuses_with_a_sentence_that_says_what_to_type(text: str, system: str) -> None:
    if system == "metric" and text == "5,9":
        pytest.skip("a decimal comma is at home in a metric firm")
    with pytest.raises(LengthNotUnderstood, match=r"Type|Look at the unit"):
        parse_length(text, system=system)


def test_it_allows_a_minus_only_where_asked() -> None:
    assert parse_length("-5' 6\"", signed=True) == -66


sixteenths = st.integers(0, 16 * 12 * 500).map(lambda n: n / 16)
millimetres = st.integers(0, 200_000).map(lambda n: float(Fraction(n * 10, 254)))
anything = st.floats(0.001, 100_000)


@settings(max_examples=120, deadline=None)
@given(st.one_of(sixteenths, millimetres, anything), st.lists(st.sampled_from(["imperial", "metric"]), max_size=8))
def test_it_survives_any_number_of_edits_and_unit_switches(length_in: float, systems: list) -> None:
    kept = length_in
    for system in systems:
        kept = parse_length(edit_text(kept, system), system=system)
    assert kept == length_in


@settings(max_examples=80, deadline=None)
@given(sixteenths)
def test_it_reads_back_its_own_reading_of_sixteenths(length_in: float) -> None:
    assert parse_length(format_length(length_in, "imperial")) == length_in


@settings(max_examples=80, deadline=None)
@given(st.integers(0, 200_000))
def test_it_reads_back_its_own_cut_length_in_millimetres(length_mm: int) -> None:
    length_in = parse_length(f"{length_mm} mm")
    assert parse_length(format_length(length_in, "metric", style="cut")) == length_in


@settings(max_examples=80, deadline=None)
@given(st.text(alphabet="0123456789'\"-/., ftinm½′″", max_size=14))
def test_it_gives_a_length_or_a_sentence_for_any_text(text: str) -> None:
    try:
        assert parse_length(text) >= 0
    except LengthNotUnderstood as refused:
        assert str(refused).endswith(".")


@pytest.mark.parametrize(
    ("inches", "imperial", "metric", "cut"),
    [
        (192, "16′ 0″", "4.88 m", "4,877 mm"),
        (192.125, "16′ 0 1/8″", "4.88 m", "4,880 mm"),
        (11.99, "1′ 0″", "305 mm", "305 mm"),
        (0.03, "0″", "1 mm", "1 mm"),
        (39.37, "3′ 3 3/8″", "1.00 m", "1,000 mm"),
        (-18, "-1′ 6″", "-457 mm", "-457 mm"),
    ],
)
def test_it_prints_to_the_sixteenth_or_the_millimetre(inches, imperial, metric, cut) -> None:
    assert format_length(inches, "imperial") == imperial
    assert format_length(inches, "metric") == metric
    assert format_length(inches, "metric", style="cut") == cut


def test_it_echoes_the_firms_units_first_and_both_always() -> None:
    assert echo(parse_length("16"), "imperial") == "16′ 0″, 4.88 m"
    assert echo(parse_length("4.877 m"), "metric") == "4.877 m, 16′ 0″"
