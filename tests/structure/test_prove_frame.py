"""The frame proof of whole designs, held against statics done by hand and against what must be so for any dock."""

import json
import math
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.frame_result import CAUTION
from estimating.engine.reasons import SpecFaults
from estimating.engine.sources import SOURCES
from estimating.engine.spec import Decking, DockSpec, FloatPlace, Flotation, Framing, Joint, Ramp, Section
from estimating.engine.structure.cures import worst_use
from estimating.engine.structure.frame_proof import prove_frame
from estimating.engine.structure.sections import Framing as Reading
from estimating.engine.structure.sections import rests
from tests.engine.test_design_any_dock import EXAMPLES, choices

CATALOGUE, RULES = starter_catalogue()


def placed(*middles: tuple[float, float]) -> Flotation:
    return Flotation(item="float-24x48x16", placed=tuple(FloatPlace(u, v) for u, v in middles))


def rows_of_floats(columns: list[float], rows: list[float]) -> Flotation:
    return placed(*((u, v) for u in columns for v in rows))


SIX = rows_of_floats([24, 96, 168], [12, 60])


def proof(*sections: Section, live_psf: float = 30.0, catalogue=CATALOGUE, **more):
    drawn = design(DockSpec("dock", sections, **more), catalogue, RULES)
    return prove_frame(drawn, catalogue, RULES, live_load_psf=live_psf)


def framed(section: Section, live_psf: float = 30.0):
    drawn = design(DockSpec("dock", (section,)), CATALOGUE, RULES)
    return dict(Reading(drawn, CATALOGUE, RULES, live_psf).all())[section.mark]


def row(found, kind: str):
    return next(check for check in found.checks if check.kind == kind)


def test_the_check_dock_is_strong_enough() -> None:
    found = proof(Section("A", 192, 72, flotation=SIX))
    assert found.level == "fine" and found.preliminary and found.caution == CAUTION
    assert CAUTION == "Check on site. Not a substitute for an engineer where one is required."


def test_it_bends_a_stringer_between_float_centres_as_by_hand() -> None:
    # Statics: w L^2 / 8 over S. Inner 2x8s 23.5 in apart, floats 72 in apart, 30 psf and the dock itself.
    section = Section("A", 192, 72, flotation=SIX)
    dead = framed(section).dead_psf
    bent = row(proof(section), "span_bending")
    by_hand = (30 + dead) * 23.5 / 144 * 72**2 / 8 / 13.14
    assert bent.value.value == pytest.approx(by_hand, abs=0.6)
    # 2x8 Southern Pine, Fb 925 (from memory; the metric edition agrees), repetitive 1.15, wet 1.0 as 925 <= 1150.
    assert bent.limit.value == pytest.approx(925 * 1.15, abs=0.5)


def test_a_float_under_every_inch_leaves_little_to_bend_for() -> None:
    # Evenly loaded on an even bed a beam sinks straight: the moment comes from uneven loads alone.
    section = Section("A", 192, 72, flotation=rows_of_floats([24, 72, 120, 168], [12, 60]))
    rules = replace(RULES, flotation=replace(RULES.flotation, heavy_lb=0.0))
    drawn = design(DockSpec("dock", (section,)), CATALOGUE, rules)
    bent = row(prove_frame(drawn, CATALOGUE, rules, live_load_psf=0.0), "stringer_bending")
    assert bent.value.value < 25


def test_twice_the_people_never_ask_for_less() -> None:
    section = Section("A", 192, 72, flotation=SIX)
    little, much = proof(section, live_psf=20), proof(section, live_psf=40)
    for one, other in zip(little.checks, much.checks, strict=True):
        assert one.kind == other.kind
        assert other.utilisation >= one.utilisation - 1e-9


def test_every_float_is_shared_out_whole() -> None:
    read = framed(Section("A", 192, 96, flotation=rows_of_floats([24, 96, 168], [12, 48, 84])))
    under = sum(stiff for rest in rests(read) for _, _, stiff in rest.under)
    assert under == pytest.approx(9 * 24 * 48 * 62.4 / 1728)
    assert sum(rest.width_in for rest in rests(read)) == pytest.approx(96)


