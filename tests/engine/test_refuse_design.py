from dataclasses import replace
from math import inf, nan

import pytest

from estimating.engine.design import design
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import (
    Accessory,
    Decking,
    DepthPoint,
    DockSpec,
    FloatPlace,
    Flotation,
    Framing,
    Joint,
    Place,
    Ramp,
    Section,
    Water,
)
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

A = Section("A", 192, 72)
B = Section("B", 192, 72, x_in=192)


def faults(spec: DockSpec, catalogue=CATALOGUE) -> dict[str, str]:
    with pytest.raises(SpecFaults) as refused:
        design(spec, catalogue, FIRM)
    told = {fault.field: str(fault.message) for fault in refused.value.faults}
    assert all(message.endswith(".") for message in told.values())
    return told


@pytest.mark.parametrize("nonsense", [None, 0, -12, nan, inf, 5, 99_999, "16", True])
@pytest.mark.parametrize("field", ["length_in", "width_in"])
def test_it_refuses_sizes_that_cannot_be_and_says_the_range(field: str, nonsense: object) -> None:
    told = faults(DockSpec("dock", (replace(A, **{field: nonsense}),)))
    assert list(told) == [f"sections[0].{field}"]
    low, high = ("24 in", "1200 in") if field == "length_in" else ("12 in", "720 in")
    (message,) = told.values()
    assert message.startswith(("Length", "Width")) and "section A" in message
    assert f"between {low} and {high}" in message


def test_it_names_every_fault_at_once() -> None:
    section = Section("A", -1, nan, framing=Framing(stringer_count=1), decking=Decking(direction="up", gap_in=9))
    told = faults(DockSpec("dock", (section,), ramp=Ramp(0, -1), live_load_psf=-3))
    assert set(told) == {
        "sections[0].length_in",
        "sections[0].width_in",
        "sections[0].framing.stringer_count",
        "sections[0].decking.direction",
        "sections[0].decking.gap_in",
        "ramp.length_in",
        "ramp.width_in",
        "live_load_psf",
    }


@pytest.mark.parametrize(
    ("spec", "field", "says"),
    [
        (DockSpec("dock", ()), "sections", "at least one section"),
        (DockSpec("dock", (A, replace(B, mark="A"))), "sections[1].mark", "Mark A is used twice"),
        (DockSpec("dock", (replace(A, mark=" "),)), "sections[0].mark", "Give this section a mark"),
        (DockSpec("dock", (replace(A, mark="ramp"),)), "sections[0].mark", "kept for the ramp"),
        (DockSpec("dock", (A, replace(B, x_in=180))), "sections[1].x_in", "A and B lie over each other by 12 in"),
        (DockSpec("dock", (A, replace(B, x_in=250)), (Joint("A", "B"),)), "joints[0].second", "do not touch"),
        (DockSpec("dock", (A, replace(B, x_in=192, y_in=72)), (Joint("A", "B"),)), "joints[0].second", "do not touch"),
        (DockSpec("dock", (A, B), (Joint("A", "A"),)), "joints[0].second", "named twice"),
        (DockSpec("dock", (A, B), (Joint("A", "B"), Joint("B", "A"))), "joints[1].second", "joined twice"),
        (DockSpec("dock", (A, B), (Joint("A", "C"),)), "joints[0].second", "no section C"),
        (DockSpec("dock", (A, B), (Joint("A", "B", "glued"),)), "joints[0].kind", "hinged, rigid"),
        (DockSpec("dock", (A,), accessories=(Accessory("piano"),)), "accessories[0].item", "not in the catalogue"),
        (DockSpec("dock", (A,), accessories=(Accessory("cleat", 0),)), "accessories[0].quantity", "between 1"),
        (DockSpec("dock", (A,), accessories=(Accessory("cleat", offset_in=99),)), "accessories[0].offset_in", "72 in"),
        (DockSpec("dock", (A,), place=Place(Water(low_in=9, high_in=3))), "place.water.low_in", "cannot be above high"),
        (DockSpec("dock", (A,), place=Place(Water("beer"))), "place.water.kind", "fresh, brackish, salt"),
        (DockSpec("dock", (A,), place=Place(depths=(DepthPoint("end", 9, nan),))), "place.depths[0].depth_in", "Depth"),
    ],
)
def test_it_names_what_does_not_fit_together(spec: DockSpec, field: str, says: str) -> None:
    assert says in faults(spec)[field]


@pytest.mark.parametrize(
    ("section", "field"),
    [
        (replace(A, framing=Framing(stringer="oak")), "framing.stringer"),
        (replace(A, framing=Framing(header="5/4x6")), "framing.header"),
        (replace(A, decking=Decking(board="2x8")), "decking.board"),
        (replace(A, flotation=Flotation(item="barrel")), "flotation.item"),
        (replace(A, flotation=Flotation(placed=(FloatPlace(30, 12, item="barrel"),))), "flotation.placed[0].item"),
        (replace(A, flotation=Flotation(rows=2.5)), "flotation.rows"),
        (replace(A, flotation=Flotation(columns=0)), "flotation.columns"),
    ],
)
def test_it_refuses_items_the_catalogue_does_not_have(section: Section, field: str) -> None:
    assert list(faults(DockSpec("dock", (section,)))) == [f"sections[0].{field}"]


def test_it_refuses_lumber_without_stock() -> None:
    lumber = CATALOGUE.lumber | {"2x8": replace(CATALOGUE.lumber["2x8"], sticks=())}
    told = faults(DockSpec("dock", (A,)), replace(CATALOGUE, lumber=lumber))
    assert "no stock length" in told["sections[0].framing.stringer"]


def test_it_warns_of_unusual_sizes_and_builds_them() -> None:
    # Soft limits: sections 8 to 20 ft long and 3 to 12 ft wide, 60 to 800 sq ft in all.
    usual = design(DockSpec("dock", (A,)), CATALOGUE, FIRM)
    small = design(DockSpec("dock", (Section("A", 84, 48),), live_load_psf=10), CATALOGUE, FIRM)
    wide = design(DockSpec("dock", (Section("A", 120, 156),)), CATALOGUE, FIRM)
    fields = [[f.field for f in laid.findings if f.code == "unusual_size"] for laid in (usual, small, wide)]
    assert fields == [[], ["sections[0].length_in", "sections"], ["sections[0].width_in"]]


def test_it_notes_docks_that_stand_apart() -> None:
    laid = design(DockSpec("dock", (A, replace(B, x_in=900))), CATALOGUE, FIRM)
    (finding,) = [f for f in laid.findings if f.code == "separate_docks"]
    assert (finding.level, str(finding.headline)) == ("note", "2 separate docks: A; B.")


def test_it_tells_the_worst_first() -> None:
    grid = Flotation(rows=2, columns=2)
    laid = design(DockSpec("dock", (replace(A, flotation=grid), B), live_load_psf=40), CATALOGUE, FIRM)
    levels = [f.level for f in laid.findings]
    assert levels == sorted(levels, key=("stop", "check", "note").index) and levels[0] == "stop"


def test_it_says_once_what_holds_for_several_sections() -> None:
    sections = tuple(
        Section(mark, 192, 72, x_in=192 * k, decking=Decking(gap_in=0.125)) for k, mark in enumerate("ABC")
    )
    laid = design(DockSpec("dock", sections), CATALOGUE, FIRM)
    told = [str(f.headline) for f in laid.findings if f.code in ("narrow_rip", "joint_filled")]
    assert told == [
        "The last board of sections A, B and C is only 0.75 in wide.",
        "Sections touch at A-B and B-C: counted as hinged.",
    ]
