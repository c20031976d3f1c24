from itertools import pairwise

import pytest

from estimating.engine.design import design
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design
from estimating.engine.slope import length_for_in, ramp_slope, slope_angle_deg
from estimating.engine.spec import DockSpec, Place, Ramp, Section, Water
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

DOCK = Section("A", 192, 72)


UNKNOWN = Water()


def lay(ramp: Ramp, *more_sections: Section, water: Water = UNKNOWN) -> Design:
    spec = DockSpec("dock", (DOCK, *more_sections), ramp=ramp, place=Place(water=water), live_load_psf=15)
    return design(spec, CATALOGUE, FIRM)


def faults(ramp: Ramp, *more_sections: Section) -> dict[str, str]:
    with pytest.raises(SpecFaults) as refused:
        lay(ramp, *more_sections)
    return {fault.field: str(fault.message) for fault in refused.value.faults}


def test_it_works_out_the_slope_as_geometry_has_it() -> None:
    # Geometry: 16 ft ramp and 4 ft drop, run 15.49 ft, 1:3.87, 14.48 degrees; 80 ft and 10 ft, 79.37 ft, 7.18.
    slope = ramp_slope(level="low", hinge_in=48, deck_in=0, length_in=192)
    assert (slope.out_in / 12, slope.one_in) == (pytest.approx(15.49, abs=0.005), pytest.approx(3.87, abs=0.005))
    assert slope_angle_deg(drop_in=48, length_in=192) == pytest.approx(14.48, abs=0.005)
    assert ramp_slope(level="low", hinge_in=120, deck_in=0, length_in=960).out_in / 12 == pytest.approx(
        79.37, abs=0.005
    )
    assert slope_angle_deg(drop_in=120, length_in=960) == pytest.approx(7.18, abs=0.005)


def test_it_knows_the_72_ft_gangway_of_the_access_guidelines() -> None:
    # ADAAG appendix A15.2.2, example 1: 6 ft below land at 1:12 needs 72.25 ft; up to the foot that is 73.
    assert length_for_in(drop_in=72, one_in=12) == 73 * 12


@pytest.mark.parametrize(("one_in", "feet"), [(3, 16), (4, 21)])
def test_it_names_the_length_that_cures_five_feet_of_drop(one_in: float, feet: float) -> None:
    # Common practice, no source: 5 ft of drop needs 16 ft at 1:3, 21 ft at 1:4.
    assert length_for_in(drop_in=60, one_in=one_in) == feet * 12


@pytest.mark.parametrize(
    ("hinge_in", "level"), [(40, []), (60, ["check"]), (66, ["check"]), (90, ["stop"]), (170, ["stop"])]
)
def test_it_grades_the_slope_at_low_water(hinge_in: float, level: list[str]) -> None:
    # Starter limits 1:4, 1:3 and 1:2. The deck floats about 20 in above low water at 0; the ramp is 12 ft.
    laid = lay(Ramp(144, hinge_level_in=hinge_in), water=Water(low_in=0, normal_in=12, high_in=24))
    slopes = [f for f in laid.findings if f.code in ("slope", "slope_no_reach") and f.level != "note"]
    assert [finding.level for finding in slopes] == level


def test_it_says_the_slope_is_unknown_rather_than_guess() -> None:
    for ramp, water in (
        (Ramp(144), Water(low_in=0, normal_in=12, high_in=24)),
        (Ramp(144, hinge_level_in=60), Water()),
    ):
        codes = {finding.code for finding in lay(ramp, water=water).findings}
        assert "slope_unknown" in codes and "slope" not in codes


@pytest.mark.parametrize(
    ("edge", "dock", "shore"),
    [
        ("shore", (0, 36), (-120, 36)),
        ("lake", (192, 36), (312, 36)),
        ("left", (96, 72), (96, 192)),
        ("right", (96, 0), (96, -120)),
    ],
)
def test_it_lands_the_ramp_in_the_middle_of_its_edge(edge: str, dock: tuple, shore: tuple) -> None:
    laid = lay(Ramp(120, edge=edge))
    assert (laid.ramp.dock_x_in, laid.ramp.dock_y_in) == dock
    assert (laid.ramp.shore_x_in, laid.ramp.shore_y_in) == shore
    sticks = [piece for piece in laid.pieces if piece.section == "ramp"]
    xs = min(p.x0_in for p in sticks), max(p.x1_in for p in sticks)
    ys = min(p.y0_in for p in sticks), max(p.y1_in for p in sticks)
    assert {xs[1] - xs[0], ys[1] - ys[0]} == {120, 48}


def test_it_lands_on_the_section_nearest_the_shore() -> None:
    assert lay(Ramp(96), Section("B", 96, 72, x_in=-96)).ramp.section == "B"


@pytest.mark.parametrize(("width_in", "stringers"), [(36, 4), (34, 4), (32, 3), (48, 4), (60, 5)])
def test_it_gives_the_ramp_stringers_its_boards_can_span(width_in: float, stringers: int) -> None:
    # Two up to 3 ft, three beyond, and no more than 16 in between for 5/4 boards (IRC Table R507.7).
    laid = lay(Ramp(96, width_in))
    sticks = [piece for piece in laid.pieces if piece.role == "ramp stringer"]
    assert len(sticks) == stringers and {piece.length_in for piece in sticks} == {96}
    across = sorted({p.x0_in for p in laid.pieces if p.role == "ramp cross member"})
    assert max(b - a for a, b in pairwise(across)) <= 24


@pytest.mark.parametrize(
    ("ramp", "field", "says"),
    [
        (Ramp(96, 84), "ramp.width_in", "The ramp is 84 in wide; the edge it lands on is 72 in."),
        (Ramp(96, 48, offset_in=10), "ramp.offset_in", "Put its middle between 24 in and 48 in"),
        (Ramp(288), "ramp.length_in", "the longest 2x8 in the catalogue is 240 in"),
        (Ramp(96, edge="lake"), "ramp.edge", "The ramp runs into section B."),
        (Ramp(96, section="Q"), "ramp.section", "There is no section Q."),
        (Ramp(96, bought_item="cleat"), "ramp.bought_item", "not listed as ramp"),
        (Ramp(96, bought_item="nothing"), "ramp.bought_item", "not in the catalogue"),
    ],
)
def test_it_refuses_a_ramp_that_cannot_be(ramp: Ramp, field: str, says: str) -> None:
    if ramp.edge == "lake":
        ramp = Ramp(96, section="A", edge="lake")
    assert says in faults(ramp, Section("B", 96, 72, x_in=192))[field]


def test_it_takes_a_bought_ramp_longer_than_any_stick_and_asks_for_an_engineer_beyond_20_ft() -> None:
    laid = lay(Ramp(300, bought_item="steel-ramp"))
    codes = {finding.code for finding in laid.findings}
    assert not [piece for piece in laid.pieces if piece.section == "ramp"]
    assert {"long_ramp", "bought"} <= codes


def test_it_says_rails_are_not_counted() -> None:
    assert "rails_not_counted" in {finding.code for finding in lay(Ramp(96, rails=True)).findings}
