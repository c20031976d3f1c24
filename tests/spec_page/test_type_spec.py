"""A spec becomes text in boxes and the text becomes the spec again: nothing is lost on the way, whatever the units."""

from dataclasses import replace
from decimal import Decimal

import pytest
from django.http import QueryDict
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from contractor.company.models import Company
from estimating.engine.outline import OVERLAP_IN, box_of, near_pairs, overlap_in
from estimating.engine.spec import (
    Accessory,
    Allowance,
    Anchor,
    Decking,
    DockSpec,
    FloatPlace,
    Flotation,
    Framing,
    Hire,
    Joint,
    Ramp,
    Section,
    Work,
)
from jobs.records.documents.spec_results import open_books
from jobs.records.documents.spec_shapes import Sizes, lay_out, recognise, usual_joints
from jobs.records.forms.spec import SpecForm
from jobs.records.forms.spec_typed import typed_spec
from tests.jobs.conftest import TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.page]

ODD = DockSpec(
    "Ann's dock",
    (
        Section("A", 96.5, 72.0, framing=Framing(stringer="2x8", stringer_count=4)),
        Section(
            "B",
            96.0,
            70.0,
            x_in=96.5,
            y_in=-3.25,
            decking=Decking("5/4x6", "along", 0.25, 1.0),
            flotation=Flotation(placed=(FloatPlace(20.0, 12.0, True), FloatPlace(50.0, 14.125))),
        ),
    ),
    (Joint("B", "A", "rigid"),),
    Ramp(150.0, 40.0, "B", "left", 30.5, 77.77, "ledge", None, True),
    (
        Anchor("N1", "A", "shore-left", dx_in=-100.0, dy_in=3.0),
        Anchor("N2", "B", "lake-right", depth_in=80.4, chain_length_in=200.0),
    ),
    (Accessory("ladder", 1, "A", "right", 30.0), Accessory("cleat", 4)),
    work=Work(
        3,
        2,
        Decimal("1.50"),
        None,
        (Hire("barge", Decimal("1.00"), Decimal("300.00")),),
        (Allowance("diver", Decimal("250.00")),),
        (Allowance("town", Decimal("80.00")),),
        Decimal("7.50"),
    ),
    live_load_psf=22.5,
)


def read_back(spec: DockSpec, data: QueryDict | None = None) -> DockSpec:
    form = SpecForm(data or typed_spec(spec), base=spec, catalogue=open_books(on=TODAY).catalogue)
    assert form.is_valid(), [trouble.message.say() for trouble in form.troubles()]
    return form.spec()


@pytest.mark.parametrize("units", ["imperial", "metric"])
@pytest.mark.parametrize("shape", ["straight", "ell", "tee", "ewe", "fingers", "platform"])
def test_it_reads_a_usual_shape_back_to_the_last_bit(boss, shape: str, units: str) -> None:
    Company.objects.update(units=units)
    laid = lay_out(Sizes(shape, width_in=69.5, length_in=1500 / 25.4 * 7))
    spec = DockSpec("six", tuple(one.section for one in laid), usual_joints(laid))
    assert typed_spec(spec)["shape"] == shape
    assert read_back(spec) == spec


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_it_reads_a_dock_of_odd_sections_back_to_the_last_bit(boss, units: str) -> None:
    Company.objects.update(units=units)
    assert typed_spec(ODD)["shape"] == "free"
    assert read_back(ODD) == ODD


SHAPES = st.builds(
    Sizes,
    shape=st.sampled_from(["straight", "ell", "tee", "ewe", "fingers", "platform"]),
    width_in=st.floats(36, 120),
    length_in=st.floats(96, 900),
    count=st.none() | st.integers(1, 6),
    leg_length_in=st.floats(48, 400),
    leg_width_in=st.floats(36, 96),
    leg_side=st.sampled_from(["left", "right"]),
    head_length_in=st.floats(48, 400),
    head_width_in=st.floats(36, 96),
    fingers=st.integers(1, 5),
    finger_length_in=st.floats(48, 400),
    finger_width_in=st.floats(24, 60),
    finger_sides=st.sampled_from(["left", "right", "both"]),
    from_shore_in=st.floats(30, 5000),
)


def can_be_built(sizes: Sizes) -> bool:
    """Fingers no wider than their share of the walk, legs that leave a berth: anything else the engine names."""
    if sizes.shape == "fingers":
        return sizes.length_in / sizes.fingers >= sizes.finger_width_in
    return sizes.shape != "ewe" or sizes.length_in > 2 * sizes.leg_width_in


