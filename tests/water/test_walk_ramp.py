"""The ramp over the whole range of levels, the accessible route with its exceptions, rails and width."""

from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.afloat.floating import float_proof
from estimating.engine.design import design
from estimating.engine.gangway import accessible_route
from estimating.engine.parts import RangeRules
from estimating.engine.result import Design
from estimating.engine.slope import free_end_travel_in, least_length_in, ramp_range, ramp_slope
from estimating.engine.spec import DockSpec, Place, Ramp, Section, Water
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

FT = 12.0
POOL = Water(datum="full pool", low_in=-20 * FT, normal_in=0, high_in=2 * FT, storm_in=5 * FT)
RULES = RangeRules()


def lay(ramp: Ramp, water: Water = POOL, rules: RangeRules = RULES) -> Design:
    spec = DockSpec("dock", (Section("A", 192, 72),), ramp=ramp, place=Place(water=water), live_load_psf=15)
    return design(spec, CATALOGUE, replace(FIRM, range=rules))


def said(ramp: Ramp, water: Water = POOL, rules: RangeRules = RULES) -> dict[str, tuple[str, str]]:
    """The gravest finding of each kind."""
    found = reversed(lay(ramp, water, rules).findings)
    return {finding.code: (finding.level, f"{finding.headline} {finding.cure}") for finding in found}


def test_it_needs_the_published_72_ft_at_one_in_twelve() -> None:
    # ADAAG appendix A15.2.2, example 1: the dock 6 ft below land at the lowest level, 1:12, a gangway of 72.25 ft
    assert least_length_in(drop_in=6 * FT, one_in=12) / FT == pytest.approx(72.25, abs=0.003)
    at_length = ramp_slope(level="low", hinge_in=6 * FT, deck_in=0, length_in=72.2496 * FT)
    assert at_length.one_in == pytest.approx(12, abs=0.001)


@pytest.mark.parametrize(
    ("feet", "slips", "steep", "exempt"),
    [
        (72.25, None, False, False),  # the example's own length is not steep
        (72.0, None, True, False),
        (80.0, 400, False, True),  # exception 3 asks for no steepness
        (79.9, 400, False, False),
        (30.0, 24, True, True),  # exception 4: fewer than 25 slips and at least 30 ft
        (30.0, 25, True, False),
        (29.9, 24, True, False),
        (30.0, None, True, False),  # slips unknown: no exemption is assumed
    ],
)
def test_it_says_exempt_and_steep_apart(feet: float, slips: int | None, steep: bool, exempt: bool) -> None:
    # ADA 2010, 405.2 and 1003.2.1 exceptions 3 and 4
    slope = ramp_slope(level="low", hinge_in=6 * FT, deck_in=0, length_in=feet * FT)
    found = accessible_route([slope], length_in=feet * FT, slips=slips)
    assert (found.steep, found.exempt) == (steep, exempt)


def test_it_says_both_exempt_and_steep_where_both_are_true() -> None:
    water = Water(low_in=0, normal_in=12, high_in=24)
    ramp = Ramp(32 * FT, bought_item="steel-ramp", hinge_level_in=80, accessible=True, slips=6)
    level, words = said(ramp, water)["access_exempt"]
    assert level == "note" and "exempt, and steep: 1:6" in words and "exception 4" in words
    level, words = said(replace(ramp, slips=None), water)["access_steep"]
    assert level == "check" and "1:12 at most" in words and "Say how many slips" in words
    assert not {"access_steep", "access_exempt"} & set(said(replace(ramp, accessible=False), water))


def test_it_counts_the_free_end_s_furthest_reach_where_the_ramp_lies_level() -> None:
    # by hand: 10 ft ramp, from 6 ft down (8 ft out) through level (10 ft out) to 2 ft up
    assert free_end_travel_in(drops_in=[72, -24], length_in=120) == pytest.approx(24)
    assert free_end_travel_in(drops_in=[72, 24], length_in=120) == pytest.approx(sqrt(120**2 - 24**2) - 96)
    assert free_end_travel_in(drops_in=[72, 120], length_in=120) is None


