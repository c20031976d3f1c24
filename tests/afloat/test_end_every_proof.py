"""Whatever is drawn, its proof ends every case in one of four ways, with figures that are numbers."""

import os
from dataclasses import asdict, replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimating.engine.afloat.model import model_of
from estimating.engine.afloat.places import Loading
from estimating.engine.afloat.remedies import body_loadings
from estimating.engine.afloat.screening import Stiffness
from estimating.engine.afloat.solving import loadings, solve
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.parts import OwnCase
from estimating.engine.pipeline import estimate
from estimating.engine.proof import OUTCOMES
from estimating.engine.reasons import SpecFaults
from estimating.engine.sources import SOURCES
from estimating.engine.spec import DockSpec, FloatPlace, Flotation, Joint, Ramp, Section
from tests.afloat.docks import STARTER, STARTER_RULES, asking, laid
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

EXAMPLES = int(os.environ.get("WHARFWRIGHT_TEST_EXAMPLES", "40"))
SETS = ("firm", "landing-float", "reservoir-dock", "lake-town")


@st.composite
def sections(draw, mark: str, x_in: float, y_in: float = 0.0) -> Section:
    length, width = draw(st.sampled_from([96.0, 144.0, 192.0])), draw(st.sampled_from([36.0, 48.0, 72.0]))
    item = st.sampled_from([None, "float-24x36x16", "float-36x48x16", "float-24x48x12", "float-round-24x96"])
    kind = draw(st.integers(0, 2))
    flotation = Flotation(item=draw(item))
    if kind == 1:
        flotation = Flotation(rows=2, columns=draw(st.integers(1, 3)))
    elif kind == 2:
        pipe = draw(st.sampled_from([{}, {"shape": "cylinder", "width_in": 16.0}]))
        turned = draw(st.booleans())
        spots = [FloatPlace(u, width / 2, turned, **pipe, weight_lb=draw(st.sampled_from([None, 20.0, 90.0])),
                            lift_lb=draw(st.sampled_from([None, 5.0, 400.0]))) for u in (24, length - 24)]  # fmt: skip
        flotation = Flotation(placed=tuple(spots[: draw(st.integers(1, 2))]))
    return Section(mark, length, width, x_in, y_in, flotation=flotation)


@st.composite
def specs(draw) -> DockSpec:
    parts, joints, x = [], [], 0.0
    for mark in ("A", "B", "C")[: draw(st.integers(1, 3))]:
        parts.append(draw(sections(mark, x)))
        x += parts[-1].length_in
        if len(parts) > 1:
            joints.append(Joint(parts[-2].mark, mark, draw(st.sampled_from(["hinged", "rigid"]))))
    ramp = Ramp(144.0, 36.0) if draw(st.booleans()) else None
    return DockSpec("random", tuple(parts), tuple(joints), ramp, live_load_psf=draw(st.sampled_from([5.0, 20.0, 60.0])))


OWN = OwnCase("own-1", "Choir", "end", people=9), OwnCase("own-2", "Stove", "spread", load_lb=2500.0)


def numbers(value):
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from numbers(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from numbers(inner)


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(specs(), st.sets(st.sampled_from(SETS)))
def test_every_case_ends_in_one_of_four_ways(spec, chosen):
    rules = asking(STARTER_RULES, rule_sets=tuple(name for name in SETS if name in chosen), own_cases=OWN)
    try:
        answer = estimate(spec, STARTER, rules)
    except SpecFaults:
        return
    proof = answer.afloat
    assert {case.kind for case in proof.cases} >= {"dead_wet", "dead_seasoned", "spread", "half", "edge", "point"}
    for case in proof.cases:
        assert case.outcome in OUTCOMES
        assert bool(case.sections) == (case.outcome in OUTCOMES[:2])
        assert bool(case.turns) == (case.outcome != "floats")
        assert (case.outcome == "sinks") <= (case.reserve_lb <= 0 or len(proof.groups) > 1)
        if case.turns:
            assert case.turns[-1].outcome == case.outcome
            assert 0 <= case.turns[-1].live_lb <= case.live_lb + 1e-6
    assert all(value == value and abs(value) < 1e9 for value in numbers(asdict(proof)))
    assert all(0 <= count.posted <= count.holds for count in proof.people)
    assert all(finding.source in SOURCES and finding.cure.say() for finding in proof.findings)
    assert len({finding.key for finding in answer.findings}) == len(answer.findings)


@settings(max_examples=EXAMPLES // 2, deadline=None, suppress_health_check=list(HealthCheck))
@given(specs())
def test_the_places_picked_are_the_worst_ones(spec):
    """Every place of every kind solved: none is lower by half an inch than the one the screening picked."""
    spec = replace(spec, sections=tuple(replace(s, flotation=Flotation()) for s in spec.sections))
    try:
        design = laid(spec)
    except SpecFaults:
        return
    model = model_of(design, CATALOGUE, FIRM)
    dock = DockAfloat(model.assembly)
    picked = solve(dock, model, loadings(model, FIRM, Stiffness.of(model)))
    every: list[Loading] = []
    for body in range(len(model.assembly.bodies)):
        own = (one for one in body_loadings(model, FIRM, body) if one.kind in ("edge", "end", "point"))
        every += [replace(one, loads=tuple(replace(load, body=body) for load in one.loads)) for one in own]
    for kind in {one.kind for one in every}:
        alike = [one.level for one in solve(dock, model, [one for one in every if one.kind == kind])]
        chosen = [one.level for one in picked if one.loading.kind == kind]
        if all(level.bodies for level in alike):
            lowest = min(level.least_freeboard_in for level in alike)
            assert min(level.least_freeboard_in for level in chosen) == pytest.approx(lowest, abs=0.5)
