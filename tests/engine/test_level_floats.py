"""The check case of common practice: 6 x 16 ft, four 2x8 stringers, 5/4 deck, about 820 lb wet and 650 lb seasoned,
six floats 24 x 48 x 16 in of 46 lb and 600 lb net. Common practice, no source."""

from dataclasses import replace

import pytest

from estimating.engine.design import design
from estimating.engine.level import Afloat, Tub, draft_in, level_float, tops_above_water_in
from estimating.engine.spec import Accessory, Anchor, DockSpec, FloatPlace, Flotation, Framing, Joint, Ramp, Section
from estimating.engine.weights import weighted_items
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

CASE = Afloat(
    sections=("A",),
    tubs=(Tub(16, 46, 600),) * 6,
    dead_wet_lb=820,
    dead_seasoned_lb=650,
    live_lb=20 * 96,
    deck_area_sqft=96,
    above_tubs_in=7.25 + 1.0,
)
CHECK_DOCK = Section("A", 192, 72, framing=Framing(stringer_count=4), flotation=Flotation(rows=2, columns=3))


def test_it_floats_the_check_case_as_common_practice_says() -> None:
    level = level_float(CASE)
    assert level.freeboard_wet_in == pytest.approx(19.7, abs=0.1)
    assert level.freeboard_seasoned_in == pytest.approx(20.4, abs=0.1)
    assert level.freeboard_live_in == pytest.approx(11.8, abs=0.1)
    assert level.awash_psf == pytest.approx(29, abs=0.1)
    assert level.awash_people == 15


def test_it_weighs_the_check_dock_close_to_common_practice() -> None:
    # Lumber at 50 lb/cu ft wet and 37.5 seasoned, within the usual 45 to 52 and 35 to 40.
    (level,) = design(DockSpec("check", (CHECK_DOCK,), live_load_psf=20), CATALOGUE, FIRM).level
    assert level.dead_wet_lb == pytest.approx(820, rel=0.05)
    assert level.dead_seasoned_lb == pytest.approx(650, rel=0.07)
    assert level.freeboard_wet_in == pytest.approx(19.7, abs=0.15)


def test_it_agrees_with_the_rule_for_one_float() -> None:
    tubs = [Tub(16, 46, 600)] * 6
    by_rule = draft_in(height_in=16, share_lb=820 / 6, own_lb=46, net_lift_lb=600)
    assert 16 - tops_above_water_in(tubs, 820) == pytest.approx(by_rule)


def test_it_leaves_short_floats_dry_until_the_tall_ones_sink_to_them() -> None:
    # By hand: the tall pair alone lifts 2 x 100 / 20 = 10 lb an inch; 50 lb of load and 0 own puts it 5 in deep.
    tall, short = Tub(20, 0, 100), Tub(10, 0, 100)
    assert tops_above_water_in([tall, tall, short, short], 50) == pytest.approx(15)
    # At 200 lb: 10 lb an inch to 10 in deep, then 30 lb an inch for the other 100 lb.
    assert tops_above_water_in([tall, tall, short, short], 200) == pytest.approx(20 - 10 - 100 / 30)


def test_it_carries_half_the_ramp_and_half_the_load_on_it() -> None:
    spots = tuple(FloatPlace(u, v) for u in (24, 96, 168) for v in (12, 60))
    dock = replace(CHECK_DOCK, flotation=Flotation(placed=spots))
    alone = design(DockSpec("dock", (dock,), live_load_psf=10), CATALOGUE, FIRM).level[0]
    spec = DockSpec("dock", (dock,), ramp=Ramp(144, bought_item="steel-ramp"), live_load_psf=10)
    laid = design(spec, CATALOGUE, FIRM)
    hinges = 2 * 6.0 + 32 * 0.22  # the kits and their bolts
    assert laid.ramp.reaction_lb == 260
    assert laid.level[0].dead_wet_lb - alone.dead_wet_lb == pytest.approx(260 + hinges, abs=1)
    assert laid.level[0].live_lb - alone.live_lb == pytest.approx(10 * 48 / 2)


def test_it_puts_a_12_ft_timber_ramp_at_about_200_lb_on_the_float() -> None:
    # Common practice, no source.
    laid = design(DockSpec("dock", (CHECK_DOCK,), ramp=Ramp(144), live_load_psf=10), CATALOGUE, FIRM)
    assert laid.ramp.reaction_lb == pytest.approx(200, rel=0.2)


def two(kind: str, **second: object) -> DockSpec:
    grid = Flotation(rows=2, columns=2)
    sections = Section("A", 96, 72, flotation=grid), Section("B", 96, 72, x_in=96, flotation=grid)
    return DockSpec("two", (sections[0], replace(sections[1], **second)), (Joint("A", "B", kind),), live_load_psf=10)


