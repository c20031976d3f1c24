"""Where loads stand, load cases, people counts. Sources: geometry of the deck; figures written out by hand."""

import pytest

from estimating.engine.flotation.cases import CaseChoices, Frames, standard_cases, worst, worst_of_each_kind
from estimating.engine.flotation.crowds import Outline, RampLanding, at, free_ends, half_psf, spread, spread_psf
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import SALT, Assembly, FlotationInputError, PointLoad
from estimating.engine.flotation.limits import loading_stages, most_people
from estimating.engine.flotation.loads import CaseKind, LoadCase, dead_weights
from estimating.engine.flotation.results import Outcome
from tests.flotation.docks import DECK_IN, SEASONED, WET, chain, check_dock, on_deck

ONE = Assembly((check_dock(),))
FRAMES = Frames((WET,), (SEASONED,))
RAMP = RampLanding(0, 0, 0, DECK_IN, 200, 600)


def test_it_finds_the_area_and_middle_of_an_l():
    # Two squares of 10 side by side under one of 10: area 300, middle (10 x 2 x 15 ... ) by hand: x 25/3, y 25/3.
    corner = [(0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)]
    outline = Outline.of(tuple((float(x), float(y), 5.0) for x, y in corner))
    assert outline.area_in2 == 300
    assert outline.middle == pytest.approx((25 / 3, 25 / 3, 5))


def test_it_finds_the_same_middle_whichever_way_round_the_outline_runs():
    deck = check_dock().deck
    assert Outline.of(deck).middle == Outline.of(deck[::-1]).middle == (96, 0, DECK_IN)


def test_it_refuses_a_deck_without_area():
    with pytest.raises(FlotationInputError, match="no area"):
        Outline.of(((0, 0, 0), (1, 0, 0), (2, 0, 0)))


def test_it_knows_long_sides_from_ends_on_a_turned_deck():
    turned = Outline.of(tuple((-y, x, z) for x, y, z in check_dock().deck))
    assert {abs(x) for x, _ in turned.sides} == {1.0}
    assert turned.edge((1.0, 0.0), 12) == (24, 96, DECK_IN)
    assert turned.edge((0.0, 1.0), 12) == (0, 180, DECK_IN)


def test_it_loads_half_the_deck_at_the_middle_of_that_half():
    (load,) = half_psf(ONE, 20, (0.0, 1.0))
    assert (load.weight_lb, load.x_in, load.y_in) == pytest.approx((20 * 48, 96, 18))


def test_it_spreads_a_load_by_deck_area():
    pair = Assembly((check_dock(), check_dock("B", 192)))
    assert [load.weight_lb for load in spread(pair, 1000)] == [500, 500]
    assert [load.weight_lb for load in spread_psf(pair, 20)] == [1920, 1920]


def test_it_leaves_out_ends_that_a_hinge_joins():
    walk = chain(3)
    assert free_ends(walk, 0) == ((-1.0, 0.0),)
    assert free_ends(walk, 1) == ()
    assert len(free_ends(ONE, 0)) == 2


def test_it_puts_corner_loads_in_from_both_edges():
    points = list(Outline.of(check_dock().deck).corner_points(12))
    assert points[2] == pytest.approx((180, 24, DECK_IN))


def test_it_makes_every_kind_of_case_and_gives_the_ramp_to_each():
    cases = standard_cases(ONE, FRAMES, CaseChoices(), RAMP)
    assert set(CaseKind) - {case.kind for case in cases} == {CaseKind.OTHER, CaseKind.FINGER_END}
    assert all(case.standing == (RAMP.standing,) for case in cases)
    seasoned = next(case for case in cases if "seasoned" in case.name)
    assert dead_weights(ONE, seasoned)[0, 3] == 650 + 6 * 46 + 200


def test_it_makes_no_case_of_a_load_of_nothing():
    choices = CaseChoices(spread_psf=0, half_psf=0, edge_people=0, end_people=0, point_lb=0, water=SALT)
    cases = standard_cases(ONE, FRAMES, choices)
    assert [case.kind for case in cases] == [CaseKind.DEAD, CaseKind.DEAD]
    assert {case.water for case in cases} == {SALT}


