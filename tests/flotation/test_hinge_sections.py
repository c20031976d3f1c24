"""Sections hinged in chains, Ls, Ts and fingers, solved together. Sources: statics of small leans, written out."""

import math
from itertools import pairwise

import pytest

from estimating.engine.flotation.apart import hinge_misalignments
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import FRESH, Assembly, FloatBody, FlotationInputError, Hinge, Mass, RigidBody
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Outcome
from tests.flotation.docks import DECK_IN, RATED, chain, check_dock, on_deck

PAIR = DockAfloat(chain(2))
SPRING = 6 * 48 * 24 * RATED * FRESH.lb_per_in3  # lb per inch of one section


def solved(dock, *loads):
    return dock.solve([LoadCase("case", loads)])[0]


def edge_height(body, x, y):
    """Height of a deck corner above the water."""
    return next(c.freeboard_in for c in body.corners if (c.x_in, c.y_in) == (x, y))


def trim_stiffness_in_lb() -> float:
    """Of one section about the middle of its floats: k (sum of own inertia and area x distance squared)."""
    inertia = 6 * 24 * 48**3 / 12 + 4 * 48 * 24 * 68**2
    return RATED * FRESH.lb_per_in3 * inertia


def test_it_keeps_the_hinge_line_common_at_any_lean():
    result = solved(PAIR, on_deck(700, 100, 20), on_deck(300, 380, -10, 1))
    first, second = result.bodies
    for y in (-36, 36):
        one, other = edge_height(first, 192, y), edge_height(second, 192, y)
        # The hinge lies an inch under the deck; each deck turns about it by its own trim.
        lever = DECK_IN - 23.25
        gap = lever * (math.cos(math.radians(first.tilt_deg)) - math.cos(math.radians(second.tilt_deg)))
        assert one - gap == pytest.approx(other, abs=1e-6)
    assert first.heel_deg == pytest.approx(second.heel_deg, abs=0.02)
    assert first.trim_deg != pytest.approx(second.trim_deg, abs=0.5)


def test_it_shares_a_load_on_the_hinge_between_both_sections():
    # P on the hinge line: each section takes P / 2 at its end and dips P/2 (1/k + 96 96 / (k I)) there. The lean's
    # stiffness is a little less than k I for the height of the weight; 2 % covers it.
    result = solved(PAIR, on_deck(40, 192, 0))
    level = solved(PAIR)
    dip = edge_height(level.bodies[0], 192, 36) - edge_height(result.bodies[0], 192, 36)
    assert dip == pytest.approx(20 * (1 / SPRING + 96**2 / trim_stiffness_in_lb()), rel=0.02)
    assert result.bodies[0].trim_deg == pytest.approx(-result.bodies[1].trim_deg, abs=1e-5)
    assert result.hinge_lift_lb[0] == pytest.approx(-20, abs=0.5)


def test_it_hands_over_at_the_hinge_what_the_floats_of_a_section_do_not_hold():
    for loads in ((on_deck(200, 0, 0),), (on_deck(500, 300, 10, 1),)):
        result = solved(PAIR, *loads)
        first, second = result.bodies
        held = [sum(f.buoyancy_lb for f in body.floats) for body in (first, second)]
        assert result.hinge_lift_lb[0] == pytest.approx(second.weight_lb - held[1], abs=1e-4)
        assert result.hinge_lift_lb[0] == pytest.approx(held[0] - first.weight_lb, abs=1e-4)


def test_it_fades_along_a_chain_from_hinge_to_hinge():
    # Equal sections on springs: what one hinge hands on shrinks by 2 - sqrt 3 = 0.268 each time and turns its sign
    # (three-moment recurrence of hinged beams of evenly spread springs); floats in three columns come near to it.
    lifts = solved(DockAfloat(chain(8)), on_deck(100, 0, 0)).hinge_lift_lb
    ratios = [after / before for before, after in pairwise(lifts[:4])]
    assert ratios == pytest.approx([-(2 - math.sqrt(3))] * 3, abs=0.03)


def test_it_lets_a_ramp_dip_a_hinged_end_less_than_a_lone_one():
    alone, pair = solved(DockAfloat(chain(1)), on_deck(200, 0, 0)), solved(PAIR, on_deck(200, 0, 0))
    assert alone.least_freeboard_in < pair.least_freeboard_in < 19.7


