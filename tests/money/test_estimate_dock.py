"""From a spec to a price, over random docks: everything is bought, everything adds up, more costs more."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Estimate
from estimating.engine.spec import (
    Accessory,
    Allowance,
    Anchor,
    DockSpec,
    Flotation,
    Hire,
    Joint,
    Place,
    Ramp,
    Section,
    Work,
)

CATALOGUE, RULES = starter_catalogue()
MARKS = "ABCDEFG"


def straight(lengths: list[float], width_in: float, ramp_in: float | None = None) -> DockSpec:
    starts = [sum(lengths[:n]) for n in range(len(lengths))]
    sections = tuple(
        Section(MARKS[n], length, width_in, x_in=starts[n], flotation=Flotation(item="float-24x48x16"))
        for n, length in enumerate(lengths)
    )
    joints = tuple(Joint(MARKS[n], MARKS[n + 1]) for n in range(len(lengths) - 1))
    anchors = (Anchor("1", "A", "shore-left", depth_in=72.0), Anchor("2", "A", "shore-right", depth_in=72.0))
    place = Place(bottom="sand", one_way_miles=10.0)
    ramp = Ramp(ramp_in) if ramp_in else None
    return DockSpec("Straight", sections, joints, ramp, anchors, place=place, live_load_psf=15.0)


LENGTHS = st.lists(st.integers(8 * 8, 20 * 8).map(lambda eighths: eighths * 1.5), min_size=1, max_size=4)
DOCKS = st.builds(straight, LENGTHS, st.integers(48, 120).map(float), st.none() | st.integers(48, 240).map(float))


def worked(dock: DockSpec) -> Estimate:
    """The estimate; a dock too small for its floats is another test’s business, and so is how it floats."""
    try:
        return estimate(dock, CATALOGUE, RULES, proof=False)
    except SpecFaults:
        reject()


@settings(max_examples=20, deadline=None)
@given(DOCKS)
def test_every_piece_and_board_is_sawn_from_a_stick_that_is_bought(dock):
    answer = worked(dock)
    sawn = Counter((code, length) for code, stick in answer.takeoff.sticks for _, length in stick.cuts)
    wanted = Counter((piece.item, piece.length_in) for piece in answer.design.pieces)
    for run in answer.design.boards:
        wanted[run.item, run.length_in] += run.count
    assert sawn == wanted
    packs = sum(line.packs for line in answer.takeoff.lines if line.group in ("framing lumber", "decking"))
    assert packs == len(answer.takeoff.sticks)


@settings(max_examples=20, deadline=None)
@given(DOCKS)
def test_what_the_design_counts_is_what_is_bought_and_paid(dock):
    answer = worked(dock)
    net = {line.code: line.net for line in answer.takeoff.lines}
    assert net["float-24x48x16"] == len(answer.design.floats)
    bolts = sum(joint.bolts for joint in answer.design.joints)
    assert sum(net.get(code, 0) for code in ("bolt-2-1/2", "bolt-4-1/2")) == bolts
    assert bolts == answer.design.bolt_count + answer.design.ramp_bolt_count
    assert answer.takeoff.materials_cost == sum(line.cost for line in answer.takeoff.lines)
    assert answer.labour.net_hours == sum(line.hours for line in answer.labour.lines)
    assert answer.labour.net_hours <= answer.labour.hours < answer.labour.net_hours + Decimal("0.25")
    assert sum(payment.amount for payment in answer.price.payments) == answer.price.total


@settings(max_examples=20, deadline=None)
@given(DOCKS, st.integers(1, 5))
def test_more_of_anything_never_costs_less(dock, more):
    price = worked(dock).price.break_even
    cleats = replace(dock, accessories=(Accessory("cleat", more),))
    anchors = tuple(Anchor(str(n + 3), "A", "lake-left", depth_in=72.0) for n in range(more))
    assert worked(cleats).price.break_even >= price
    assert worked(replace(dock, anchors=(*dock.anchors, *anchors))).price.break_even >= price


@settings(max_examples=20, deadline=None)
@given(LENGTHS, st.integers(48, 120).map(float))
def test_one_section_more_never_costs_less(lengths, width_in):
    costs = [worked(straight(lengths[: n + 1], width_in)).price.break_even for n in range(len(lengths))]
    assert costs == sorted(costs)


@settings(max_examples=15, deadline=None)
@given(DOCKS)
def test_every_line_has_a_reason_whose_steps_come_to_its_net_need(dock):
    for line in worked(dock).takeoff.lines:
        totals = [step.amount.value for step in line.reason.steps if step.total]
        assert totals == [line.net] or line.group in ("framing lumber", "decking")


@settings(max_examples=15, deadline=None)
@given(DOCKS)
def test_the_steps_of_lumber_come_to_its_net_need_and_to_what_is_bought(dock):
    for line in worked(dock).takeoff.lines:
        if line.group in ("framing lumber", "decking"):
            running, sums = Decimal(0), []
            for step in line.reason.steps:
                if step.total:
                    sums.append((running, step.amount.value))
                    running = Decimal(0)
                else:
                    running += step.amount.value
            assert [added == said for added, said in sums] == [True, True]


def test_a_spec_that_cannot_be_drawn_is_not_priced():
    with pytest.raises(SpecFaults, match=r"sections\[0\].length_in"):
        estimate(straight([0.0], 72.0), CATALOGUE, RULES)


def test_every_fault_of_dock_and_work_is_said_at_once():
    hire = Hire("Boat", Decimal(-1), Decimal("NaN"))
    work = Work(crew_size=0, trips=-1, equipment=(hire,), permit_fees=(Allowance("Fee", Decimal("-0.01")),))
    dock = replace(straight([0.0], 72.0), work=work, place=Place(one_way_miles=float("inf")))
    with pytest.raises(SpecFaults) as caught:
        estimate(dock, CATALOGUE, RULES)
    assert {fault.field for fault in caught.value.faults} >= {
        "sections[0].length_in",
        "work.crew_size",
        "work.trips",
        "work.equipment[0].days",
        "work.equipment[0].rate_per_day",
        "work.permit_fees[0].amount",
        "place.one_way_miles",
    }


def test_work_that_makes_no_sense_is_refused_on_a_sound_dock():
    with pytest.raises(SpecFaults, match="A crew is one person or more"):
        estimate(replace(straight([192.0], 72.0), work=Work(crew_size=0)), CATALOGUE, RULES)
