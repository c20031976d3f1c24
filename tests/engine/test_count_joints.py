import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from estimating import engine
from estimating.engine.catalogue_file import load_catalogue
from estimating.engine.design import design
from estimating.engine.result import Design
from estimating.engine.spec import Anchor, DockSpec, Flotation, Framing, Joint, Ramp, Section
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM, RULES

FOUR = Framing(stringer_count=4)
CHECK_DOCK = Section("A", 192, 72, framing=FOUR, flotation=Flotation(rows=2, columns=3))
STARTER = Path(engine.__file__).parent / "starter"


def lay(*sections: Section, catalogue=CATALOGUE, **more: object) -> Design:
    return design(DockSpec("dock", sections, **({"live_load_psf": 20} | more)), catalogue, FIRM)


def places(laid: Design, place: str) -> list:
    return [joint for joint in laid.joints if joint.place == place]


def test_it_counts_48_bolts_on_the_known_dock() -> None:
    # Common practice, no source: a 6 x 16 ft dock with six floats took 48 bolts, 4 corners x 8 + 4 tees x 4.
    laid = lay(CHECK_DOCK)
    assert len(laid.floats) == 6
    assert (len(places(laid, "outer_corner")), len(places(laid, "tee"))) == (4, 4)
    assert laid.bolt_count == 48


def test_it_counts_32_bolts_on_a_ramp_with_two_hinge_kits() -> None:
    # Common practice, no source.
    laid = lay(CHECK_DOCK, ramp=Ramp(144), live_load_psf=15)
    assert (laid.bolt_count, laid.ramp_bolt_count) == (48, 32)


def test_it_counts_the_known_dock_by_the_starter_catalogue() -> None:
    # Common practice, no source, on the joint rules the app starts with.
    catalogue, rules = load_catalogue(json.loads((STARTER / "catalogue.json").read_text()))
    laid = design(DockSpec("check", (CHECK_DOCK,), ramp=Ramp(48), live_load_psf=10), catalogue, rules)
    assert (len(laid.floats), laid.bolt_count, laid.ramp_bolt_count) == (6, 48, 32)


def test_it_adds_the_bolts_up_on_paper() -> None:
    laid = lay(CHECK_DOCK)
    *steps, total = laid.bolt_reason.steps
    assert sum(step.amount.value for step in steps) == total.amount.value == laid.bolt_count
    assert laid.bolt_reason.source == "FIRM_JOINTS"


def test_it_counts_shared_bolts_once_however_many_plates_are_mated() -> None:
    three = replace(RULES[1], parts=(*RULES[1].parts, *RULES[0].parts))
    laid = lay(CHECK_DOCK, catalogue=replace(CATALOGUE, joint_rules=(RULES[0], three, *RULES[2:])))
    assert laid.bolt_count == 48


@pytest.mark.parametrize(("length_in", "bolts_per_corner"), [(143, 4), (144, 4), (144.01, 8), (192, 8)])
def test_it_puts_outside_plates_on_docks_over_12_ft(length_in: float, bolts_per_corner: int) -> None:
    # Trade rule: inside plates alone up to 12 ft, outside plates too beyond.
    corners = places(lay(Section("A", length_in, 72)), "outer_corner")
    assert {corner.bolts for corner in corners} == {bolts_per_corner}


def test_it_goes_by_the_length_of_the_whole_dock_and_of_each_dock_alone() -> None:
    joined = lay(Section("A", 96, 72), Section("B", 96, 72, x_in=96))
    apart = lay(Section("A", 96, 72), Section("B", 96, 72, x_in=960))
    assert {corner.bolts for corner in places(joined, "outer_corner")} == {8}
    assert {corner.bolts for corner in places(apart, "outer_corner")} == {4}


def test_it_gives_corners_that_face_each_other_the_same_number() -> None:
    laid = lay(*(Section(mark, 96, 72, x_in=96 * k) for k, mark in enumerate("ABCD")))
    at = {joint.mark: (joint.x_in, joint.y_in) for joint in laid.joints if joint.place == "outer_corner"}
    assert at["A1"] == at["B1"] == (96, 72)
    assert at["A2"] == at["B2"] == (96, 0)
    assert {at["B3"], at["B4"]} == {at["C3"], at["C4"]} and at["B3"] == at["C3"]
    assert at["C1"] == at["D1"] and at["C2"] == at["D2"]


