"""Published and closed-form hydrostatics. Each test names its source; SI is turned into inches and pounds here."""

import math

import pytest

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import (
    FRESH,
    SALT,
    Assembly,
    FloatBody,
    FloatShape,
    Mass,
    PointLoad,
    RigidBody,
    WaterDensity,
)
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.righting import Side, righting_curve
from tests.flotation.docks import FT, boxes_ft, float_one

IN_PER_M = 1 / 0.0254
LB_PER_KG = 1 / 0.45359237


def kg_per_m3(density: float) -> WaterDensity:
    return WaterDensity(density * LB_PER_KG * 0.3048**3)


def metric_box(length_m: float, beam_m: float, height_m: float, mass_kg: float, kg_m: float) -> RigidBody:
    size = [v * IN_PER_M for v in (length_m, beam_m, height_m)]
    x, y, z = size[0] / 2, size[1] / 2, size[2]
    deck = ((-x, -y, z), (x, -y, z), (x, y, z), (-x, y, z))
    return RigidBody("box", (FloatBody(*size),), Mass(mass_kg * LB_PER_KG, 0, 0, kg_m * IN_PER_M), deck)


def draft_in(body: RigidBody, case: LoadCase | None = None) -> float:
    return float_one(body, case or LoadCase("alone")).bodies[0].corners[0].draft_in


def gm_ft(body: RigidBody, case: LoadCase | None = None) -> float:
    return float_one(body, case or LoadCase("alone")).gm_across_in / FT


def two_lines(length_ft: float, centre_ft: float, weight_lb: float, kg_ft: float, deck_ft: float = 8.0) -> RigidBody:
    """Two lines of floats 2 ft wide, one continuous float a line, and a deck of the given width on top."""
    body = boxes_ft([(length_ft, 2, 2, 0, y) for y in (-centre_ft, centre_ft)], weight_lb, kg_ft)
    x, y = FT * length_ft / 2, FT * deck_ft / 2
    deck = ((-x, -y, 36.0), (x, -y, 36.0), (x, y, 36.0), (-x, y, 36.0))
    return RigidBody("dock", body.floats, body.frame, deck)


def test_it_floats_the_published_barge():
    # 7.1: 100 x 30 ft, 500,000 lb, KG 4.0 ft, fresh water (hydrauliclearning.com, barge stability calculation).
    barge = boxes_ft([(100, 30, 10, 0, 0)], 500_000, 4.0, deck_ft=10)
    assert draft_in(barge) / FT == pytest.approx(2.671, abs=5e-4)
    assert gm_ft(barge) == pytest.approx(25.42, abs=0.005)


def test_it_finds_the_metacentre_of_the_seamanship_book():
    # 7.2: box vessel, beam 36 ft, draft 18 ft: BM 6 ft, KM 15 ft (Nicholls's Seamanship, p. 527).
    weight = 100 * 36 * 18 * 62.4
    vessel = boxes_ft([(100, 36, 30, 0, 0)], weight, 10.0, deck_ft=30)
    assert gm_ft(vessel) + 10.0 == pytest.approx(15.0, abs=1e-6)


def test_it_sinks_an_inch_under_the_published_tons():
    # 7.3: waterplane 200 x 30 ft, sea water at 35 cu ft a ton: 14.29 long tons an inch (Nicholls's Seamanship).
    sea = WaterDensity(2240 / 35)
    ship = boxes_ft([(200, 30, 20, 0, 0)], 2_000_000, 6.0, deck_ft=20)
    load = PointLoad(0, 14.2857 * 2240, 0, 0, 72)
    before, after = (draft_in(ship, LoadCase("at sea", live, water=sea)) for live in ((), (load,)))
    assert after - before == pytest.approx(1.0, abs=1e-4)


def test_it_rises_from_fresh_into_sea_water():
    # 7.4: pontoon 5.4 x 12 m, 1.5 m deep in fresh water: 97,200 kg; 1.463 m in sea water of 1025 kg/m3
    # (fluid mechanics problem sheet, no. 1; the sheet rounds to 1.47).
    pontoon = metric_box(12, 5.4, 3, 97_200, 1.0)
    assert draft_in(pontoon, LoadCase("lake", water=kg_per_m3(1000))) / IN_PER_M == pytest.approx(1.5, abs=1e-6)
    assert draft_in(pontoon, LoadCase("sea", water=kg_per_m3(1025))) / IN_PER_M == pytest.approx(1.463, abs=5e-4)


