"""Limits of authorities, exact at the edge. 1.5 m is a province's walkway rule, from memory; the rest invented."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contractor.quantities import parse_amount, parse_length, say
from estimating.engine.permitted import (
    BREAKS,
    KEEPS,
    UNKNOWN,
    PermitLimits,
    SideLines,
    exact_in,
    exact_sqft,
    limit_findings,
    verdicts,
)
from estimating.engine.result import Design
from estimating.engine.spec import Ramp, Section
from tests.drawing import docks

NO_LINES = SideLines()


def one_section(length: str, width: str, ramp: Ramp | None = None) -> Design:
    return docks.dock([Section("A", parse_length(length), parse_length(width))], ramp=ramp)


def state(dock: Design, lines: SideLines = NO_LINES, **limits: float) -> str:
    (one,) = verdicts(dock, [PermitLimits("Town", **limits)], lines)
    return one.state


@pytest.mark.parametrize(
    ("width", "rule", "found"),
    [
        ("1.5 m", "1.50 m", KEEPS),
        ("1500 mm", "1.50 m", KEEPS),
        ("1501 mm", "1.50 m", BREAKS),
        ("5 ft", "1.50 m", BREAKS),  # 1.524 m
        ("4' 11\"", "1.50 m", KEEPS),  # 1.4986 m
        ("4' 11 1/16\"", "1.50 m", BREAKS),  # 1.50019 m
        ("4 ft", "1.20 m", BREAKS),  # 1.219 m
        ("6 ft", "6 ft", KEEPS),
        ("6' 0 1/16\"", "6 ft", BREAKS),
        ("5.9", "5.9 ft", KEEPS),
    ],
)
def test_it_holds_a_width_to_its_limit_exactly(width: str, rule: str, found: str) -> None:
    assert state(one_section("16", width), most_width_in=parse_length(rule)) == found


def test_it_counts_boards_that_reach_over_the_frame() -> None:
    dock = one_section("16", "6 ft")
    (run,) = dock.boards
    over = replace(dock, boards=(replace(run, overhang_in=0.5, y0_in=-0.5, y1_in=72.5),))
    assert state(dock, most_width_in=72.0) == KEEPS
    assert state(over, most_width_in=72.0) == BREAKS


@pytest.mark.parametrize(
    ("length", "width", "rule", "found"),
    [
        ("5 m", "2 m", "10 m2", KEEPS),
        ("5 m", "2001 mm", "10 m2", BREAKS),
        ("16 ft", "6 ft", "96 sq ft", KEEPS),
        ("16 ft 1/16 in", "6 ft", "96 sq ft", BREAKS),
        ("3.3 m", "3.03 m", "9.999 m2", KEEPS),
        ("3.3 m", "3.03 m", "9.998 m2", BREAKS),
    ],
)
def test_it_holds_an_area_to_its_limit_exactly(length: str, width: str, rule: str, found: str) -> None:
    length = length.replace(" ft 1/16 in", "' 0 1/16\"")
    assert state(one_section(length, width), most_area_sqft=parse_amount(rule, "area")) == found


def test_it_reaches_from_the_shore_end_of_the_ramp_past_any_float_noise() -> None:
    sections = [Section(mark, 100.4, 72, x_in=sum([100.4] * k)) for k, mark in enumerate("ABC")]
    dock = docks.dock(sections, ramp=Ramp(143.7, 48))
    assert sections[-1].x_in + sections[-1].length_in + 143.7 > 444.9  # the floats do not add up
    assert state(dock, most_reach_in=444.9) == KEEPS
    assert state(dock, most_reach_in=444.89) == BREAKS


def test_it_calls_the_ramp_and_the_sections_that_lead_on_a_walkway() -> None:
    tee = docks.tee()  # a stem 60 in wide on a 48 in ramp, a head of two 72 in sections
    assert state(tee, most_walkway_width_in=60.0) == KEEPS
    (found,) = verdicts(tee, [PermitLimits("Town", most_walkway_width_in=59.0)], NO_LINES)
    assert (found.state, found.dock.value) == (BREAKS, 60)
    alone = one_section("10", "8 ft", ramp=Ramp(144, 48))
    assert state(alone, most_walkway_width_in=48.0) == KEEPS
    assert verdicts(docks.platform(), [PermitLimits("Town", most_walkway_width_in=48.0)], NO_LINES)[0].state == UNKNOWN


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        (SideLines(156.0, 300.0), KEEPS),  # 36 in of the 72 in dock either side of its landing: 120 left
        (SideLines(155.9, 300.0), BREAKS),
        (SideLines(300.0, 156.0), KEEPS),
        (SideLines(300.0, 155.9), BREAKS),
        (SideLines(156.0, None, 312.0), KEEPS),
        (SideLines(156.0, None, 311.0), BREAKS),
        (SideLines(156.0, None), UNKNOWN),
    ],
)
def test_it_keeps_off_the_side_lines(lines: SideLines, found: str) -> None:
    assert state(docks.straight(), lines, least_setback_in=120.0) == found


def test_it_leaves_water_under_loaded_floats_at_low_water() -> None:
    dock = docks.straight()  # 24 in below normal at low; the ramp takes 144 in but for its slope; floats draw 12 in
    (found,) = verdicts(dock, [PermitLimits("Town", least_clearance_in=0.0)], NO_LINES)
    under = found.dock.value
    assert state(dock, least_clearance_in=under) == KEEPS
    assert state(dock, least_clearance_in=under + 0.1) == BREAKS
    assert state(docks.platform(), least_clearance_in=12.0) == UNKNOWN


def test_it_measures_how_much_of_the_deck_is_open() -> None:
    dock = one_section("8", "6 ft")  # boards of 5.5 in with gaps of 1/8 in: seventeen gaps in 96 in
    gaps = 17 * 0.125 / 96 * 100
    assert state(dock, least_deck_open_percent=round(gaps - 0.001, 4)) == KEEPS
    assert state(dock, least_deck_open_percent=round(gaps + 0.001, 4)) == BREAKS


def test_it_says_who_asks_what_the_dock_is_and_what_nobody_knows() -> None:
    dock = one_section("16", "1501 mm")
    limits = PermitLimits("Parks office", most_width_in=parse_length("1.5 m"), least_setback_in=120.0)
    said = [
        finding.headline.say(lambda a: say(a.value, a.unit, "metric"))
        for finding in limit_findings(verdicts(dock, [limits], NO_LINES))
    ]
    assert said == [
        "Parks office: 1.50 m wide at most; this dock is a little more than 1.50 m.",
        "Parks office: 3.05 m from each side line at least; what this dock has is not known.",
    ]
    assert not limit_findings(verdicts(dock, [PermitLimits("Town")], NO_LINES))


@given(st.integers(1, 100_000), st.integers(-1, 1))
def test_it_tells_a_tenth_of_a_millimetre_from_none(tenths: int, more: int) -> None:
    limit, dock = (value / 254 for value in (tenths, tenths + more))
    assert (exact_in(dock) <= exact_in(limit)) == (more <= 0)


@given(st.integers(1, 6400), st.integers(1, 6400))
def test_it_compares_sixty_fourths_with_millimetres_as_fractions_do(sixty_fourths: int, millimetres: int) -> None:
    inches, metric = sixty_fourths / 64, millimetres / 25.4
    assert (exact_in(inches) <= exact_in(metric)) == (sixty_fourths * 127 <= millimetres * 320)


@given(st.integers(1, 10_000_000))
def test_it_reads_square_metres_back_as_they_were_typed(hundredths: int) -> None:
    typed = hundredths / 100
    assert exact_sqft(typed / 0.09290304) == exact_sqft(parse_amount(f"{typed:.2f} m2", "area"))