def test_it_says_how_far_a_hinge_would_be_out_of_line():
    # 200 lb of ramp on the near end lifts the far end of a lone section by about 1 1/2 in: common practice, no source.
    (step,) = hinge_misalignments(PAIR, LoadCase("ramp", (on_deck(200, 0, 0),)))
    assert step.start_in == pytest.approx(-1.5, abs=0.1)
    assert step.end_in == pytest.approx(step.start_in, abs=1e-6)
    assert hinge_misalignments(PAIR, LoadCase("dead"))[0].start_in == pytest.approx(0, abs=1e-6)
    assert hinge_misalignments(DockAfloat(chain(1)), LoadCase("dead")) == ()


def test_it_twists_a_hinge_out_of_line_by_a_load_at_the_side():
    (step,) = hinge_misalignments(PAIR, LoadCase("side", (on_deck(400, 96, 24),)))
    (lone,) = solved(DockAfloat(chain(1)), on_deck(400, 96, 24)).bodies
    assert step.end_in - step.start_in == pytest.approx(72 * math.sin(math.radians(lone.heel_deg)), abs=1e-3)


def test_it_says_nothing_of_a_hinge_whose_section_would_sink_alone():
    bare = RigidBody("bridge", (), Mass(100, 288, 0, 20), chain(2).bodies[1].deck)
    dock = DockAfloat(
        Assembly(
            (check_dock(), bare, check_dock("B", 384)),
            (Hinge(0, 1, 192, -36, 192, 36, 23), Hinge(1, 2, 384, -36, 384, 36, 23)),
        )
    )
    assert [step.start_in for step in hinge_misalignments(dock, LoadCase("dead"))] == [None, None]
    result = solved(dock)
    assert result.outcome is Outcome.FLOATS
    assert result.hinge_lift_lb == pytest.approx((50, -50), abs=1e-4)


def finger_dock() -> Assembly:
    """A walk of two sections, hinged, with a finger on each: a T and an F in one."""
    walk = chain(2)
    fingers = []
    for i, x in enumerate((96.0, 288.0)):
        floats = tuple(FloatBody(24, 48, 16, x, y, 0, 46, RATED) for y in (70, 150, 230))
        deck = tuple((x + dx, y, DECK_IN) for dx, y in ((-24, 36), (24, 36), (24, 264), (-24, 264)))
        fingers.append(RigidBody(f"F{i}", floats, Mass(400, x, 150, 20), deck))
    hinges = [*walk.hinges, *(Hinge(i, 2 + i, x - 24, 36, x + 24, 36, 23.25) for i, x in enumerate((96.0, 288.0)))]
    return Assembly((*walk.bodies, *fingers), tuple(hinges))


def test_it_solves_fingers_with_the_walk_they_hang_on():
    dock = DockAfloat(finger_dock())
    level, loaded = solved(dock), solved(dock, on_deck(400, 96, 240, 2))
    assert level.outcome is loaded.outcome is Outcome.FLOATS
    drops = [
        before.least_freeboard_in - after.least_freeboard_in
        for before, after in zip(level.bodies, loaded.bodies, strict=True)
    ]
    assert drops[2] == max(drops)
    walk, finger = loaded.bodies[0], loaded.bodies[2]
    assert finger.trim_deg == pytest.approx(walk.trim_deg, abs=0.02)
    assert finger.heel_deg > walk.heel_deg


def test_it_takes_each_unconnected_dock_for_itself():
    apart = DockAfloat(Assembly((check_dock(), check_dock("B", 400))))
    result = solved(apart, on_deck(500, 450, 20, 1))
    alone = solved(DockAfloat(Assembly((check_dock(),))))
    assert result.bodies[0].least_freeboard_in == pytest.approx(alone.least_freeboard_in, abs=1e-6)
    sunk = solved(apart, on_deck(5000, 496, 0, 1))
    assert sunk.outcome is Outcome.SINKS


def test_it_refuses_hinges_that_close_a_ring():
    bodies = tuple(check_dock(f"S{i}", 192.0 * i) for i in range(3))
    ring = (Hinge(0, 1, 192, -36, 192, 36), Hinge(1, 2, 384, -36, 384, 36), Hinge(2, 0, 0, -36, 0, 36))
    with pytest.raises(FlotationInputError, match="close a ring") as trouble:
        DockAfloat(Assembly(bodies, ring))
    assert trouble.value.field == "hinges"