def shape(name: str) -> tuple[Section, ...]:
    walk = Section("A", 192, 72)
    return {
        "straight": (walk, Section("B", 192, 72, x_in=192)),
        "stepped": (walk, Section("B", 192, 48, x_in=192, y_in=0)),
        "L": (walk, Section("B", 192, 72, x_in=192, y_in=0, turned=True)),
        "T": (walk, Section("B", 192, 72, x_in=192, y_in=-60, turned=True)),
        "U": (
            Section("A", 192, 48),
            Section("B", 192, 48, y_in=144),
            Section("C", 192, 72, x_in=192, turned=True),
        ),
        "fingers": (
            Section("A", 192, 72, turned=True, x_in=0),
            Section("B", 192, 36, x_in=72, y_in=0),
            Section("C", 192, 36, x_in=72, y_in=156),
        ),
        "cross": (
            walk,
            Section("B", 96, 72, x_in=192),
            Section("C", 96, 36, x_in=174, y_in=72, turned=True),
        ),
    }[name]


@pytest.mark.parametrize(
    ("name", "joints", "inside"),
    [("straight", 1, 0), ("stepped", 1, 1), ("L", 1, 1), ("T", 1, 2), ("U", 2, 2), ("fingers", 2, 2), ("cross", 3, 2)],
)
def test_it_finds_section_joints_and_inside_corners(name: str, joints: int, inside: int) -> None:
    # Counted on the drawing of each shape.
    laid = lay(*shape(name))
    assert len(places(laid, "hinged_joint")) == len(laid.edges) == joints
    assert len(places(laid, "inner_corner")) == inside


def test_it_joins_rigidly_only_where_the_spec_says_so() -> None:
    laid = lay(*shape("U"), joints=(Joint("C", "A", "rigid"),))
    assert [joint.sections for joint in places(laid, "rigid_joint")] == [("C", "A")]
    assert [joint.sections for joint in places(laid, "hinged_joint")] == [("B", "C")]
    told = [str(f.headline) for f in laid.findings if f.code == "joint_filled"]
    assert told == ["Sections touch at B-C: counted as hinged."]


def test_it_counts_both_ends_of_every_cross_member_and_every_board_crossing() -> None:
    laid = lay(CHECK_DOCK)
    cross = [piece for piece in laid.pieces if piece.role == "cross member"]
    assert len(places(laid, "cross_end")) == 2 * len(cross)
    (screws,) = places(laid, "board_crossing")
    assert dict(screws.parts) == {"deck-screw": Decimal(35 * 4 * 2)}  # 35 boards over four stringers, two screws each


def test_it_gives_every_anchor_a_retainer() -> None:
    laid = lay(CHECK_DOCK, anchors=(Anchor("1", "A", "lake-left"), Anchor("2", "A", "lake-right")))
    assert [(r.x_in, r.y_in) for r in places(laid, "chain_retainer")] == [(192, 72), (192, 0)]
    assert laid.bolt_count == 48 + 2 * 2


@pytest.mark.parametrize("place", ["outer_corner", "tee", "cross_end", "board_crossing", "ramp_dock_end"])
def test_it_names_the_place_that_has_no_rule(place: str) -> None:
    rules = tuple(rule for rule in RULES if rule.place != place)
    laid = lay(CHECK_DOCK, catalogue=replace(CATALOGUE, joint_rules=rules), ramp=Ramp(96), live_load_psf=15)
    missing = [finding for finding in laid.findings if finding.code == "missing_rule"]
    assert [finding.level for finding in missing] == ["check"]
    assert places(laid, place)[0].parts == ()


def test_it_names_goods_a_rule_asks_for_and_the_catalogue_lacks() -> None:
    goods = {code: good for code, good in CATALOGUE.goods.items() if code != "tee-plate"}
    laid = lay(CHECK_DOCK, catalogue=replace(CATALOGUE, goods=goods))
    (finding,) = [finding for finding in laid.findings if finding.code == "unknown_good"]
    assert "tee-plate" in str(finding.headline)
