"""Drawings for an authority: everything at its true place and size, nothing lettered over, a bar that measures."""

from dataclasses import replace
from itertools import combinations, pairwise
from math import hypot

import pytest

from contractor.quantities import say
from estimating.engine.drawing.canvas import touches
from estimating.engine.drawing.chain_shape import chain_points
from estimating.engine.drawing.cross_section import cross_section
from estimating.engine.drawing.permit_sheet import Drawn, PermitSheet
from estimating.engine.drawing.profile import DayLevel, profile
from estimating.engine.drawing.site_plan import Bounds, site_plan
from estimating.engine.permitted import SideLines
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from tests.drawing import docks, reading

LINES = Bounds(SideLines(240.0, 300.0), 120.0)
LETTER = PermitSheet(speak=lambda amount: say(amount.value, amount.unit), width_px=930, height_px=530)


def metric(amount: Amount) -> str:
    return say(amount.value, amount.unit, "metric")


METRIC = PermitSheet(speak=metric, metric=True, width_px=996, height_px=508)  # A4


def stormy(design: Design) -> Design:
    water = replace(design.spec.place.water, storm_in=70.0)
    return replace(design, spec=replace(design.spec, place=replace(design.spec.place, water=water)))


def every(design: Design, sheet: PermitSheet = LETTER) -> list[Drawn]:
    return [
        site_plan(design, LINES, sheet),
        profile(design, sheet, day=DayLevel("7 May", 36.0)),
        cross_section(design, sheet),
    ]


@pytest.mark.parametrize(("name", "sheet"), [*((name, LETTER) for name in docks.ALL), ("ell", METRIC), ("tee", METRIC)])
def test_it_fits_its_sheet_at_a_standard_scale_and_letters_nothing_twice(name: str, sheet: PermitSheet) -> None:
    for drawn in every(docks.ALL[name](), sheet):
        assert drawn.width_px <= sheet.width_px and drawn.height_px <= sheet.height_px
        assert "to the foot" in drawn.scale_words or drawn.scale_words.startswith("1:")
        box = reading.view_box(drawn.svg)
        for x, y in reading.coordinates(drawn.svg):
            assert box[0] <= x <= box[2] and box[1] <= y <= box[3]
        words = reading.lettered(drawn.svg)
        over = [(a, b) for (a, box_a), (b, box_b) in combinations(words, 2) if touches(box_a, box_b)]
        assert not over


def test_it_puts_side_lines_setbacks_and_anchors_where_they_are() -> None:
    design = docks.straight()
    drawn = site_plan(design, LINES, LETTER)
    sections = [reading.rect_box(mark) for mark in reading.parts(drawn.svg, "section")]
    lines = sorted(float(mark.get("y1")) for mark in reading.parts(drawn.svg, "line"))
    held = sorted(float(mark.get("y1")) for mark in reading.parts(drawn.svg, "setback"))
    top, bottom, right = min(s[1] for s in sections), max(s[3] for s in sections), max(s[2] for s in sections)
    # the landing is in the middle of 72 in: 240 - 36 to the left line, 300 - 36 to the right one
    assert (top - lines[0]) / drawn.scale == pytest.approx(204, abs=0.05)
    assert (lines[1] - bottom) / drawn.scale == pytest.approx(264, abs=0.05)
    assert [(held[0] - lines[0]) / drawn.scale, (lines[1] - held[1]) / drawn.scale] == pytest.approx(
        [120, 120], abs=0.05
    )
    shore = float(reading.parts(drawn.svg, "shoreline")[0].get("x1"))
    assert (min(s[0] for s in sections) - shore) / drawn.scale == pytest.approx(140, abs=5)  # 144 in of ramp, sloping
    anchors = [(float(m.get("cx")), float(m.get("cy"))) for m in reading.parts(drawn.svg, "anchor")]
    away = [((x - right) / drawn.scale, (top - y) / drawn.scale) for x, y in anchors]
    assert away[0] == pytest.approx((120, 120), abs=0.05)
    assert away[1] == pytest.approx((120, -192), abs=0.05)
    assert {"17′\u00a00″", "22′\u00a00″", "6′\u00a00″"} <= {
        words.replace(" ", "\u00a0") for words in reading.texts(drawn.svg)
    }