@given(SHAPES)
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_it_knows_a_shape_again_by_its_sections(sizes: Sizes) -> None:
    assume(can_be_built(sizes))
    laid = lay_out(sizes)
    spec = DockSpec("any", tuple(one.section for one in laid))
    known = recognise(spec)
    assert known is not None
    again = lay_out(known)
    for one, other in zip(laid, again, strict=True):
        assert one.section.mark == other.section.mark
        assert one.section.x_in == pytest.approx(other.section.x_in, abs=1e-5)
        assert one.section.length_in == pytest.approx(other.section.length_in, abs=1e-5)


@given(SHAPES)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_it_lays_sections_edge_to_edge_and_never_over_each_other(sizes: Sizes) -> None:
    assume(can_be_built(sizes))
    laid = lay_out(sizes)
    boxes = [box_of(one.section) for one in laid]
    assert all(overlap_in(boxes[i], boxes[j]) <= OVERLAP_IN for i, j in near_pairs(boxes))
    for one in laid:
        assert one.section.length_in <= 197 + 1e-6 or sizes.count or sizes.shape == "platform"


def test_it_splits_a_run_into_sections_that_can_be_moved() -> None:
    # common practice: up to 16 ft a section; 24 ft is two of 12, 40 ft is three of 13 ft 4 in
    for length_ft, count in ((6, 1), (16, 1), (17, 2), (24, 2), (40, 3), (100, 7)):
        laid = lay_out(Sizes("straight", length_in=length_ft * 12.0))
        assert len(laid) == count
        assert sum(one.section.length_in for one in laid) == pytest.approx(length_ft * 12)


def test_it_hinges_along_a_run_and_bolts_a_leg_on() -> None:
    laid = lay_out(Sizes("ell", length_in=288.0))
    assert [(j.first, j.second, j.kind) for j in usual_joints(laid)] == [("A", "B", "hinged"), ("B", "C", "rigid")]


def test_it_leaves_to_the_firm_what_nobody_typed(boss) -> None:
    data = QueryDict(mutable=True)
    data.update({"shape": "straight", "width": "6", "length": "16"})
    spec = read_back(DockSpec("x", (Section("A", 100.0, 50.0),)), data)
    (section,) = spec.sections
    assert (section.length_in, section.width_in) == (192, 72)
    assert section.framing == Framing() and section.flotation == Flotation()
    assert (spec.ramp, spec.anchors, spec.accessories, spec.work) == (None, (), (), Work())
    assert spec.title == "6′ 0″ × 16′ 0″ dock"


def test_it_gives_one_section_what_is_its_own_and_the_rest_what_is_common(boss) -> None:
    data = typed_spec(DockSpec("x", tuple(one.section for one in lay_out(Sizes(length_in=384.0)))))
    data.update({"gap": "3/16", "owns-B": "on", "own-B-gap": "1/4", "own-B-placed": "2'; 1'\n6' ; 1' ; turned"})
    a, b = read_back(DockSpec("x", (Section("A", 1.0, 1.0),)), data).sections
    assert (a.decking.gap_in, b.decking.gap_in) == (0.1875, 0.25)
    assert b.flotation.placed == (FloatPlace(24, 12), FloatPlace(72, 12, True))
    assert a.flotation.placed == ()


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_it_keeps_what_a_float_put_by_hand_has_of_its_own(boss, system: str) -> None:
    Company.objects.update(units=system)
    placed = (
        FloatPlace(18.0, 12.0, True, None, 48.0, 24.0, 15.75, 40.0, 500.0),
        FloatPlace(60.0, 36.0, height_in=12.5),
        FloatPlace(96.0, 36.0, True, shape="cylinder", length_in=96.0, width_in=24.0, weight_lb=150.0),
    )
    spec = DockSpec("x", tuple(one.section for one in lay_out(Sizes())))
    section = replace(spec.sections[0], flotation=replace(spec.sections[0].flotation, placed=placed))
    spec = replace(spec, sections=(section, *spec.sections[1:]))
    again = read_back(spec, typed_spec(spec)).sections[0].flotation.placed
    assert again == placed


def test_it_says_at_the_box_which_of_a_float_s_own_figures_cannot_be_read(boss) -> None:
    spec = DockSpec("x", tuple(one.section for one in lay_out(Sizes())))
    data = typed_spec(spec)
    data.update({"owns-A": "on", "own-A-placed": "18; 12; weighs much"})
    form = SpecForm(data, base=spec, catalogue=open_books(on=TODAY).catalogue)
    assert not form.is_valid()
    assert "weighs much" in str([part.errors for part in form.parts()])
