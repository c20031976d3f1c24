from math import sqrt

import pytest

from estimating.engine.anchors import chain_length_in, wander_in
from estimating.engine.design import design
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design
from estimating.engine.spec import Anchor, DepthPoint, DockSpec, Place, Section, Water
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

LEVELS = Water(low_in=0, normal_in=36, high_in=48)


def lay(*anchors: Anchor, water: Water = LEVELS, depths: tuple[DepthPoint, ...] = ()) -> Design:
    place = Place(water=water, depths=depths)
    return design(DockSpec("dock", (Section("A", 192, 72),), anchors=anchors, place=place), CATALOGUE, FIRM)


def codes(laid: Design) -> list[str]:
    return [finding.code for finding in laid.findings]


@pytest.mark.parametrize(
    ("depth_ft", "rise_ft", "fall_ft", "chain_ft", "wander_ft"), [(10, 1, 3, 15.9, 4), (30, 2, 18, 44.9, 13)]
)
def test_it_lays_chain_by_the_trade_rule(
    depth_ft: float, rise_ft: float, fall_ft: float, chain_ft: float, wander_ft: float
) -> None:
    # Common practice, no source. Neither figure counts a tie-off; the second rounds 44.9 from √(30² + 32²) + 1.
    chain = chain_length_in(reach_in=depth_ft * 12, high_depth_in=(depth_ft + rise_ft) * 12, tie_off_in=0)
    assert chain / 12 == pytest.approx(chain_ft, abs=0.05)
    wander = wander_in(chain_in=chain, low_depth_in=(depth_ft - fall_ft) * 12, reach_in=depth_ft * 12)
    assert wander / 12 == pytest.approx(wander_ft, abs=0.5)


def test_it_sets_the_weight_out_at_45_degrees_by_the_depth() -> None:
    laid = lay(Anchor("1", "A", "lake-left", depth_in=120), Anchor("2", "A", "shore-right", depth_in=120))
    first, second = laid.anchors
    aside = 120 / sqrt(2)
    assert (first.x_in, first.y_in) == (pytest.approx(192 + aside, abs=0.1), pytest.approx(72 + aside, abs=0.1))
    assert (second.x_in, second.y_in) == (pytest.approx(-aside, abs=0.1), pytest.approx(-aside, abs=0.1))
    # √(10² + 11²) + 1 for waves + 1 to tie off is 16.87 ft, cut at 17.
    assert first.chain_length_in == 17 * 12


def test_it_adds_the_chain_up() -> None:
    (anchor, _) = lay(Anchor("1", "A", "lake-left", depth_in=120), Anchor("2", "A", "lake-right")).anchors
    *_, straight, waves, tie_off, rounding, total = (step.amount.value for step in anchor.reason.steps)
    assert straight + waves + tie_off + rounding == pytest.approx(total)
    assert total == anchor.chain_length_in


def test_it_counts_unknown_depth_for_10_ft_or_the_deepest_sounding_and_says_so() -> None:
    bare = lay(Anchor("1", "A", "lake-left"), Anchor("2", "A", "lake-right", depth_in=60))
    (finding,) = [f for f in bare.findings if f.code == "depth_unknown"]
    assert "depth unknown. The chain is counted for 10 ft." in str(finding.headline)
    assert finding.field == "anchors[0].depth_in"
    assert bare.anchors[0].depth_in is None
    sounded = lay(Anchor("1", "A", "lake-left"), depths=(DepthPoint("end", 200, 96), DepthPoint("mid", 100, 40)))
    (finding,) = [f for f in sounded.findings if f.code == "depth_unknown"]
    assert "8 ft, the deepest sounding" in str(finding.headline)


def test_it_asks_for_two_anchors() -> None:
    assert "few_anchors" in codes(lay())
    assert "few_anchors" in codes(lay(Anchor("1", "A", "lake-left", depth_in=60)))
    pair = Anchor("1", "A", "lake-left", depth_in=60), Anchor("2", "A", "lake-right", depth_in=60)
    assert "few_anchors" not in codes(lay(*pair))


def test_it_says_high_water_is_unknown() -> None:
    pair = Anchor("1", "A", "lake-left", depth_in=60), Anchor("2", "A", "lake-right", depth_in=60)
    assert "high_water_unknown" in codes(lay(*pair, water=Water(normal_in=36)))
    assert "high_water_unknown" not in codes(lay(*pair))


@pytest.mark.parametrize(("chain_in", "told"), [(170, "chain_tight"), (190, "chain_short"), (210, None)])
def test_it_watches_chain_that_is_too_short(chain_in: float, told: str | None) -> None:
    # 10 ft out in 11 ft at high water: 178.4 in straight, 202.4 in with both allowances.
    laid = lay(Anchor("1", "A", "lake-left", dx_in=120, dy_in=0, depth_in=120, chain_length_in=chain_in))
    assert laid.anchors[0].chain_length_in == chain_in
    assert [code for code in codes(laid) if code in ("chain_tight", "chain_short")] == ([told] if told else [])


@pytest.mark.parametrize(
    ("anchor", "field"),
    [
        (Anchor("1", "Q", "lake-left"), "section"),
        (Anchor("1", "A", "middle"), "corner"),
        (Anchor("1", "A", "lake-left", item="chain"), "item"),
        (Anchor("1", "A", "lake-left", chain="rope"), "chain"),
        (Anchor("1", "A", "lake-left", depth_in=-5), "depth_in"),
        (Anchor("", "A", "lake-left"), "mark"),
    ],
)
def test_it_refuses_anchors_that_cannot_be(anchor: Anchor, field: str) -> None:
    with pytest.raises(SpecFaults) as refused:
        lay(anchor)
    assert [fault.field for fault in refused.value.faults] == [f"anchors[0].{field}"]
