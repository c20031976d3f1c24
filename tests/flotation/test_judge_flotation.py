"""Criteria of authorities: each limit with its source, choices and not constants."""

from dataclasses import replace

import pytest

from estimating.engine.flotation.cases import Frames, standard_cases
from estimating.engine.flotation.criteria import (
    FIRM_START,
    LAKE_TOWN,
    LANDING_FLOAT,
    RESERVOIR_DOCK,
    RULE_SETS,
    Dimensions,
    Level,
    changed,
    judge,
    worst_level,
)
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import Assembly, FloatBody, Mass, RigidBody
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Outcome
from estimating.engine.sources import SOURCES
from tests.flotation.docks import DECK_IN, RATED, SEASONED, WET, check_dock

FRAME_IN = 8.25


def verdicts(body, rules, wet=WET, seasoned=SEASONED):
    assembly = Assembly((body,))
    cases = standard_cases(assembly, Frames((wet,), (seasoned,)), rules.choices)
    return {v.criterion.id: v for v in judge(rules.criteria, DockAfloat(assembly).solve(cases), Dimensions(FRAME_IN))}


def wide_float_dock():
    """10 x 20 ft on thirty floats: what a landing float takes."""
    floats = tuple(
        FloatBody(48, 24, 16, x, y, 0, 46, RATED) for x in (24, 72, 120, 168, 216) for y in (-48, -24, 0, 24, 48)
    )
    deck = tuple((float(x), float(y), DECK_IN) for x, y in ((0, -60), (240, -60), (240, 60), (0, 60)))
    return RigidBody("landing", floats, Mass(1700, 120, 0, 20), deck)


def test_the_check_dock_fails_the_landing_float_rule_and_a_wide_one_passes():
    # UFC 4-152-01 (28 Jul 2005), 7-3.3: 50 psf, or 500 lb at any point; tilt not over 6 degrees. The check dock fails
    # it (common practice, no source).
    failed = verdicts(check_dock(), LANDING_FLOAT)
    assert failed["ufc-afloat"].level is Level.STOP
    assert failed["ufc-afloat"].outcome is Outcome.SINKS  # 50 psf on 96 sq ft is over its lift
    assert failed["ufc-tilt"].level is Level.STOP
    wide = wide_float_dock()
    passed = verdicts(wide, LANDING_FLOAT, wide.frame, wide.frame)
    assert [v.level for v in passed.values()] == [Level.FINE, Level.FINE]
    assert 0 < passed["ufc-tilt"].value < 6


def test_the_check_dock_is_a_fine_private_dock_in_a_lake_town():
    # At least 10 in from water to top of deck: city code of Lake St. Croix Beach, Minnesota.
    found = verdicts(check_dock(), LAKE_TOWN)["town-freeboard"]
    assert (found.level, found.value) == (Level.FINE, pytest.approx(19.7, abs=0.05))
    low = replace(check_dock(), deck=tuple((x, y, 14.0) for x, y, _ in check_dock().deck))
    assert verdicts(low, LAKE_TOWN)["town-freeboard"].level is Level.STOP


def test_it_measures_a_reservoir_dock_to_the_underside_of_its_frame_and_at_its_end():
    # Licensee of a federal reservoir: 7 in from water to frame under dead load; a finger end may lose 4 in under
    # 400 lb 2 ft from the end.
    found = verdicts(check_dock(), RESERVOIR_DOCK)
    assert found["reservoir-frame"].value == pytest.approx(19.73 - FRAME_IN, abs=0.01)
    assert found["reservoir-frame"].level is Level.FINE
    assert found["reservoir-load"].level is Level.FINE
    assert found["reservoir-end"].level is Level.STOP
    assert found["reservoir-end"].value > 4


def test_it_says_check_near_a_limit_and_stop_beyond_it():
    tilt = verdicts(check_dock(), FIRM_START)["firm-tilt"]
    for limit, level in ((tilt.value + 5, Level.FINE), (tilt.value + 1, Level.CHECK), (tilt.value - 1, Level.CHECK)):
        assert verdicts(check_dock(), changed(FIRM_START, firm_tilt=limit))["firm-tilt"].level is level
    stiff = changed(LANDING_FLOAT, ufc_tilt=1.0)
    assert verdicts(wide_float_dock(), stiff)["ufc-tilt"].level is Level.STOP


def test_it_reports_the_case_that_comes_nearest_to_the_limit():
    found = verdicts(check_dock(), FIRM_START)
    assert found["firm-tilt"].case.startswith("20 psf on the")
    assert worst_level(tuple(found.values())) is Level.CHECK


def test_it_passes_over_criteria_that_no_case_bears_on():
    (dead,) = DockAfloat(Assembly((check_dock(),))).solve([LoadCase("other")])
    assert judge(FIRM_START.criteria, [dead], Dimensions(FRAME_IN)) == ()
    assert worst_level(()) is Level.FINE


def test_it_refuses_to_change_a_limit_that_is_not_there():
    with pytest.raises(KeyError):
        changed(LAKE_TOWN, ufc_tilt=3.0)


def test_every_criterion_names_its_source():
    for rules in RULE_SETS.values():
        assert rules.source
        assert {c.source for c in rules.criteria} == {rules.source}
        assert rules.source in SOURCES