def test_it_finds_the_metacentre_of_the_textbook_catamaran():
    # 7.5: two hulls of 5.3 m3, centres 6 m apart, half-ordinates 0, 4, 6.2, 7.2, 6.4, 4.9, 0 cm at stations
    # 1, 2, 3, 4, 5, 5 1/2, 6, spacing 3.6 m: BM 3.12 m (textbook answer, boatdesign.net thread 55276).
    # Simpson's multipliers make each station a wall-sided box of its own length; no two touch.
    stations = [(2, 4, 4.0), (3, 2, 6.2), (4, 4, 7.2), (5, 1.5, 6.4), (5.5, 2, 4.9)]
    area = sum(2 * half / 100 * multiplier * 3.6 / 3 for _, multiplier, half in stations)
    assert area == pytest.approx(1.838, abs=5e-4)
    draft = 5.3 / area
    floats = tuple(
        FloatBody(
            *(IN_PER_M * v for v in (multiplier * 3.6 / 3, 2 * half / 100, draft + 1, 3.6 * (at - 3.5), side)), 0.0
        )
        for at, multiplier, half in stations
        for side in (-3.0, 3.0)
    )
    x, y, z = (IN_PER_M * v for v in (9, 3, draft + 2))
    deck = ((-x, -y, z), (x, -y, z), (x, y, z), (-x, y, z))
    middle = sum(f.length_in * f.width_in * f.x_in for f in floats) / sum(f.length_in * f.width_in for f in floats)
    frame = Mass(2 * 5.3 * 62.4 / 0.3048**3, middle, 0, IN_PER_M * draft / 2)
    catamaran = RigidBody("catamaran", floats, frame, deck)
    # With G at the middle of buoyancy GM is BM.
    assert float_one(catamaran, LoadCase("afloat")).gm_across_in / IN_PER_M == pytest.approx(3.12, abs=0.005)


def test_it_finds_the_metacentre_of_the_floating_solid():
    # 7.6: 4 x 2 x 1 m, draft 0.6 m: 47,088 N, BM 0.556 m, GM 0.356 m. A web solution (Q 3.12) prints 0.133 m: it
    # divides by the whole volume instead of the displaced one.
    solid = metric_box(4, 2, 1, 47_088 / 9.81, 0.5)
    lake = LoadCase("lake", water=kg_per_m3(1000))
    assert draft_in(solid, lake) / IN_PER_M == pytest.approx(0.6, abs=1e-6)
    assert float_one(solid, lake).gm_across_in / IN_PER_M == pytest.approx(0.356, abs=5e-4)


def test_it_floats_the_published_raft():
    # 7.7: 625 kg/m3, 1.5 m3, 5.5 m2: draft 0.170 m (physicsforums.com thread 687775).
    raft = metric_box(5.5, 1.0, 1.5 / 5.5, 625 * 1.5, 0.75 / 5.5)
    assert draft_in(raft, LoadCase("lake", water=kg_per_m3(1000))) / IN_PER_M == pytest.approx(0.170, abs=5e-4)


def test_it_floats_dock_a_as_computed():
    # 7.8: floats 2 x 18 ft each line, centres 2.75 ft out, 2,600 lb, KG 1.6 ft, fresh water. Parallel axis theorem.
    dock = two_lines(18, 2.75, 2600, 1.6)
    assert draft_in(dock) / FT == pytest.approx(0.5787, abs=5e-5)
    assert gm_ft(dock) == pytest.approx(12.33, abs=0.005)
    inch = draft_in(dock, LoadCase("an inch", (PointLoad(0, 374.4, 0, 0, 24),)))
    assert inch - draft_in(dock) == pytest.approx(1.0, abs=1e-6)


def test_it_leans_dock_a_under_400_lb_as_computed():
    # 7.9: 400 lb 3.5 ft off the middle, 1.9 ft above the keel: T 0.6677 ft, GM 10.52 ft, heel 2.54 degrees, sinkage
    # 1.07 in, the edge of an 8 ft deck drops 2.13 in more. Closed form for a small lean; at 2.5 degrees the exact
    # answer is within 0.01 degree of it.
    dock = two_lines(18, 2.75, 2600, 1.6)
    on_middle = LoadCase("on the middle", (PointLoad(0, 400, 0, 0, FT * 1.9),))
    assert draft_in(dock, on_middle) / FT == pytest.approx(0.6677, abs=5e-5)
    assert draft_in(dock, on_middle) - draft_in(dock) == pytest.approx(1.07, abs=0.005)
    assert gm_ft(dock, on_middle) == pytest.approx(10.52, abs=0.005)
    off = float_one(dock, LoadCase("off the middle", (PointLoad(0, 400, 0, FT * 3.5, FT * 1.9),)))
    assert off.bodies[0].heel_deg == pytest.approx(2.54, abs=0.01)
    middle = float_one(dock, on_middle).bodies[0].least_freeboard_in
    assert middle - off.bodies[0].least_freeboard_in == pytest.approx(2.13, abs=0.04)


