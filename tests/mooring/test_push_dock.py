"""Wind, current, waves, friction and chain limits against published values and worked figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.mooring.bottoms import FRICTION, grip_of, holding_lb, under_water_lb
from estimating.engine.mooring.chains import BREAKING_TIMES, WORKING_LOAD_LB, listed_working_load_lb, working_load_lb
from estimating.engine.mooring.forces import current_lb, current_psf, shallow_drag, waves, wind_lb, wind_psf
from estimating.engine.mooring.loads import Hull, Weather, dock_loads
from estimating.engine.outline import Box
from estimating.engine.parts import Good, MooringRules
from estimating.engine.spec import Boat

M_S_IN_MPH, M_IN_MI = 1 / 0.44704, 1 / 1609.344


@pytest.mark.parametrize(("mph", "psf"), [(60, 9.22), (80, 16.38), (90, 20.74), (100, 25.60)])
def test_wind_presses_by_the_square_of_its_speed(mph, psf):
    # q = 0.00256 V²; the coefficient is half of air's 0.0765 lb/ft³ over g, in mph: 0.002557.
    assert wind_psf(mph) == pytest.approx(psf, abs=0.005)
    from_air = 0.0765 / 32.174 / 2 * (5280 / 3600) ** 2
    assert from_air == pytest.approx(0.00256, rel=0.002)


def test_wind_on_a_face_of_40_square_feet():
    assert wind_lb(speed_mph=60, area_sqft=40, drag=1.3) == pytest.approx(479, abs=0.5)


def test_water_presses_by_the_square_of_its_speed():
    # ½ρV²: 0.970 V² fresh, 0.995 V² sea, psf by ft/s; 1 kn is 1.688 ft/s.
    assert current_psf(1 / 1.688) == pytest.approx(0.970, abs=0.0005)
    assert current_psf(1 / 1.688, water_lb_per_cuft=64.0) == pytest.approx(0.995, abs=0.0005)
    assert current_psf(1) == pytest.approx(2.76, abs=0.005)


def test_water_on_a_face_of_8_square_feet():
    assert current_lb(speed_kn=2 / 1.688, area_sqft=8, drag=1.5) == pytest.approx(46.6, abs=0.06)


@pytest.mark.parametrize(("share", "force_mn"), [(0.096, 0.55), (0.576, 1.03), (0.96, 1.90)])
def test_current_pushes_harder_in_shallow_water_as_published(share, force_mn):
    # UFC 4-159-03 (3 Oct 2005), table 4-6: one hull at 1.5 m/s; consistent with C0 = 0.85, C1 = 3.2, K = 2.
    grown = shallow_drag(drag=0.85, draft_in=share * 100, depth_in=100) / shallow_drag(
        drag=0.85, draft_in=9.6, depth_in=100
    )
    assert grown * 0.55 == pytest.approx(force_mn, rel=0.01)


def test_a_float_on_the_bottom_gets_the_touching_coefficient():
    assert shallow_drag(drag=1.5, draft_in=12, depth_in=12) == shallow_drag(drag=1.5, draft_in=12, depth_in=0) == 3.2


@pytest.mark.parametrize(
    ("wind_m_s", "fetch_m", "height_m", "period_s", "source"),
    [
        (30, 50_000, 4.1, 6.7, "Coastal Engineering Manual, EM 1110-2-1100 part II-2, example II-2-9"),
        (10, 1_000, 0.159, 1.19, "its equations II-2-36 to 38, worked by hand"),
        (15, 3_000, 0.437, 2.00, "the same"),
        (20, 5_000, 0.791, 2.65, "the same"),
    ],
)
def test_waves_come_out_as_published(wind_m_s, fetch_m, height_m, period_s, source):
    sea = waves(wind_mph=wind_m_s * M_S_IN_MPH, fetch_mi=fetch_m * M_IN_MI)
    places = 0.05 if wind_m_s == 30 else 0.0005
    assert sea.height_in * 0.0254 == pytest.approx(height_m, abs=places), source
    assert sea.period_s == pytest.approx(period_s, abs=max(places, 0.005)), source


def test_waves_stop_growing_at_the_limits_of_a_full_sea():
    # The same manual: upper limits 211.5 and 239.8.
    near, far = waves(wind_mph=20, fetch_mi=50_000), waves(wind_mph=20, fetch_mi=500_000)
    assert near == far


@pytest.mark.parametrize(
    ("size_in", "grade_30", "grade_43"),
    [(0.25, 1300, 2600), (0.375, 2650, 5400), (0.4375, 3700, 7200), (0.5, 4500, 9200)],
)
def test_chain_carries_what_the_table_says(size_in, grade_30, grade_43):
    # 49 CFR 393.108, working load limits of chain.
    assert listed_working_load_lb(grade="30", size_in=size_in) == grade_30
    assert listed_working_load_lb(grade="43", size_in=size_in) == grade_43


@pytest.mark.parametrize(("grade", "mpa"), [("30", 300), ("43", 430)])
def test_the_limits_fit_the_steel(grade, mpa):
    # From memory: it breaks at its grade's stress on two bar areas, true bars of 7.1 to 13.5 mm; the limit is a part.
    for size_in, bar_mm in ((0.25, 7.1), (0.375, 10), (0.4375, 11.9), (0.5, 13.5)):
        breaks_lb = mpa * 2 * 3.14159 / 4 * bar_mm**2 / 4.44822
        assert WORKING_LOAD_LB[grade][size_in] == pytest.approx(breaks_lb / BREAKING_TIMES[grade], rel=0.08)


def test_a_chains_own_sheet_goes_before_the_table():
    chain = {"code": "c", "name": "c", "kind": "chain", "use_unit": "ft", "pack_size": 1, "price": None}
    assert working_load_lb(Good(**chain, chain_grade="30", chain_size_in=0.375)) == 2650
    assert working_load_lb(Good(**chain, chain_grade="30", chain_size_in=0.375, working_load_lb=2000)) == 2000
    assert working_load_lb(Good(**chain, chain_size_in=0.375)) is None
    assert working_load_lb(Good(**chain)) is None


def test_friction_is_the_published_table():
    # NAVFAC DM 7.02 (Sept 1986), table 1, p. 7.2-63: tan δ of mass concrete on soil.
    assert set(FRICTION.values()) == {
        (0.70, 0.70), (0.55, 0.60), (0.45, 0.55), (0.35, 0.45), (0.30, 0.35), (0.40, 0.50)
    }  # fmt: skip
    assert FRICTION["clean gravel, gravel-sand, coarse sand"] == (0.55, 0.60)
    assert FRICTION["very stiff and hard clay"] == (0.40, 0.50)


@pytest.mark.parametrize("bottom", ["unknown", "mud", "weed", "boulders", "something else"])
def test_an_unknown_bottom_is_never_taken_as_sand(bottom):
    grip = grip_of(bottom)
    assert grip.friction == min(least for least, _ in FRICTION.values())
    assert not grip.sure and grip.words


def test_concrete_keeps_its_share_under_water_and_slides_at_its_friction():
    # Worked: 1,000 lb of concrete of 150 lb/ft³ in fresh water, tan δ 0.45, then 60 lb of uplift.
    sunk = under_water_lb(dry_lb=1000, water_lb_per_cuft=62.4)
    assert sunk == pytest.approx(584, abs=0.5)
    assert under_water_lb(dry_lb=1000, water_lb_per_cuft=64.0) == pytest.approx(573, abs=0.5)
    assert under_water_lb(dry_lb=1000, water_lb_per_cuft=62.4, own_lb_per_cuft=145) == pytest.approx(570, abs=0.5)
    assert holding_lb(under_water_lb=sunk, uplift_lb=0, friction=0.45) == pytest.approx(262.8, abs=0.05)
    assert holding_lb(under_water_lb=sunk, uplift_lb=60, friction=0.45) == pytest.approx(235.8, abs=0.05)
    assert holding_lb(under_water_lb=sunk, uplift_lb=900, friction=0.45) == 0


def test_a_dock_of_two_sections_is_pushed_on_what_shows():
    # 32 × 6 ft, deck 20 in over the water: 53.33 sq ft from a side, 10 sq ft from an end; 60 mph, C 1.3.
    rules = MooringRules(wind_mph=60, wind_drag=1.3)
    hulls = [Hull(Box(0, 0, 192, 72), 20, 5), Hull(Box(192, 0, 384, 72), 20, 5)]
    loads = dock_loads(hulls, (), Weather(rules, 0.0, 62.4))
    assert loads.wind_lb[4] == pytest.approx(9.216 * 1.3 * 32 * 20 / 12)
    assert loads.wind_lb[0] == loads.wind_lb[8] == pytest.approx(9.216 * 1.3 * 10)
    assert not loads.current_lb.any() and not loads.boats_lb.any()
    assert (loads.at_x_in[4], loads.at_y_in[4]) == (pytest.approx(192), pytest.approx(36))


def test_boats_lie_along_the_dock_and_catch_wind_most_from_the_side():
    loads = dock_loads([Hull(Box(0, 0, 384, 72), 20, 5)], (Boat(240, count=2),), Weather(MooringRules(), 0.0, 62.4))
    # Two boats of 20 ft, 42 in high: 140 sq ft from the side, 0.36 of it from the end.
    assert loads.boats_lb[4] == pytest.approx(wind_lb(speed_mph=45, area_sqft=140, drag=1.3))
    assert loads.boats_lb[0] == pytest.approx(0.36 * loads.boats_lb[4])


@given(st.floats(0, 120), st.floats(0, 10), st.floats(0, 200))
def test_more_wind_or_current_never_pushes_less(wind, current, more):
    hulls, boats = [Hull(Box(0, 0, 384, 72), 20, 5)], (Boat(240),)
    pushes = []
    for speed in (wind, wind + more):
        rules = MooringRules(wind_mph=speed)
        pushes.append([push.total_lb for push in dock_loads(hulls, boats, Weather(rules, current, 62.4)).pushes()])
    assert all(stronger >= weaker >= 0 for weaker, stronger in zip(*pushes, strict=True))