def test_a_turned_section_is_as_strong_as_one_that_is_not() -> None:
    straight, turned = Section("A", 192, 72), Section("A", 192, 72, turned=True)
    found = [proof(replace(section, flotation=SIX)) for section in (straight, turned)]
    for one, other in zip(found[0].checks, found[1].checks, strict=True):
        assert (one.kind, one.utilisation) == (other.kind, pytest.approx(other.utilisation))


def test_the_weakest_lumber_is_taken_where_nobody_knows_the_species() -> None:
    nameless = {code: replace(item, species="") for code, item in CATALOGUE.lumber.items()}
    section = Section("A", 192, 72, flotation=SIX)
    found = proof(section, catalogue=replace(CATALOGUE, lumber=nameless))
    assert row(found, "span_bending").utilisation > row(proof(section), "span_bending").utilisation
    (note,) = [finding for finding in found.findings if finding.code == "frame_species"]
    assert note.level == "note" and "the weakest listed is taken" in str(note.headline)


THREE = rows_of_floats([24, 120, 216], [12, 60])
WEAK = Section("A", 240, 72, framing=Framing(stringer="2x6", header="2x6", cross_member="2x6", stringer_count=4))


def test_the_cure_comes_to_what_it_says() -> None:
    section = Section("A", 240, 72, framing=Framing(stringer="2x8", stringer_count=4), flotation=THREE)
    found = proof(section, live_psf=40)
    (finding,) = [each for each in found.findings if each.code == "frame_stringer_bending"]
    assert (finding.level, finding.field) == ("stop", "sections[0].framing")
    more = replace(section, framing=replace(section.framing, stringer_count=7))
    deeper = replace(section, framing=replace(section.framing, stringer="2x10", header="2x10", cross_member="2x10"))
    by_more, by_depth = (re.search(r"(\d+) %", half)[1] for half in str(finding.cure).split("; or "))
    assert str(finding.cure).startswith("Three more stringers bring it to")
    assert round(worst_use(framed(more, 40)) * 100) == pytest.approx(int(by_more), abs=1)
    assert "2x10" in str(finding.cure)
    assert round(worst_use(framed(deeper, 40)) * 100) == pytest.approx(int(by_depth), abs=2)
    assert worst_use(framed(section, 40)) > 1


def test_a_cure_takes_no_more_than_it_needs() -> None:
    read = framed(Section("A", 240, 72, framing=Framing(stringer="2x8", stringer_count=4), flotation=THREE), 40)
    assert [worst_use(read.with_stringers(count)) <= 1 for count in (4, 5, 6, 7)] == [False, False, False, True]


def test_stringers_off_the_floats_hang_on_the_boards() -> None:
    section = Section("A", 192, 96, flotation=rows_of_floats([24, 96, 168], [12, 84]))
    found = proof(section)
    hung = row(found, "board_bending")
    # Simple beams of one board between the stringers over the floats, 47.25 in: w L^2 / 8 over 5.5 x 1.5^2 / 6.
    w = (30 + framed(section).dead_psf) * 5.5 / 144
    assert hung.value.value == pytest.approx(w * 47.25**2 / 8 / (5.5 * 1.5**2 / 6), abs=0.6)
    assert hung.level == "fine"


def test_stringers_off_the_floats_with_boards_along_are_a_check() -> None:
    decking = Decking(board="deck-2x6", direction="along")
    floats = rows_of_floats([24, 96, 168], [12, 84])
    found = proof(Section("A", 192, 96, decking=decking, flotation=floats))
    assert row(found, "idle_bending").level == "check"
    (finding,) = [each for each in found.findings if each.code.startswith("frame_idle")]
    assert str(finding.cure) == "Put a row of floats under them."