def test_it_leans_dock_b_as_computed():
    # 7.10: floats 2 x 16 ft, centres 2.0 ft out, 2,100 lb, KG 1.4 ft; 400 lb at 2.5 ft, 1.7 ft up. Closed form; at
    # 4 degrees the exact answer is within 0.03 degree of it.
    dock = two_lines(16, 2.0, 2100, 1.4)
    assert draft_in(dock) / FT == pytest.approx(0.5258, abs=5e-5)
    assert gm_ft(dock) == pytest.approx(7.104, abs=5e-4)
    on_middle = LoadCase("on the middle", (PointLoad(0, 400, 0, 0, FT * 1.7),))
    assert draft_in(dock, on_middle) / FT == pytest.approx(0.6260, abs=5e-5)
    assert gm_ft(dock, on_middle) == pytest.approx(5.787, abs=5e-4)
    off = float_one(dock, LoadCase("off the middle", (PointLoad(0, 400, 0, FT * 2.5, FT * 1.7),)))
    assert off.bodies[0].heel_deg == pytest.approx(3.95, abs=0.03)


def test_it_follows_the_wall_sided_form_where_small_angles_do_not():
    # 7.11: box 8 x 20 ft, T 0.6 ft, KG 1.3 ft, 400 lb x 3.5 ft: GM 7.889 ft; 1.697 degrees for small angles, 1.696 by
    # the wall-sided form. The weight and KG include the 400 lb, which so only moves sideways, at deck height 1.3 ft.
    weight = 8 * 20 * 0.6 * 62.4
    box = boxes_ft([(20, 8, 3, 0, 0)], weight - 400, 1.3)
    assert gm_ft(box, LoadCase("middle", (PointLoad(0, 400, 0, 0, FT * 1.3),))) == pytest.approx(7.889, abs=5e-4)
    off = float_one(box, LoadCase("off", (PointLoad(0, 400, 0, FT * 3.5, FT * 1.3),)))
    assert off.bodies[0].heel_deg == pytest.approx(1.696, abs=5e-4)
    assert math.degrees(math.atan(1400 / weight / 7.889)) == pytest.approx(1.697, abs=5e-4)


def test_it_rights_a_box_by_the_wall_sided_formula():
    # GZ = sin(a) (GM + BM tan2(a) / 2), exact until an edge of the bottom emerges: section 7, closed forms.
    box = boxes_ft([(20, 8, 6, 0, 0)], 8 * 20 * 2 * 62.4, 2.5)
    curve = righting_curve(DockAfloat(Assembly((box,))), LoadCase("alone"), Side.LEFT)
    gm, bm = 1 + 64 / 24 - 2.5, 64 / 24
    for point in curve.points[1:26]:  # an edge emerges at atan(2 / 4) = 26.6 degrees
        angle = math.radians(point.angle_deg)
        assert point.arm_in / FT == pytest.approx(math.sin(angle) * (gm + bm * math.tan(angle) ** 2 / 2), rel=1e-9)
        assert point.moment_ft_lb == pytest.approx(point.arm_in / FT * 8 * 20 * 2 * 62.4, rel=1e-9)


def test_it_has_no_stiffness_in_roll_from_a_lone_round_float():
    # A round float floats alike at every roll: with G on its axis GM is nothing. Closed form: KM is its radius.
    drum = FloatBody(96, 24, 24, shape=FloatShape.ROUND)
    deck = ((-48.0, -12.0, 30.0), (48.0, -12.0, 30.0), (48.0, 12.0, 30.0), (-48.0, 12.0, 30.0))
    for g_in, gm_in in ((12.0, 0.0), (9.0, 3.0)):
        body = RigidBody("drum", (drum,), Mass(drum.full_lift_lb(FRESH) / 2, 0, 0, g_in), deck)
        result = float_one(body, LoadCase("half under"))
        assert result.gm_across_in == pytest.approx(gm_in, abs=1e-6)
        assert result.bodies[0].floats[0].immersed_share == pytest.approx(0.5, abs=1e-9)


@pytest.mark.parametrize(
    ("water", "densities"), [(FRESH, (62.426, 62.316)), (SALT, (64.163, 63.974))], ids=["fresh", "sea"]
)
def test_it_takes_water_within_a_third_of_a_percent_of_its_density_at_4_and_20_degrees(water, densities):
    # Section 6, computed there with two libraries of the equation of state, at 4 and 20 C.
    for density in densities:
        assert water.lb_per_ft3 == pytest.approx(density, rel=0.003)
