"""Draft under load against the depth at low water, at every measured point and every section end."""

import pytest

from estimating.engine.design import design
from estimating.engine.result import Design
from estimating.engine.spec import DepthPoint, DockSpec, Place, Ramp, Section, Water
from estimating.engine.water.grounding import Grounding, grounding, grounding_findings
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

WATER = Water(datum="staff", low_in=0.0, normal_in=24.0, high_in=36.0)


def lay(*depths: tuple[str, float, float], ramp: Ramp | None = None, water: Water = WATER) -> Design:
    points = tuple(DepthPoint(*depth) for depth in depths)
    sections = (Section("A", 192, 72), Section("B", 96, 72, x_in=192))
    return design(DockSpec("dock", sections, ramp=ramp, place=Place(water=water, depths=points)), CATALOGUE, FIRM)


def at_low(laid: Design) -> Grounding:
    return grounding(laid, level="low", level_in=0.0)


def drafts(laid: Design) -> dict[str, float]:
    return {mark: group.draft_live_in for group in laid.level for mark in group.sections}


def test_it_takes_the_draft_under_load_from_the_depth_at_low_water() -> None:
    laid = lay(("near", 60, 30), ("far", 240, 54))
    found = {sounding.place: sounding for sounding in at_low(laid).soundings}
    # 30 in at normal is 6 in at low water, 24 in lower
    assert found["near"].depth_in == 6 and found["near"].section == "A"
    assert found["near"].under_in == pytest.approx(6 - drafts(laid)["A"])
    # by hand: the lake end of A, 192 in out, lies 132/180 of the way from 30 to 54 in
    assert found["lake end of A"].depth_in == pytest.approx(30 + 24 * 132 / 180 - 24)
    assert found["shore end of B"].depth_in == found["lake end of A"].depth_in
    assert "shore end of A" not in found and "lake end of B" not in found  # beyond what was measured


def test_it_names_the_sections_that_sit_on_the_bottom() -> None:
    laid = lay(("near", 0, 26), ("far", 288, 60))
    found = at_low(laid)
    assert found.aground == ("A",)
    aground, *_ = grounding_findings(found, clearance_in=0)
    assert (aground.level, aground.code) == ("check", "aground")
    assert "Section A sits on the bottom at low water: 0.17 ft of water at near" in str(aground.headline)


@pytest.mark.parametrize(("spare_in", "warned"), [(0.0, False), (-0.01, True)])
def test_it_is_exact_at_the_clearance_that_is_asked(spare_in: float, warned: bool) -> None:
    deepest = max(drafts(lay()).values())
    laid = lay(("near", 0, 24 + deepest + 12 + spare_in), ("far", 288, 24 + deepest + 12 + spare_in))
    codes = [finding.code for finding in grounding_findings(at_low(laid), clearance_in=12)]
    assert ("clearance" in codes) == warned and "aground" not in codes


def test_it_reaches_out_as_far_as_the_ramp_does_at_that_level() -> None:
    # the hinge 5 ft above the deck at low water: a 13 ft ramp reaches 12 ft out (5, 12, 13)
    plain = lay(("x", 500, 99))
    deck = next(group.freeboard_wet_in for group in plain.level if "A" in group.sections)
    ramp = Ramp(156, hinge_level_in=60 + deck)
    with_ramp = lay(("x", 500, 99), ramp=ramp)
    deck = next(group.freeboard_wet_in for group in with_ramp.level if "A" in group.sections)
    laid = lay(("in", 144.5, 99), ("out", 431, 99), ("far", 433, 99), ramp=Ramp(156, hinge_level_in=60 + deck))
    sections = [(s.place, s.section) for s in at_low(laid).soundings if s.measured]
    assert sections == [("in", "A"), ("out", "B"), ("far", "")]


def test_it_says_under_which_section_no_depth_was_measured() -> None:
    found = at_low(lay(("near", 30, 99)))
    assert found.unmeasured == ("B",)
    [note] = grounding_findings(found, clearance_in=12)
    assert note.level == "note" and "under section B" in str(note.headline)


@pytest.mark.parametrize(
    ("depths", "water"), [((), WATER), ((("near", 30, 99),), Water(low_in=0.0)), ((("near", 30, 99),), Water())]
)
def test_it_says_nothing_where_nothing_is_known(depths: tuple, water: Water) -> None:
    laid = lay(*depths, water=water)
    found = grounding(laid, level="low", level_in=water.low_in)
    assert found is None and grounding_findings(found, clearance_in=12) == []
