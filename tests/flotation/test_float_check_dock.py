"""The trade's check dock: 6 x 16 ft, six floats 24 x 48 x 16 in of 46 lb and 600 lb net, 820 lb wet, 650 lb seasoned.

Common practice, no source. Its figures come from a rule of planks on springs that leaves out how high the weight
sits, so leans are a little more here; the tolerances say how much.
"""

import math

import pytest

from estimating.engine.flotation.crowds import Outline, at, spread
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import BRACKISH, SALT, Assembly
from estimating.engine.flotation.limits import Under, loading_stages, most_people
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Outcome
from tests.flotation.docks import SEASONED, check_dock, on_deck

DOCK = DockAfloat(Assembly((check_dock(),)))
DEAD = LoadCase("dock alone")
EDGE = Outline.of(check_dock().deck)


def solved(*loads, **more):
    return DOCK.solve([LoadCase("case", loads, **more)])[0]


def test_it_sits_as_high_as_the_rule_says_wet_seasoned_and_loaded():
    assert solved().least_freeboard_in == pytest.approx(19.7, abs=0.05)
    assert solved(frames=(SEASONED,)).least_freeboard_in == pytest.approx(20.4, abs=0.05)
    assert solved(on_deck(20 * 96, 96, 0)).least_freeboard_in == pytest.approx(11.8, abs=0.05)


def test_it_follows_the_draft_rule_of_one_float():
    # Draft = height x (share + own) / (net lift + own).
    assert solved().bodies[0].floats[0].draft_in == pytest.approx(16 * (820 / 6 + 46) / (600 + 46), rel=1e-9)
    assert solved().bodies[0].floats[0].carried_lb == pytest.approx(820 / 6)


def test_it_carries_2_5_percent_more_in_salt_water():
    fresh, brackish, salt = (solved(water=w).reserve_lb + 1096 for w in (DEAD.water, BRACKISH, SALT))
    assert salt / fresh == pytest.approx(1.025, abs=1e-3)
    assert fresh < brackish < salt


def test_its_floats_are_awash_at_29_psf():
    stages = loading_stages(DOCK, LoadCase("40 psf", (on_deck(40 * 96, 96, 0),)))
    assert [stage.outcome for stage in stages] == [Outcome.FLOATS, Outcome.SINKS]
    assert 40 * stages[1].load_factor == pytest.approx(29, abs=0.1)


def test_it_holds_15_adults_spread_and_5_at_one_edge():
    everybody = most_people(DOCK, DEAD, spread(DOCK.assembly, 175))
    assert (everybody.holds, everybody.why) == (15, "sinks")
    edge = most_people(DOCK, DEAD, (at(0, 175, EDGE.edge(EDGE.sides[0], 12)),))
    assert (edge.holds, edge.why) == (5, "float tops under")
    assert (everybody.posted(), edge.posted()) == (10, 4)


def test_it_tilts_about_12_degrees_under_6_adults_at_one_edge_and_the_edge_floats_go_under():
    six = solved(at(0, 6 * 175, EDGE.edge(EDGE.sides[1], 12)))
    assert six.bodies[0].heel_deg == pytest.approx(12, abs=0.5)
    assert [f.top_clearance_in < 0 for f in six.bodies[0].floats] == [False, True] * 3


def test_it_tilts_about_7_degrees_under_500_lb_at_the_edge_and_fails_6():
    tilt = solved(on_deck(500, 96, 36)).most_tilt_deg
    assert tilt == pytest.approx(7, abs=1.1)
    assert tilt > 6


def test_it_tilts_about_4_degrees_under_400_lb_two_feet_off_centre():
    assert solved(on_deck(400, 96, 24)).most_tilt_deg == pytest.approx(4, abs=0.35)


def test_it_dips_3_inches_under_200_lb_of_ramp_and_lifts_the_far_end():
    level, ramp = solved().least_freeboard_in, solved(on_deck(200, 0, 0))
    near, far = ramp.bodies[0].corners[0].freeboard_in, ramp.bodies[0].corners[1].freeboard_in
    assert level - near == pytest.approx(3, abs=0.25)
    assert near < far
    assert far - level == pytest.approx(1.5, abs=0.1)


def test_it_capsizes_before_its_deck_edge_is_awash():
    stages = loading_stages(DOCK, LoadCase("crowd at the edge", (at(0, 4000, EDGE.edge(EDGE.sides[0], 12)),)))
    assert [stage.outcome for stage in stages] == [Outcome.FLOATS, Outcome.CAPSIZES, Outcome.SINKS]
    just_before = solved(at(0, stages[1].live_lb - 5, EDGE.edge(EDGE.sides[0], 12)))
    assert just_before.outcome is Outcome.FLOATS
    assert just_before.least_freeboard_in > 2
    assert just_before.least_top_clearance_in < 0
    capsized = solved(at(0, stages[1].live_lb + 5, EDGE.edge(EDGE.sides[0], 12)))
    assert (capsized.outcome, capsized.bodies) == (Outcome.CAPSIZES, ())


def test_it_shows_that_initial_gm_misreads_a_corner_load():
    # Initial GM, of the dock level under the same load, misreads corner loads by 20 to 40 % once float tops go under.
    level, corner = solved(on_deck(670, 96, 0)), solved(on_deck(670, 180, 24))
    along = 84 * 670 / level.weight_lb / level.gm_along_in
    across = 24 * 670 / level.weight_lb / level.gm_across_in
    assert corner.least_top_clearance_in < 0
    assert 1.2 < corner.most_tilt_deg / math.degrees(math.atan(math.hypot(along, across))) < 1.4


def test_it_holds_more_at_the_edge_once_a_whole_float_may_go_under():
    person = (at(0, 175, EDGE.edge(EDGE.sides[0], 12)),)
    whole = most_people(DOCK, DEAD, person, under=Under.WHOLE_FLOAT)
    assert whole.holds >= most_people(DOCK, DEAD, person).holds
    assert whole.why == "capsizes"
