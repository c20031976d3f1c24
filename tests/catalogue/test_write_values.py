"""Every kind of value reads back exactly what it wrote, and a form box shows what a page keeps."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.catalogue.facts import FACTS
from estimating.catalogue.forms.fields import SpeedField, StockLengthsField, WeightPerFootField
from estimating.catalogue.sheet.columns import BY_KEY, Fixings
from estimating.catalogue.values import Exact, Length, Text, Weight, WeightPerFoot

positive = st.floats(min_value=0.001, max_value=1000, allow_nan=False, allow_infinity=False)


@given(positive)
def test_it_writes_measured_figures_without_losing_a_bit(figure):
    for value in (Length("in"), Length("ft"), Weight()):
        assert value.read(value.write(figure)) == figure


@given(st.floats(min_value=0.001, max_value=200, allow_nan=False))
def test_it_writes_a_weight_per_foot_without_losing_a_bit(figure):
    value = WeightPerFoot()
    assert value.read(value.write(figure)) == figure
    for system in ("imperial", "metric"):
        assert value.typed(value.edit(figure, system), system) == figure


@given(st.decimals(min_value=0, max_value=99999, places=3))
def test_it_writes_exact_figures_as_they_are(figure):
    assert Exact(3).read(Exact(3).write(figure)) == figure


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._/-]{0,8}", fullmatch=True), st.integers(1, 999)), max_size=6
    )
)
def test_it_writes_fixings_as_they_are(fixings):
    value = Fixings(500)
    assert value.read(value.write(tuple(fixings))) == tuple((code, Decimal(count)) for code, count in fixings)


@given(st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=40))
def test_it_keeps_text_apart_from_spaces_around_it(text):
    assert Text(200).read(Text(200).write(text)) == text.strip()


def test_it_has_one_heading_for_each_column():
    headings = [column.heading for column in BY_KEY.values()]
    assert len(set(headings)) == len(headings)
    assert set(FACTS) <= set(BY_KEY)


@pytest.mark.parametrize("system", ["imperial", "metric"])
@pytest.mark.parametrize(
    ("field", "value"),
    [
        (WeightPerFootField(), 4.531),
        (WeightPerFootField(), 3.2 / 3),
        (StockLengthsField(), [96.0, 144.0, 193.5, 5000 / 25.4]),
        (SpeedField(), Decimal("40")),
    ],
)
def test_it_shows_in_a_box_what_reads_back_the_same(field, value, system):
    field.units = system
    assert field.clean(field.write(value)) == value


def test_it_keeps_a_metric_speed_as_it_was_typed():
    field = SpeedField()
    field.units = "metric"
    assert field.write(field.clean("64")) == "64"


@pytest.mark.parametrize("typed", ["8, 10, 12", "12; 8; 10; 8", "8', 10', 12' 0\""])
def test_it_reads_stock_lengths_once_each_and_in_order(typed):
    field = StockLengthsField()
    field.units = "imperial"
    assert field.clean(typed) == [96.0, 120.0, 144.0]