def test_a_ramp_asks_more_of_the_header_it_lands_on() -> None:
    section = Section("A", 192, 72, flotation=SIX)
    bare, landed = proof(section), proof(section, ramp=Ramp(144.0))
    assert row(landed, "tee").utilisation > row(bare, "tee").utilisation
    # Half of the people on a 4 x 12 ft ramp at 30 psf, and half of the ramp.
    ramp = row(landed, "ramp_joint")
    drawn = design(DockSpec("dock", (section,), ramp=Ramp(144.0)), CATALOGUE, RULES)
    assert ramp.value.value == pytest.approx(30 * 48 / 2 + drawn.ramp.reaction_lb, abs=1)


def test_a_hinge_between_like_sections_passes_an_eighth_of_the_people() -> None:
    # Two like uniform beds hinged at their ends: V = q L / 8. Floats under every inch make the beds uniform.
    floats = rows_of_floats([24, 72, 120, 168], [12, 60])
    pair = [Section(mark, 192, 72, x_in=x, flotation=floats) for mark, x in (("A", 0), ("B", 192))]
    found = proof(*pair, joints=(Joint("A", "B"),))
    assert row(found, "hinged_joint").value.value == pytest.approx(30 * 16 * 6 / 8, abs=1)


def test_it_needs_more_bolts_where_the_rule_is_too_light() -> None:
    rules = tuple(replace(rule, bolts=2) if rule.place == "tee" else rule for rule in CATALOGUE.joint_rules)
    found = proof(
        Section("A", 192, 72, flotation=SIX), ramp=Ramp(144.0), catalogue=replace(CATALOGUE, joint_rules=rules)
    )
    (finding,) = [each for each in found.findings if each.code == "frame_tee"]
    assert finding.level == "stop" and "1 more bolt in each member there brings it to" in str(finding.cure)


def test_slings_where_it_says_leave_the_stress_at_the_limit() -> None:
    lift = next(each for each in proof(replace(WEAK, flotation=THREE)).lifts[1:])
    assert lift.state == "whole" and not lift.at_ends
    per_in, long, apart = lift.weight_lb * 1.25 / 240, 240, lift.longest_between_in
    middle = per_in * long * (2 * apart - long) / 8
    over = per_in * (long - apart) ** 2 / 8
    borne = next(step.amount.value for step in lift.reason.steps if "bear together" in step.label.text)
    assert max(middle, over) == pytest.approx(borne, abs=1)


def test_a_reason_names_a_known_source_and_ends_in_its_share() -> None:
    found = proof(Section("A", 192, 72), Section("B", 192, 72, x_in=192), joints=(Joint("A", "B"),), ramp=Ramp(144.0))
    for check in found.checks:
        assert check.reason.source in SOURCES
        assert check.reason.steps[-1].total and check.reason.steps[-1].amount.value == check.percent
    assert all(finding.source in SOURCES for finding in found.findings)
    assert all(lift.reason.source in SOURCES for lift in found.lifts)


def test_it_refuses_people_who_lift_the_dock() -> None:
    with pytest.raises(ValueError):
        proof(Section("A", 192, 72), live_psf=-1)


lengths = st.sampled_from([96.0, 144.0, 192.0])


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(lengths, st.sampled_from([48.0, 72.0, 96.0]), choices(), st.floats(0, 100), st.booleans())
def test_any_dock_comes_to_plain_figures(length, width, chosen, live, turned) -> None:
    from tests.engine.catalogue_for_tests import CATALOGUE as SHOP
    from tests.engine.catalogue_for_tests import FIRM

    try:
        drawn = design(DockSpec("any", (Section("A", length, width, turned=turned, **chosen),)), SHOP, FIRM)
    except SpecFaults:
        return
    found = prove_frame(drawn, SHOP, FIRM, live_load_psf=live)
    for check in found.checks:
        assert check.level in ("fine", "check", "stop")
        assert math.isfinite(check.utilisation) and check.utilisation >= 0
        assert json.dumps([check.name, str(check.where), str(check.value)])
    for lift in found.lifts:
        assert (lift.longest_between_in is None) == (lift.level == "stop")
    assert all(str(finding.headline) and "{" not in str(finding.cure) for finding in found.findings)