@given(st.floats(24, 1200), st.lists(st.floats(-0.999, 0.999), min_size=1, max_size=6))
def test_it_never_travels_less_than_between_two_levels(length_in: float, shares: list[float]) -> None:
    drops = [share * length_in for share in shares]
    outs = [sqrt(length_in**2 - drop**2) for drop in drops]
    travel = free_end_travel_in(drops_in=drops, length_in=length_in)
    assert max(outs) - min(outs) - 1e-6 <= travel <= length_in


def test_it_answers_for_all_four_levels_and_for_a_day() -> None:
    found = ramp_range(lay(Ramp(240, hinge_level_in=40)), RULES, days=[("14 March", -8 * FT)])
    verdicts = {slope.level: found.verdict(slope, RULES) for slope in found.slopes}
    assert list(verdicts) == ["low", "normal", "high", "storm", "14 March"]
    assert verdicts["low"] == "does not reach" and verdicts["normal"] == "good"
    drop = 40 + 8 * FT - found.deck_in
    assert found.slopes[4].drop_in == pytest.approx(drop)
    assert verdicts["14 March"] == "too steep"
    assert found.travel_in is None
    assert found.comfortable_in >= (40 + 20 * FT - found.deck_in) * sqrt(17) - 1e-6  # 1:4 at low water


def test_it_judges_by_the_firm_s_own_limits() -> None:
    water = Water(low_in=0, normal_in=12, high_in=24)
    ramp = Ramp(144, hinge_level_in=60)  # about 1:3.5 at low water
    assert said(ramp, water)["slope"][0] == "check"
    assert said(ramp, water, RangeRules(comfortable=3, steep=2, refuse=1))["slope"][0] == "note"
    level, words = said(ramp, water, RangeRules(comfortable=8, steep=6, refuse=5))["slope"]
    assert level == "stop" and "Comfortable is 1:8" in words and "gives 1:6" in words


def test_it_says_that_storm_water_takes_the_ramp_off() -> None:
    water = Water(low_in=0, normal_in=0, high_in=6, storm_in=240)
    level, words = said(Ramp(96, hinge_level_in=20), water)["slope_storm"]
    assert level == "check" and "comes off" in words


@pytest.mark.parametrize(("hinge_in", "rails", "warned"), [(60, False, True), (60, True, False), (30, False, False)])
def test_it_asks_for_rails_over_thirty_inches(hinge_in: float, rails: bool, warned: bool) -> None:
    # residential guards, from memory (IRC R312.1): where the drop exceeds 30 in
    found = said(Ramp(144, hinge_level_in=hinge_in, rails=rails), Water(low_in=0, normal_in=12, high_in=24))
    assert ("no_rails" in found) == warned


@pytest.mark.parametrize(("width_in", "warned"), [(36, False), (35.5, True)])
def test_it_warns_of_a_ramp_too_narrow_to_walk(width_in: float, warned: bool) -> None:
    # UFC 4-152-01, 7-4.2: a brow is 36 in wide for people one way; ADA 405.5: 36 in clear
    assert ("narrow_ramp" in said(Ramp(96, width_in))) == warned


def test_it_puts_half_the_ramp_and_its_load_on_the_float() -> None:
    # UFC 4-152-01, 7-4.4: 25 psf for the reaction on the float; 4 x 20 ft gives 1,000 lb at the float end
    spec = lay(Ramp(240, 48)).spec
    rules = replace(FIRM, live_load_psf=25)
    laid = design(replace(spec, live_load_psf=25), CATALOGUE, rules)
    assert laid.ramp.reaction_lb == laid.ramp.wet_lb / 2
    [full] = [case for case in float_proof(laid, CATALOGUE, rules).cases if case.kind == "ramp"]
    assert full.live_lb == pytest.approx(1000)
