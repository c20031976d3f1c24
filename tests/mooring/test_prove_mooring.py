"""The mooring of whole docks: what is measured at every level, what is wrong said in words, and what the crew sets."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.mooring.crossing import crossed_chains
from estimating.engine.mooring.proof import prove_mooring
from estimating.engine.mooring.table import anchor_table
from estimating.engine.mooring_result import MooringProof
from estimating.engine.parts import MooringRules
from estimating.engine.pipeline import estimate
from estimating.engine.result_file import estimate_as_dict
from estimating.engine.spec import Anchor, Boat, DepthPoint, DockSpec, Joint, Place, Section, Water

CATALOGUE, RULES = starter_catalogue()
LEVELS = Water(datum="staff", low_in=0.0, normal_in=36.0, high_in=48.0, storm_in=60.0)
CORNERS = (("A", "shore-left"), ("A", "shore-right"), ("B", "lake-left"), ("B", "lake-right"))
CALM = replace(RULES, mooring=MooringRules(wind_mph=10.0))


def dock(depth_in: float = 120.0, water: Water = LEVELS, **more: object) -> DockSpec:
    anchor = {"depth_in": depth_in, "chain_length_in": None, "item": None}
    anchor.update({name: more.pop(name) for name in list(more) if name in (*anchor, "chain")})
    anchors = tuple(Anchor(str(n), section, corner, **anchor) for n, (section, corner) in enumerate(CORNERS, start=1))
    place = Place(water=water, bottom="sand", **more)
    sections = Section("A", 192.0, 72.0), Section("B", 192.0, 72.0, x_in=192.0)
    return DockSpec("Two sections", sections, (Joint("A", "B"),), None, anchors, place=place)


def proved(spec: DockSpec, rules=RULES) -> MooringProof:
    return prove_mooring(design(spec, CATALOGUE, rules), CATALOGUE, rules)


def said(proof: MooringProof) -> dict[str, str]:
    return {finding.code: f"{finding.level}: {finding.headline} {finding.cure}" for finding in proof.findings}


def test_chain_is_measured_for_the_highest_level_and_wanders_most_at_the_lowest():
    # By hand: 10 ft out, 12 ft deep in a storm: √(10² + 12²) = 15.62 ft, + 1 for waves + 1 to tie off, cut at 18 ft.
    anchor = proved(dock()).anchor("3")
    assert anchor.chain_length_in == 18 * 12
    assert [row.level for row in anchor.levels] == ["low", "normal", "high", "storm"]
    assert [row.depth_in for row in anchor.levels] == [84, 120, 132, 144]
    # 17 ft without the tie-off: √(17² − 7²) − 10 = 5.49 ft of wander at low, 17 − 15.62 = 1.38 ft of slack in a storm.
    assert anchor.at("low").wander_in == pytest.approx(5.49 * 12, abs=0.2)
    assert anchor.at("storm").slack_in == pytest.approx(1.38 * 12, abs=0.1)
    assert anchor.most_wander_in == anchor.at("low").wander_in


def test_the_published_rule_of_chain_to_depth_can_be_asked_for():
    # Town code of Falmouth, MA, 269-5: 2 to 2½ times the depth: here 2½ × 12 ft + 1 ft to tie off.
    asked = replace(RULES, mooring=MooringRules(least_scope=2.5))
    assert proved(dock(), asked).anchor("1").chain_length_in == (2.5 * 12 + 1) * 12


def test_a_chain_that_cannot_be_slack_pulls_the_dock_under():
    spec = dock(chain_length_in=14 * 12.0)
    answer = estimate(spec, CATALOGUE, RULES)
    (first, *_) = [finding for finding in answer.findings if finding.code == "chain_tight"]
    assert "14 ft" in first.headline.say(lambda amount: f"{float(amount.value) / 12:g} ft")
    assert "cannot be slack at storm water: it pulls the dock under" in str(first.headline)
    anchor = answer.mooring.anchor("1")
    assert anchor.level == "stop"
    assert anchor.at("storm").short_in > 0 and anchor.at("storm").slack_in == 0


def test_a_gale_drags_light_blocks_and_it_says_what_would_hold():
    words = said(proved(dock()))["anchor_drags"]
    assert words.startswith("stop: Anchors 1, 2, 3 and 4 drag in a wind of 45 mph")
    assert "Lay its chain flatter" in words and "lb of concrete" in words and "piles or cables" in words


def test_the_weight_it_names_does_hold():
    words = said(proved(dock()))["anchor_drags"]
    weight = float(words.split("set about ")[1].split(" lb")[0])
    heavy = replace(CATALOGUE.goods["anchor-350"], code="big", weight_lb=weight, submerged_weight_lb=None)
    catalogue = replace(CATALOGUE, goods={**CATALOGUE.goods, "big": heavy})
    proof = prove_mooring(design(dock(item="big"), catalogue, RULES), catalogue, RULES)
    assert "anchor_drags" not in said(proof)
    assert max(anchor.holding_share for anchor in proof.anchors) <= 1


def test_a_light_wind_leaves_them_where_they_are():
    proof = proved(dock(), CALM)
    assert proof.level == "fine"
    assert not [finding for finding in proof.findings if finding.level != "note"]


def test_a_stop_of_the_mooring_is_told_as_a_check_because_it_is_preliminary():
    answer = estimate(dock(), CATALOGUE, RULES)
    assert answer.mooring.preliminary and answer.mooring.level == "stop"
    assert {finding.level for finding in answer.findings if finding.code == "anchor_drags"} == {"check"}


def test_boats_and_current_add_to_what_is_held():
    bare = proved(dock()).docks[0]
    more = proved(replace(dock(current_kn=2.0), boats=(Boat(240.0),))).docks[0]
    assert all(b.total_lb > a.total_lb for a, b in zip(bare.pushes, more.pushes, strict=True))


def test_big_boats_and_waves_call_for_an_engineer():
    spec = replace(dock(fetch_mi=1.9), boats=(Boat(30 * 12.0, weight_lb=9000.0),))
    windy = replace(RULES, mooring=MooringRules(wave_wind_mph=60.0))
    codes = {finding.code for finding in estimate(spec, CATALOGUE, windy).engineer}
    assert {"engineer_boat_length_in", "engineer_boat_lb", "engineer_wave_in", "engineer_fetch_mi"} <= codes


def test_an_unknown_bottom_is_said_and_costs_holding():
    spec = replace(dock(), place=Place(water=LEVELS, bottom="unknown"))
    proof = proved(spec, CALM)
    assert "Bottom at anchors 1, 2, 3 and 4: unknown" in said(proof)["bottom_unsure"]
    assert {anchor.friction for anchor in proof.anchors} == {0.30}
    assert proof.level == "check"


def test_the_bottom_is_that_of_the_sounding_like_the_anchors_depth():
    depths = DepthPoint("near", 60.0, 30.0, "gravel"), DepthPoint("far", 400.0, 118.0, "clay")
    spec = replace(dock(), place=Place(water=LEVELS, bottom="sand", depths=depths))
    assert {anchor.bottom for anchor in proved(spec).anchors} == {"clay"}


def test_an_anchor_that_falls_dry_is_said():
    assert "fall dry at low water" in said(proved(dock(depth_in=30.0), CALM))["anchor_dry"]


def test_a_falling_reservoir_wants_visits_to_take_up_chain():
    # By the trade rule's own case: 30 ft deep, +2 and −18 ft: about 13 ft of wander at low. Common practice, no source.
    spec = dock(depth_in=360.0, water=Water(low_in=0.0, normal_in=216.0, high_in=240.0))
    proof = proved(spec, CALM)
    assert proof.anchor("1").at("low").wander_in / 12 == pytest.approx(13, abs=1.0)
    # 45 ft of chain without the tie-off, 30 ft out: 6 ft of wander at √(45² − 36²) = 27 ft, 3 ft below normal.
    wide = proved(spec, replace(RULES, mooring=MooringRules(wind_mph=10.0, wander_in=72.0)))
    reset = wide.resets[0]
    assert (reset.fall_in, reset.level_in) == (pytest.approx(36, abs=0.1), pytest.approx(180, abs=0.1))
    assert "Plan visits to take up chain" in said(wide)["reset_chains"]
    assert "From normal level down" in said(proof)["reset_chains"]


def test_levels_nobody_knows_leave_normal_alone():
    proof = proved(dock(water=Water(low_in=0.0)), CALM)
    assert [(level.name, level.level_in) for level in proof.levels] == [("normal", None)]


def test_a_dock_without_anchors_still_says_what_pushes_it():
    proof = proved(replace(dock(), anchors=()))
    assert (proof.anchors, proof.docks[0].drifts) == ((), ())
    assert proof.docks[0].pushes[4].wind_lb > proof.docks[0].pushes[0].wind_lb > 0
    answer = estimate(replace(dock(), anchors=()), CATALOGUE, RULES)
    assert "few_anchors" in {finding.code for finding in answer.findings}


def test_a_second_dock_without_an_anchor_is_said():
    apart = replace(dock(), sections=(*dock().sections, Section("C", 120.0, 72.0, y_in=400.0)))
    assert "No anchor holds section C" in said(proved(apart, CALM))["dock_unheld"]


def test_crossed_chains_are_found():
    laid = design(dock(), CATALOGUE, RULES).anchors
    assert crossed_chains(laid) == ()
    left, right = laid[0], laid[1]
    swapped = (replace(left, x_in=right.x_in, y_in=right.y_in), replace(right, x_in=left.x_in, y_in=left.y_in))
    assert crossed_chains(swapped) == (("1", "2"),)
    # From one corner they meet, and do not cross.
    assert crossed_chains((left, replace(right, corner_x_in=left.corner_x_in, corner_y_in=left.corner_y_in))) == ()


def test_a_heavy_chain_in_deep_water_pulls_the_floats_down():
    heavy = replace(CATALOGUE.goods["chain-5/16"], code="heavy", weight_lb=30.0)
    catalogue = replace(CATALOGUE, goods={**CATALOGUE.goods, "heavy": heavy})
    proof = prove_mooring(design(dock(depth_in=480.0, chain="heavy"), catalogue, CALM), catalogue, CALM)
    # By Archimedes: two chains of 26.2 lb/ft in the water hang 42 ft from B in a storm.
    pull = next(pull for pull in proof.pulls if pull.sections == ("B",))
    assert pull.hanging_lb == pytest.approx(2 * 42 * 30 * (1 - 62.4 / 490))
    assert "chain_pulls_down" in said(proof)


def test_a_chain_over_its_limit_is_said():
    weak = replace(CATALOGUE.goods["chain-5/16"], working_load_lb=300.0)
    catalogue = replace(CATALOGUE, goods={**CATALOGUE.goods, "chain-5/16": weak})
    assert (
        "it may carry 300 lb"
        in said(prove_mooring(design(dock(), catalogue, RULES), catalogue, RULES))["chain_overloaded"]
    )


@pytest.mark.parametrize(
    "forgotten", [{"chain_grade": ""}, {"chain_size_in": None}, {"weight_lb": 0.0, "chain_size_in": None}]
)
def test_a_chain_the_catalogue_knows_little_of_is_a_check(forgotten):
    vague = replace(CATALOGUE.goods["chain-5/16"], **forgotten)
    catalogue = replace(CATALOGUE, goods={**CATALOGUE.goods, "chain-5/16": vague})
    proof = prove_mooring(design(dock(), catalogue, CALM), catalogue, CALM)
    assert "chain_limit_unknown" in said(proof)
    assert ("chain_weight_unknown" in said(proof)) == ("weight_lb" in forgotten)


def test_the_crew_gets_depth_and_slack_of_the_day():
    laid = design(dock(), CATALOGUE, RULES)
    proof = prove_mooring(laid, CATALOGUE, RULES)
    row = anchor_table(laid, proof, 12.0)[2]
    # 24 in under normal: 8 ft deep; 10 ft out, so 12.81 ft straight; 17 ft of chain without the tie-off.
    assert (row.anchor, row.depth_in, row.chain_length_in) == ("3", 96, 216)
    assert row.straight_in == pytest.approx(12.81 * 12, abs=0.1)
    assert row.slack_in == pytest.approx((17 - 12.81) * 12, abs=0.1)
    assert row.slack.say(lambda amount: f"{float(amount.value):.0f} in") == "50 in of slack"
    assert "do not set" in str(anchor_table(laid, proof, 120.0)[2].slack)
    assert [row.depth_in for row in anchor_table(laid, proof, None)] == [120.0] * 4


def test_a_day_whose_level_means_nothing_here_has_no_depth():
    laid = design(dock(water=Water()), CATALOGUE, RULES)
    rows = anchor_table(laid, prove_mooring(laid, CATALOGUE, RULES), 12.0)
    assert {(row.depth_in, str(row.slack)) for row in rows} == {(None, "level not known")}


def test_the_answer_file_carries_the_mooring():
    answer = estimate_as_dict(estimate(dock(), CATALOGUE, RULES))["mooring"]
    assert (answer["verdict"], answer["preliminary"], len(answer["anchors"])) == ("stop", True, 4)
    assert len(answer["docks"][0]["drifts"]) == 16 * 4
    assert "findings" not in answer
    assert answer["anchors"][0]["holding_reason"]["source"] == "DM_7_02"
    assert estimate_as_dict(estimate(dock(), CATALOGUE, RULES, proof=False))["mooring"] is None


WATERS = st.builds(
    lambda low, rise, storm: Water(low_in=-low, normal_in=0.0, high_in=rise, storm_in=rise + storm),
    *(st.floats(0, 240), st.floats(0, 60), st.floats(0, 60)),
)


@settings(max_examples=15)
@given(WATERS, st.floats(24, 480), st.one_of(st.none(), st.floats(24, 900)))
def test_slack_is_never_negative_and_wander_goes_with_it(water, depth, chain):
    for anchor in proved(dock(depth_in=depth, water=water, chain_length_in=chain), CALM).anchors:
        assert all(row.slack_in >= 0 and row.short_in >= 0 for row in anchor.levels)
        assert all(row.slack_in == 0 or row.short_in == 0 for row in anchor.levels)
        assert all((row.wander_in > 1e-9) <= (row.slack_in > 0) for row in anchor.levels)
        slacks, wanders = ([getattr(row, name) for row in anchor.levels] for name in ("slack_in", "wander_in"))
        assert slacks == sorted(slacks, reverse=True) and wanders == sorted(wanders, reverse=True)
        if chain is None:
            assert all(row.short_in == 0 for row in anchor.levels)
            assert anchor.levels[-1].slack_in >= MooringRules().waves_in - 1e-6


@settings(max_examples=10)
@given(st.floats(5, 60), st.floats(1.05, 2))
def test_chains_are_pulled_harder_in_more_wind(wind, more):
    weak, strong = (
        proved(dock(), replace(RULES, mooring=MooringRules(wind_mph=speed))) for speed in (wind, wind * more)
    )
    for before, after in zip(weak.anchors, strong.anchors, strict=True):
        assert after.most_tension_lb >= before.most_tension_lb * (1 - 1e-9)


def test_the_chain_that_is_bought_is_that_of_the_highest_level():
    # Four chains of 18 ft, measured for storm water; at high water 17 ft would do.
    (line,) = [line for line in estimate(dock(), CATALOGUE, RULES).takeoff.lines if line.code == "chain-5/16"]
    assert line.net == 4 * 18
    calm = estimate(dock(water=replace(LEVELS, storm_in=None)), CATALOGUE, RULES).takeoff
    assert next(line.net for line in calm.lines if line.code == "chain-5/16") == 4 * 17
