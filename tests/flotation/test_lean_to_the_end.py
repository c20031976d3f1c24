"""Righting curves. Sources: closed forms of wall-sided boxes; the trade's check dock, common practice."""

import math

import pytest

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import Assembly, FlotationInputError
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.righting import Side, righting_curve
from tests.flotation.docks import boxes_ft, chain, check_dock, on_deck

DOCK = DockAfloat(Assembly((check_dock(),)))
DEAD = LoadCase("dock alone")


@pytest.mark.parametrize(("side", "gm"), [(Side.LEFT, "gm_across_in"), (Side.SHORE, "gm_along_in")])
def test_it_rises_from_upright_by_gm(side, gm):
    curve, (dead,) = righting_curve(DOCK, DEAD, side), DOCK.solve([DEAD])
    assert curve.points[1].arm_in == pytest.approx(math.radians(1) * getattr(dead, gm), rel=2e-3)


def test_it_turns_alike_to_both_sides_of_a_like_sided_dock():
    one, other = (righting_curve(DOCK, DEAD, side) for side in (Side.LEFT, Side.RIGHT))
    assert [p.moment_ft_lb for p in one.points] == pytest.approx([p.moment_ft_lb for p in other.points], abs=1e-6)


def test_it_crosses_nothing_where_the_dock_comes_to_rest():
    case = LoadCase("off the middle", (on_deck(500, 96, 24),))
    (rest,) = DOCK.solve([case])
    points = righting_curve(DOCK, case, Side.LEFT).points
    below, above = points[math.floor(rest.bodies[0].heel_deg)], points[math.ceil(rest.bodies[0].heel_deg)]
    assert below.moment_ft_lb < 0 < above.moment_ft_lb


def test_it_holds_as_much_as_its_greatest_moment_and_no_more():
    # Dead weight alone leans to meet a heeling moment of W y cos(a) from deck height; a little under the most it
    # still stands, a little over it turns over: the two sides of one fold.
    curve = righting_curve(DOCK, DEAD, Side.LEFT)
    assert curve.greatest.moment_ft_lb == max(p.moment_ft_lb for p in curve.points)
    assert 10 < curve.greatest.angle_deg < 20
    assert curve.first_top_deg > curve.greatest.angle_deg


def test_it_ends_where_the_deck_edge_goes_under():
    # A box barge level at 2 ft of 6 ft deep, 8 ft wide, deck at the top: the edge is under at atan(4 / 4) = 45 degrees.
    barge = DockAfloat(Assembly((boxes_ft([(20, 8, 6, 0, 0)], 20 * 8 * 2 * 62.4, 1.0, deck_ft=6),)))
    curve = righting_curve(barge, DEAD, Side.LEFT)
    # Past atan(2 / 4) the bottom edge is out and the wet part a triangle: half width b b tan(a) / 2 = 8 x 2.
    assert curve.end == "deck edge under"
    wide_ft = math.sqrt(2 * 8 * 2 / math.tan(math.radians(curve.end_deg)))
    assert wide_ft * math.tan(math.radians(curve.end_deg)) == pytest.approx(6, abs=0.01)


def test_it_has_one_point_when_the_deck_is_awash_already():
    low = DockAfloat(Assembly((boxes_ft([(20, 8, 6, 0, 0)], 20 * 8 * 2 * 62.4, 1.0, deck_ft=1.5),)))
    curve = righting_curve(low, DEAD, Side.LEFT)
    assert (len(curve.points), curve.end_deg, curve.end) == (1, 0.0, "deck edge under")


def test_it_says_where_a_narrow_dock_loses_its_moment():
    narrow = DockAfloat(Assembly((boxes_ft([(20, 4, 3, 0, 0)], 20 * 4 * 1 * 62.4, 1.75, deck_ft=6),)))
    curve = righting_curve(narrow, DEAD, Side.LEFT)
    assert curve.vanishes_deg is not None
    before, after = (curve.points[f(curve.vanishes_deg)] for f in (math.floor, math.ceil))
    assert before.moment_ft_lb > 0 > after.moment_ft_lb


def test_it_is_refused_for_hinged_sections_and_for_a_dock_that_sinks():
    with pytest.raises(FlotationInputError, match="one rigid body"):
        righting_curve(DockAfloat(chain(2)), DEAD, Side.LEFT)
    with pytest.raises(FlotationInputError, match="sinks"):
        righting_curve(DOCK, LoadCase("too much", (on_deck(5000, 96, 0),)), Side.LEFT)