def test_it_floats_rigid_neighbours_as_one_and_hinged_ones_apart() -> None:
    assert [level.sections for level in design(two("rigid"), CATALOGUE, FIRM).level] == [("A", "B")]
    assert [level.sections for level in design(two("hinged"), CATALOGUE, FIRM).level] == [("A",), ("B",)]


def test_it_says_how_far_hinged_neighbours_stand_apart() -> None:
    level = design(two("hinged"), CATALOGUE, FIRM)
    assert not [f for f in level.findings if f.code == "hinge_step"]
    uneven = design(two("hinged", flotation=Flotation(rows=3, columns=2)), CATALOGUE, FIRM)
    step = uneven.level[1].freeboard_wet_in - uneven.level[0].freeboard_wet_in
    (finding,) = [f for f in uneven.findings if f.code == "hinge_step"]
    assert finding.headline.values[0] == "B" and finding.headline.values[2] == "A"
    assert finding.headline.values[1].value == pytest.approx(step, abs=0.05)


@pytest.mark.parametrize(
    ("psf", "told"), [(20, []), (27, [("check", "low_tops")]), (30, [("stop", "sinks")])]
)  # the check case goes awash at about 29 psf
def test_it_warns_before_the_floats_go_under_and_stops_when_they_do(psf: float, told: list) -> None:
    laid = design(DockSpec("dock", (CHECK_DOCK,), live_load_psf=psf), CATALOGUE, FIRM)
    assert [(f.level, f.code) for f in laid.findings if f.code in ("low_tops", "sinks")] == told


def test_it_names_a_float_count_that_cures_low_tops() -> None:
    laid = design(DockSpec("dock", (CHECK_DOCK,), live_load_psf=27), CATALOGUE, FIRM)
    (finding,) = [f for f in laid.findings if f.code == "low_tops"]
    # By hand: 27 psf on 96 sq ft is 2,592 lb, the dock 820; a float 14 in deep carries 646 x 14/16 - 46 = 519 lb.
    assert finding.cure.values[0].value == 7
    four_pairs = replace(CHECK_DOCK, flotation=Flotation(rows=2, columns=4))
    again = design(DockSpec("dock", (four_pairs,), live_load_psf=27), CATALOGUE, FIRM)
    assert not [f for f in again.findings if f.code == "low_tops"]


def test_it_makes_every_ledger_add_up() -> None:
    laid = design(DockSpec("dock", (CHECK_DOCK,), ramp=Ramp(144), live_load_psf=15), CATALOGUE, FIRM)
    for reason in (laid.level[0].reason, laid.weights[0].reason, laid.ramp.reason):
        running = 0.0
        for step in reason.steps:
            if step.total:
                assert step.amount.value == pytest.approx(running)
            elif step.amount.unit == "in_small" and running > 100:
                running = step.amount.value  # a second ledger begins
            else:
                running += step.amount.value


def test_it_lists_every_weight_with_its_place() -> None:
    sections = (CHECK_DOCK, Section("B", 144, 48, x_in=192, y_in=0, turned=True))
    spec = DockSpec(
        "dock",
        sections,
        ramp=Ramp(120),
        anchors=(Anchor("1", "A", "shore-left"),),
        accessories=(Accessory("ladder"), Accessory("cleat", 3, edge="left")),
        live_load_psf=12,
    )
    laid = design(spec, CATALOGUE, FIRM)
    items = weighted_items(laid, CATALOGUE)
    assert {item.what for item in items} == {"piece", "board", "float", "hardware", "accessory", "ramp"}
    for weight in laid.weights:
        mine = [item for item in items if item.section == weight.section and item.what != "ramp"]
        listed = sum(item.wet_lb for item in mine)
        summed = (
            weight.frame_wet_lb + weight.deck_wet_lb + weight.hardware_lb + weight.accessories_lb + weight.floats_lb
        )
        assert listed == pytest.approx(summed, abs=3)
        assert sum(item.wet_lb * item.x_in for item in mine) / listed == pytest.approx(weight.x_in)
    assert sum(item.seasoned_lb for item in items if item.what == "board") == pytest.approx(
        sum(run.seasoned_lb for run in laid.boards if run.section != "ramp")
    )


def test_it_puts_the_middle_of_a_plain_section_in_its_middle() -> None:
    (weight,) = design(DockSpec("dock", (CHECK_DOCK,), live_load_psf=10), CATALOGUE, FIRM).weights
    assert (weight.x_in, weight.y_in) == (pytest.approx(96, abs=0.1), pytest.approx(36))
