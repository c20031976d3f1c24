"""The small plan with the freeboard at the corners of a dock."""

import pytest

from estimating.engine.drawing import Outline, corner_plan, trims
from estimating.engine.proof import CaseProof, CornerAfloat, SectionAfloat
from estimating.engine.reasons import Sentence, plain
from estimating.engine.spec import Joint, Ramp, Section
from tests.drawing import docks, reading

A = Section("A", length_in=96, width_in=72)
B = Section("B", length_in=96, width_in=72, x_in=96)
HEIGHTS = {"shore-right": 0.0, "lake-right": 1.0, "lake-left": 3.0, "shore-left": 2.0}


def lying(section: Section, low_in: float) -> SectionAfloat:
    x0, y0, x1, y1 = docks.extent(section)
    places = {"shore-right": (x0, y0), "lake-right": (x1, y0), "lake-left": (x1, y1), "shore-left": (x0, y1)}
    corners = tuple(CornerAfloat(name, *at, low_in + HEIGHTS[name], 6.0) for name, at in places.items())
    return SectionAfloat(section.mark, 1.0, 1.0, 1.4, corners)


def case(*sections: SectionAfloat) -> CaseProof:
    name, outcome = Sentence("Dock alone, lumber wet"), "floats" if sections else "sinks"
    return CaseProof("dead_wet", name, "", "firm", 0, 0, 900, outcome, (), sections, (), 2700, None, None, ())


def outline(width_px: float = 222.0) -> Outline:
    return Outline(width_px, plain, "t")


def test_it_letters_each_corner_beside_the_corner() -> None:
    svg = corner_plan(docks.dock([A]), case(lying(A, 17.0)), outline())
    x0, y0, x1, y1 = reading.rect_box(reading.parts(svg, "section")[0])
    found = {words: box for words, box in reading.lettered(svg)}
    assert set(found) == {"17″", "18″", "19″", "20″"}
    # shore is to the left of the sheet, left side above; nothing of a figure on the deck itself
    nearest = {"17″": (x0, y1), "18″": (x1, y1), "20″": (x1, y0), "19″": (x0, y0)}
    for words, (x, y) in nearest.items():
        a, b, c, d = found[words]
        assert abs((a + c) / 2 - x) < 30 and abs((b + d) / 2 - y) < 22
        assert d < y0 or b > y1 or c < x0 or a > x1


@pytest.mark.parametrize(("kind", "figures"), [("rigid", 4), ("hinged", 6)])
def test_it_letters_hinges_but_not_rigid_joints(kind: str, figures: int) -> None:
    dock = docks.dock([A, B], joints=[Joint("A", "B", kind)])
    bent = [lying(A, 17.0), lying(B, 20.0)]
    svg = corner_plan(dock, case(*bent), outline())
    assert len(reading.lettered(svg)) == figures
    described = reading.parse(svg).find(f"{reading.SVG}desc").text
    assert described.count("Section") == 2 and "lake end right 21 in" in described


@pytest.mark.parametrize("width", [140.0, 222.0, 326.0])
def test_it_stays_within_its_width_and_to_scale(width: float) -> None:
    long = [Section(mark, length_in=240, width_in=48, x_in=240 * k) for k, mark in enumerate("ABC")]
    joints = [Joint("A", "B", "hinged"), Joint("B", "C", "hinged")]
    dock = docks.dock(long, joints=joints, ramp=Ramp(144, width_in=36))
    svg = corner_plan(dock, case(*(lying(s, 17.0) for s in long)), outline(width))
    left, top, right, low = reading.view_box(svg)
    assert right - left <= width + 0.01
    assert all(left <= x <= right and top <= y <= low for x, y in reading.coordinates(svg))
    boxes = [reading.rect_box(mark) for mark in reading.parts(svg, "section")]
    assert all(abs((x1 - x0) / (y1 - y0) - 5) < 0.1 for x0, y0, x1, y1 in boxes)
    assert len(reading.parts(svg, "ramp")) == 1


def test_it_letters_a_corner_under_water_below_zero() -> None:
    svg = corner_plan(docks.dock([A]), case(lying(A, -1.5)), outline())
    assert "-1.5″" in reading.texts(svg)


def test_it_draws_nothing_of_a_dock_that_is_not_afloat() -> None:
    assert corner_plan(docks.dock([A]), case(), outline()) == ""
    assert trims(case()) == () and trims(None) == ()


def test_it_lays_the_large_drawing_as_the_proof_has_it() -> None:
    (trim,) = trims(case(lying(A, 17.0)))
    assert (trim.shore_right_in, trim.lake_right_in, trim.lake_left_in, trim.shore_left_in) == (17, 18, 20, 19)