def test_it_says_what_lies_beyond_the_sheet_or_is_not_known() -> None:
    far = site_plan(docks.straight(), Bounds(SideLines(9000.0, None)), LETTER)
    assert "The right side line is not known." in reading.texts(far.svg)
    assert any("left side line lies 750" in words for words in reading.texts(far.svg))
    assert not reading.parts(far.svg, "line")
    assert not any("side line" in words for words in reading.texts(site_plan(docks.straight(), Bounds(), LETTER).svg))


def test_it_draws_five_levels_to_scale_and_names_each() -> None:
    drawn = profile(stormy(docks.straight()), LETTER, day=DayLevel("7 May", 36.0))
    heights = sorted({float(mark.get("y1")) for mark in reading.parts(drawn.svg, "level")})
    falls = [(low - high) / drawn.scale for high, low in pairwise(heights)]
    assert falls == pytest.approx([16, 12, 6, 18], abs=0.05)  # storm 70, high 54, normal 42, the day 36, low 18
    names = [words.rsplit(" ", 2)[0] for words in reading.texts(drawn.svg)]
    assert {"Storm", "High", "Normal", "7 May", "Low"} <= set(names)


def test_it_hangs_each_chain_between_its_corner_and_the_bottom() -> None:
    drawn = profile(docks.straight(), LETTER)
    (chain,) = reading.parts(drawn.svg, "chain")  # one behind the other
    points = reading.points(chain)
    assert (points[0][0] - points[-1][0]) / drawn.scale == pytest.approx(120, abs=0.1)
    # 72 in of water, and half the 7 1/4 in frame hangs so far above it: 18.2 - 1 - 3.625
    assert (points[0][1] - points[-1][1]) / drawn.scale == pytest.approx(72 + 18.2 - 1 - 3.625, abs=0.6)


@pytest.mark.parametrize(
    ("reach", "height", "length"),
    [(100, 80, 150), (100, 80, 129), (100, 80, 200), (60, 120, 140), (300, 40, 305), (10, 20, 40)],
)
def test_it_draws_as_much_chain_as_there_is(reach: float, height: float, length: float) -> None:
    points = chain_points(reach_in=reach, height_in=height, length_in=length)
    drawn = sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(points))
    heaped = max(length - reach - height, 0)  # what is left over lies in a heap
    assert drawn == pytest.approx(length - heaped, rel=2e-3)
    assert points[0] == (0, 0) and points[-1] == pytest.approx((reach, height), abs=1e-6)
    assert min(y for _, y in points) >= -1e-6


def test_it_draws_a_chain_that_is_too_short_straight() -> None:
    assert chain_points(reach_in=30, height_in=40, length_in=49) == [(0, 0), (30, 40)]


def test_it_cuts_the_section_to_scale() -> None:
    drawn = cross_section(docks.straight(), LETTER)
    (boards,) = reading.parts(drawn.svg, "boards")
    xs = [x for x, _ in reading.walked(boards.get("d"))]
    assert (max(xs) - min(xs)) / drawn.scale == pytest.approx(72, abs=0.05)
    ys = [y for mark in reading.parts(drawn.svg, "float") for _, y in reading.points(mark)]
    assert (max(ys) - min(ys)) / drawn.scale == pytest.approx(16, abs=0.05)
    assert len(reading.parts(drawn.svg, "stringer")) == 3
    with pytest.raises(KeyError):
        cross_section(docks.straight(), LETTER, mark="Z")


@pytest.mark.parametrize("sheet", [LETTER, METRIC])
def test_it_carries_a_bar_as_long_as_it_says(sheet: PermitSheet) -> None:
    for drawn in every(docks.ell(), sheet):
        boxes = [reading.rect_box(mark) for mark in reading.parse(drawn.svg).iter(f"{reading.SVG}rect")]
        bar = [box for box in boxes if box[3] - box[1] == pytest.approx(6, abs=0.02)][-4:]
        assert [a[2] for a in bar[:-1]] == pytest.approx([b[0] for b in bar[1:]], abs=0.02)
        long_in = (bar[-1][2] - bar[0][0]) / drawn.scale
        said = f"{long_in * 0.0254:.3g} m" if sheet.metric else f"{long_in / 12:.3g} ft"
        assert said in reading.texts(drawn.svg)
