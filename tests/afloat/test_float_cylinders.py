"""Round floats through the whole engine: laid, weighed, floated, drawn, counted. Closed forms of the half-immersed
cylinder; section 7.12 of the check values for the circle (computed there)."""

from dataclasses import replace
from math import pi

import pytest

from estimating.engine.afloat.remedies import choices
from estimating.engine.drawing import Outline, end_view, most_heeled, side_view
from estimating.engine.level import wet_share_of_circle
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import SpecFaults, plain
from estimating.engine.spec import FloatPlace, Flotation
from estimating.engine.spec_file import dump_spec, load_spec
from tests.afloat.docks import CHECK_SECTION, STARTER, STARTER_RULES, dock, floated, laid

ROUND_IN, LONG_IN, OUT_IN = 24.0, 192.0, 24.0
ROUND = "float-round-24x96"


def pontoons(own_lb: float):
    """Two pipes along the section, each on one side of its middle."""
    shape = {"shape": "cylinder", "length_in": LONG_IN, "width_in": ROUND_IN, "weight_lb": own_lb}
    placed = tuple(FloatPlace(96, 36 + side * OUT_IN, **shape) for side in (-1, 1))
    return dock(replace(CHECK_SECTION, flotation=Flotation(placed=placed)))


@pytest.mark.parametrize(("depth_ft", "area_sqft"), [(0.5, 0.6142), (1.0, 1.5708), (1.5, 2.5274)])
def test_it_wets_so_much_of_a_circle(depth_ft, area_sqft):
    assert wet_share_of_circle(depth_ft / 2) * pi == pytest.approx(area_sqft, abs=5e-5)


def test_it_floats_half_under_on_pipes_that_weigh_with_the_dock_half_of_their_water():
    bare = sum(item.wet_lb for item in laid(pontoons(100)).weighed if item.what != "float")
    each_cuft = pi / 4 * 2**2 * 16
    design_spec = pontoons(each_cuft * 62.4 / 2 - bare / 2)
    proof, design = floated(design_spec), laid(design_spec)
    dead = proof.case("dead_wet")
    assert [c.freeboard_in for c in dead.sections[0].corners] == pytest.approx([12 + 7.25 + 1] * 4, abs=0.02)
    assert design.level[0].draft_wet_in == pytest.approx(12, abs=0.05)  # weights there to the pound
    assert [f.immersed_share for f in dead.floats] == pytest.approx([0.5, 0.5], abs=1e-3)
    # Closed forms: the centre of half a circle lies 4 r / 3 pi from its middle, its waterline is the diameter.
    area, volume = 2 * 16 * 2, 2 * each_cuft / 2
    across = 2 * (16 * 2**3 / 12 + 16 * 2 * 2**2) / volume
    middle_in = -7.25 - 12
    centre_in = middle_in - 4 * 12 / (3 * pi)
    assert dead.gm_across_in == pytest.approx(centre_in + across * 12 - proof.groups[0].z_in, rel=2e-3)
    along = area * 16**2 / 12 / volume
    assert dead.gm_along_in == pytest.approx(centre_in + along * 12 - proof.groups[0].z_in, rel=2e-3)


def test_it_draws_a_pipe_round_from_its_end_and_straight_from_its_side():
    spec = pontoons(200)
    design, dead = laid(spec), floated(spec).case("dead_wet")
    outline = Outline(300, plain, "t")
    assert {f.round_along for f in design.floats} == {"x"}
    assert 'data-part="float"' in side_view(design, dead, None, outline)
    assert side_view(design, dead, None, outline).count("<circle") == 0
    assert end_view(design, dead, most_heeled(dead.sections), None, outline).count("<circle") == 2


def test_it_lays_the_round_float_of_the_catalogue_and_counts_and_prices_it():
    section = replace(CHECK_SECTION, flotation=Flotation(item=ROUND))
    answer = estimate(dock(section), STARTER, STARTER_RULES)
    item, placed = STARTER.floats[ROUND], answer.design.floats
    assert item.volume_cuft == pytest.approx(pi * 8)  # 24 in through, 8 ft long
    assert all(f.item == ROUND and f.round_along for f in placed)
    line = next(line for line in answer.takeoff.lines if line.code == ROUND)
    assert line.net == len(placed)
    dead = answer.afloat.case("dead_wet")
    assert dead.least_freeboard_in == pytest.approx(answer.design.level[0].freeboard_wet_in, abs=0.2)
    assert dead.floats[0].buoyancy_lb == pytest.approx(
        wet_share_of_circle(dead.floats[0].draft_in / 24) * (item.net_lift_lb + item.weight_lb), rel=0.02
    )
    (found,) = (choice for choice in choices(STARTER) if choice.code == ROUND)
    assert found.placed(0, 0, 0, turned=True).gross_volume_in3 == pytest.approx(item.volume_cuft * 1728)


def test_a_spec_file_says_cylinder_and_an_oval_one_is_refused():
    spec = pontoons(200)
    assert load_spec(dump_spec(spec)) == spec
    oval = replace(spec.sections[0].flotation.placed[0], height_in=20.0)
    with pytest.raises(SpecFaults, match="one diameter"):
        laid(replace(spec, sections=(replace(spec.sections[0], flotation=Flotation(placed=(oval,))),)))
