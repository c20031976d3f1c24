"""A dock drawn under a load at its true heel and trim, from its end and from its side."""

from math import atan2, cos, degrees, hypot, radians, sin

import pytest

from estimating.engine.drawing import Outline, end_view, side_view, standing
from estimating.engine.proof import CornerAfloat, SectionAfloat
from estimating.engine.reasons import plain
from estimating.engine.spec import Section
from tests.drawing import docks, reading
from tests.drawing.test_draw_float_corners import case

A = Section("A", length_in=192, width_in=72)


def turned(section: Section, heel_deg: float, trim_deg: float) -> SectionAfloat:
    """A flat deck 20 in above water at its middle, left side and lake end down."""
    x0, y0, x1, y1 = docks.extent(section)
    out, across = sin(radians(trim_deg)) * (x1 - x0) / 2, sin(radians(heel_deg)) * (y1 - y0) / 2
    places = {
        "shore-right": (x0, y0, out + across),
        "lake-right": (x1, y0, across - out),
        "lake-left": (x1, y1, -out - across),
        "shore-left": (x0, y1, out - across),
    }
    corners = tuple(CornerAfloat(name, x, y, 20.0 + z, 6.0) for name, (x, y, z) in places.items())
    return SectionAfloat(section.mark, heel_deg, trim_deg, heel_deg, corners)


def outline(width_px: float = 222.0) -> Outline:
    return Outline(width_px, plain, "t", tallest_px=190.0)


def slope_deg(svg: str) -> float:
    """How far the deck drops to the right on the sheet."""
    (x0, y0), (x1, y1) = reading.points(reading.parts(svg, "deck")[0])[:2]
    return degrees(atan2(y1 - y0, x1 - x0))


@pytest.mark.parametrize("heel", [-21.0, -4.0, 0.0, 6.0, 15.0])
def test_it_draws_the_heel_looking_out_from_shore(heel: float) -> None:
    svg = end_view(docks.dock([A]), case(turned(A, heel, 0.0)), "A", None, outline())
    # left side down stands lower on the left of the sheet
    assert slope_deg(svg) == pytest.approx(-heel, abs=0.35)
    assert f"{abs(heel):g} degrees heel" in reading.texts(svg)


@pytest.mark.parametrize("trim", [-9.0, 0.0, 3.0])
def test_it_draws_the_trim_with_the_lake_to_the_right(trim: float) -> None:
    svg = side_view(docks.dock([A]), case(turned(A, 0.0, trim)), None, outline(326))
    assert slope_deg(svg) == pytest.approx(trim, abs=0.35)


def test_it_hangs_the_floats_square_under_the_deck() -> None:
    svg = end_view(docks.dock([A]), case(turned(A, 12.0, 0.0)), "A", None, outline())
    deck = reading.points(reading.parts(svg, "deck")[0])
    floats = [reading.points(mark) for mark in reading.parts(svg, "float")]
    assert len(floats) == 2
    scale = hypot(deck[1][0] - deck[0][0], deck[1][1] - deck[0][1]) / 72
    for (x0, y0), (x1, y1), (x2, y2), _ in floats:
        along, down = (x1 - x0, y1 - y0), (x2 - x1, y2 - y1)
        assert abs(along[0] * down[0] + along[1] * down[1]) < 1.0
        assert hypot(*along) / scale == pytest.approx(24, abs=0.3) and hypot(*down) / scale == pytest.approx(
            16, abs=0.3
        )


def test_it_stands_the_deck_as_high_above_the_water_as_the_proof_has_it() -> None:
    svg = end_view(docks.dock([A]), case(turned(A, 6.0, 2.0)), "A", None, outline())
    (left, right), water = reading.points(reading.parts(svg, "deck")[0])[:2], reading.parts(svg, "level")[0]
    scale = hypot(left[0] - right[0], left[1] - right[1]) / 72
    lake_left = 20 - 96 * sin(radians(2)) - 36 * sin(radians(6))
    assert (float(water.get("y1")) - left[1]) / scale == pytest.approx(lake_left, abs=0.2)
    assert f"{round(lake_left, 3):g}″" in reading.texts(svg)
    assert reading.parse(svg).find(f"{reading.SVG}title").text == "Section A at its lake end"


@pytest.mark.parametrize(("where", "across", "along"), [("A, left edge", 1, 5), ("A, lake end", 3, 1)])
def test_it_stands_people_along_their_edge(where: str, across: int, along: int) -> None:
    lies, crowd = case(turned(A, 5.0, 1.0)), standing(where, 5, 12.0)
    dock = docks.dock([A])
    end, side = end_view(dock, lies, "A", crowd, outline()), side_view(dock, lies, crowd, outline(326))
    assert len(reading.parts(end, "person")) == across and len(reading.parts(side, "person")) == along


def test_it_stands_the_person_so_far_in_from_the_edge() -> None:
    svg = end_view(docks.dock([A]), case(turned(A, 10.0, 0.0)), "A", standing("A, right edge", 1, 12.0), outline())
    (left, right) = reading.points(reading.parts(svg, "deck")[0])[:2]
    scale = hypot(left[0] - right[0], left[1] - right[1]) / 72
    feet = float(reading.parts(svg, "person")[0].get("x1"))
    assert (right[0] - feet) / scale == pytest.approx(12 * cos(radians(10)), abs=0.2)


def test_it_draws_sections_hinged_one_after_another() -> None:
    three = [Section(mark, length_in=160, width_in=60, x_in=160 * k) for k, mark in enumerate("ABC")]
    lies = case(turned(three[0], 0, -2.0), turned(three[1], 0, 0.0), turned(three[2], 0, 1.0))
    svg = side_view(docks.dock(three), lies, None, outline(326))
    assert [mark.get("data-mark") for mark in reading.parts(svg, "deck")] == ["A", "B", "C"]
    assert "2 degrees trim, A" in reading.texts(svg)
    left, top, right, low = reading.view_box(svg)
    assert right - left == 326
    assert all(left <= x <= right and top <= y <= low for x, y in reading.coordinates(svg))


def test_it_draws_nothing_of_a_dock_that_went_under() -> None:
    assert end_view(docks.dock([A]), case(), "", None, outline()) == ""
    assert side_view(docks.dock([A]), case(), None, outline()) == ""


@pytest.mark.parametrize(("where", "first"), [("A, left edge", "person"), ("A, right edge", "deck")])
def test_it_stands_people_at_the_far_edge_behind_the_dock(where: str, first: str) -> None:
    svg = side_view(docks.dock([A]), case(turned(A, 0.0, 0.0)), standing(where, 3, 12.0), outline(326))
    drawn = [mark.get("data-part") for mark in reading.parse(svg).iter() if mark.get("data-part") in ("person", "deck")]
    assert drawn[0] == first and drawn.count("person") == 3