def test_it_tries_a_crowd_on_every_free_edge_of_every_section():
    cases = standard_cases(chain(3), Frames((WET,) * 3, (SEASONED,) * 3), CaseChoices())
    assert sum(case.kind is CaseKind.EDGE for case in cases) == 6
    assert sum(case.kind is CaseKind.END for case in cases) == 2


def test_it_picks_the_worse_side():
    results = DockAfloat(ONE).solve(standard_cases(ONE, FRAMES, CaseChoices(), RAMP))
    halves = [r for r in results if r.case.kind is CaseKind.HALF]
    assert worst(halves).case.name == "20 psf on the near half"  # where the ramp bears already
    kinds = [r.case.kind for r in worst_of_each_kind(results)]
    assert kinds.count(CaseKind.DEAD) == 2
    assert len(kinds) == len(set(kinds)) + 1


def test_it_refuses_loads_below_nothing_and_on_no_body():
    with pytest.raises(FlotationInputError):
        CaseChoices(point_lb=-1)
    with pytest.raises(FlotationInputError, match="body 3"):
        DockAfloat(ONE).solve([LoadCase("nowhere", (PointLoad(3, 1, 0, 0, 0),))])
    with pytest.raises(FlotationInputError, match="2 frames for 1"):
        DockAfloat(ONE).solve([LoadCase("too many", frames=(WET, WET))])


def test_it_counts_people_one_by_one_to_the_last_that_holds():
    dock, person = DockAfloat(ONE), (at(0, 175, (96, 24, DECK_IN)),)
    limit = most_people(dock, LoadCase("dead"), person)
    for count, holds in ((limit.holds, True), (limit.holds + 1, False)):
        (result,) = dock.solve([LoadCase("crowd", (on_deck(175 * count, 96, 24),))])
        assert (result.outcome is Outcome.FLOATS and result.least_top_clearance_in > 0) is holds
    (last,) = dock.solve([LoadCase("crowd", (on_deck(175 * limit.holds, 96, 24),))])
    assert (limit.tilt_deg, limit.freeboard_in) == pytest.approx((last.most_tilt_deg, last.least_freeboard_in))


def test_it_counts_a_crowd_on_a_ramp_at_half_weight():
    dock = DockAfloat(ONE)
    on_ramp = most_people(dock, LoadCase("dead", standing=(RAMP.standing,)), RAMP.person(175))
    at_end = most_people(dock, LoadCase("dead", standing=(RAMP.standing,)), (at(0, 175, (0, 0, DECK_IN)),))
    assert on_ramp.holds in (2 * at_end.holds, 2 * at_end.holds + 1)


def test_it_counts_hundreds_on_a_long_dock():
    walk = chain(10)
    everybody = most_people(DockAfloat(walk), LoadCase("dead"), spread(walk, 175))
    assert everybody.holds == int(10 * (6 * 600 - 820) / 175)


def test_it_holds_nobody_where_the_empty_dock_fails():
    heavy = LoadCase("heavy", (on_deck(2770, 96, 0),))
    limit = most_people(DockAfloat(ONE), heavy, (at(0, 175, (96, 30, DECK_IN)),))
    assert (limit.holds, limit.posted()) == (0, 0)
    with pytest.raises(FlotationInputError, match="weigh something"):
        most_people(DockAfloat(ONE), heavy, (at(0, 0, (96, 0, DECK_IN)),))


def test_it_finds_the_load_at_which_things_change_to_the_pound():
    stages = loading_stages(DockAfloat(ONE), LoadCase("end", (on_deck(4000, 180, 0),)), tolerance=1e-5)
    assert [s.outcome for s in stages] == [Outcome.FLOATS, Outcome.AWASH, Outcome.CAPSIZES, Outcome.SINKS]
    assert stages[-1].live_lb == pytest.approx(6 * 600 - 820, abs=0.1)
    for stage in stages[1:3]:
        before, after = DockAfloat(ONE).solve(
            [LoadCase("just", (on_deck(stage.live_lb + d, 180, 0),)) for d in (-0.2, 0.2)]
        )
        assert before.outcome.severity < stage.outcome.severity == after.outcome.severity
