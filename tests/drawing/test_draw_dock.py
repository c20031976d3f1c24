"""A drawing is a measurement: these read the SVG back and hold it against the inches it was drawn from."""

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import pytest

from contractor.quantities import say
from estimating.engine.drawing import Sheet, Trim, draw, plan_and_elevation
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from estimating.engine.spec import Place, Water
from tests.drawing import docks, reading

every_dock = pytest.mark.parametrize("dock", docks.ALL.values(), ids=docks.ALL)
every_sheet = pytest.mark.parametrize(
    "wanted",
    [{"width_px": 776}, {"width_px": 326, "wide": False}, {"width_px": 706, "style": "paper"}],
    ids=["screen", "phone", "paper"],
)


def feet(amount: Amount) -> str:
    return say(amount.value, amount.unit, "imperial")


def metres(amount: Amount) -> str:
    return say(amount.value, amount.unit, "metric")


def svg_of(design: Design, **wanted: object) -> str:
    return plan_and_elevation(design, **{"width_px": 776, "speak": feet, "prefix": "d"} | wanted)


def scale_of(svg: str) -> float:
    return float(reading.parse(svg).get("data-scale"))


@every_dock
@every_sheet
def test_it_draws_every_section_to_one_scale_both_ways(dock: Callable[[], Design], wanted: dict) -> None:
    design = dock()
    svg = svg_of(design, **wanted)
    scale = scale_of(svg)
    outlines = {mark.get("data-mark"): reading.rect_box(mark) for mark in reading.parts(svg, "section")}
    for section in design.spec.sections:
        x0, y0, x1, y1 = docks.extent(section)
        px0, py0, px1, py1 = outlines[section.mark]
        assert px1 - px0 == pytest.approx((x1 - x0) * scale, abs=0.03)
        assert py1 - py0 == pytest.approx((y1 - y0) * scale, abs=0.03)
        first = outlines[design.spec.sections[0].mark]
        assert px0 - first[0] == pytest.approx((x0 - design.spec.sections[0].x_in) * scale, abs=0.03)


@every_dock
@every_sheet
def test_it_keeps_every_mark_and_word_inside_the_sheet(dock: Callable[[], Design], wanted: dict) -> None:
    svg = svg_of(dock(), **wanted)
    left, top, right, bottom = reading.view_box(svg)
    for x, y in reading.coordinates(svg):
        assert left <= x <= right and top <= y <= bottom
    for words, (x0, y0, x1, y1) in reading.lettered(svg):
        assert left <= x0 and x1 <= right and top <= y0 and y1 <= bottom, words


@every_dock
@every_sheet
def test_it_letters_nothing_over_other_lettering(dock: Callable[[], Design], wanted: dict) -> None:
    for (one, a), (other, b) in combinations(reading.lettered(svg_of(dock(), **wanted)), 2):
        assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (one, other)


def test_it_shares_one_x_axis_between_plan_and_elevation() -> None:
    svg = svg_of(docks.straight())
    outlines = {mark.get("data-mark"): reading.rect_box(mark) for mark in reading.parts(svg, "section")}
    frames = {mark.get("data-mark"): reading.points(mark) for mark in reading.parts(svg, "frame")}
    for mark, corners in frames.items():
        assert min(x for x, _ in corners) == pytest.approx(outlines[mark][0], abs=0.02)
        assert max(x for x, _ in corners) == pytest.approx(outlines[mark][2], abs=0.02)
    side_floats = [mark for mark in reading.parts(svg, "float") if mark.get("points")]
    plan_floats = [reading.rect_box(m) for m in reading.parts(svg, "float") if not m.get("points")]
    middles = {round((box[0] + box[2]) / 2, 1) for box in plan_floats}
    assert {round(sum(x for x, _ in reading.points(m)) / 4, 1) for m in side_floats} == middles


def test_it_draws_the_deck_at_its_freeboard_and_the_floats_at_their_draft() -> None:
    svg = svg_of(docks.straight())
    scale = scale_of(svg)
    normal = next(m for m in reading.parts(svg, "level") if m.get("stroke-dasharray") is None)
    water = float(normal.get("y1"))
    deck = reading.points(reading.parts(svg, "deck")[0])
    assert water - min(y for _, y in deck) == pytest.approx(18.2 * scale, abs=0.03)
    floated = [reading.points(m) for m in reading.parts(svg, "float") if m.get("points")]
    assert max(y for _, y in floated[0]) - water == pytest.approx(6.05 * scale, abs=0.03)


def test_it_draws_levels_and_bottom_at_their_heights() -> None:
    svg = svg_of(docks.straight())
    scale = scale_of(svg)
    lines = {m.get("stroke-dasharray"): float(m.get("y1")) for m in reading.parts(svg, "level")}
    assert lines["3 3"] - lines[None] == pytest.approx(24 * scale, abs=0.03)
    assert lines[None] - lines["10 4"] == pytest.approx(12 * scale, abs=0.03)
    ground = reading.points(reading.parts(svg, "ground")[0])
    assert max(y for _, y in ground) - lines[None] == pytest.approx(72 * scale, abs=0.03)


def test_it_draws_the_ramp_its_true_length_along_the_slope() -> None:
    svg = svg_of(docks.straight())
    ramp = next(m for m in reading.parts(svg, "ramp") if m.get("points"))
    (x0, y0), (x1, y1) = reading.points(ramp)[:2]
    assert ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 == pytest.approx(144 * scale_of(svg), abs=0.05)
    # hinge 79 in, normal water 42 in, deck 18.2 in above it: a drop of 18.8 in
    assert y1 - y0 == pytest.approx(18.8 * scale_of(svg), abs=0.05)


def test_it_draws_a_line_between_any_two_boards_where_boards_are_on() -> None:
    design = docks.straight()
    (boards,) = reading.parts(svg_of(design), "boards")
    count = next(run.count for run in design.boards if run.section == "A")
    assert boards.get("d").count("M") == count - 1


def test_it_shows_boards_and_frame_of_a_dock_of_one_section() -> None:
    svg = svg_of(docks.platform())
    whole, (laid,) = reading.rect_box(reading.parts(svg, "section")[0]), reading.parts(svg, "laid")
    box = reading.rect_box(laid)
    assert box[0] == whole[0] and (box[2] - box[0]) / (whole[2] - whole[0]) == pytest.approx(0.5, abs=0.03)
    assert len(reading.parts(svg, "members")) == 1
    assert "A, boards half on" in reading.texts(svg)


def test_it_shows_members_only_where_boards_are_off() -> None:
    svg = svg_of(docks.straight())
    (members,) = reading.parts(svg, "members")
    b = reading.rect_box(reading.parts(svg, "section")[1])
    assert all(b[0] - 0.05 <= x <= b[2] + 0.05 for x, _ in reading.walked(members.get("d")))


@every_dock
def test_it_names_itself_in_words_with_ids_of_its_own(dock: Callable[[], Design]) -> None:
    both = [reading.parse(svg_of(dock(), prefix=prefix)) for prefix in ("one", "two")]
    ids = [mark.get("id") for svg in both for mark in svg.iter() if mark.get("id")]
    assert len(ids) == len(set(ids)) == 4
    for svg in both:
        assert svg.get("role") == "img"
        assert [svg.find(f"{reading.SVG}{tag}").get("id") for tag in ("title", "desc")] == svg.get(
            "aria-labelledby"
        ).split()


def test_it_says_in_its_description_what_it_shows() -> None:
    said = reading.parse(svg_of(docks.straight())).find(f"{reading.SVG}desc").text
    for fact in (
        "16′ 0″ out from the shore side and 6′ 0″ across, in 2 sections",
        "Sections A and B: 8′ 0″ by 6′ 0″",
        "A to B bolted rigid",
        "A ramp 12′ 0″ long and 4′ 0″ wide from concrete pad to the shore edge of section A",
        "2 anchors on chain",
        "1 ladder and 3 cleats",
        "18.2 in above the water",
        "high 4.5 ft, normal 3.5 ft and low 1.5 ft",
        "4.17 ft at 12′ 0″ from shore",
    ):
        assert fact in said


def test_it_dimensions_sections_and_overall_and_only_the_overall_on_a_phone() -> None:
    wide, small = reading.texts(svg_of(docks.straight())), reading.texts(svg_of(docks.straight(), wide=False))
    assert wide.count("8′ 0″") == 2 and "16′ 0″" in wide and "6′ 0″" in wide and "12′ 0″ ramp" in wide
    assert "8′ 0″" not in small and "16′ 0″" in small and "6′ 0″" in small


def test_it_speaks_metres_to_a_metric_firm() -> None:
    drawing = draw(docks.straight(), Sheet(706, metres, style="paper", metric=True))
    said = reading.texts(drawing.svg)
    assert "4.88 m" in said and "Normal 1.07 m" in said and "462 mm" in said
    assert any(words.endswith(" m") and words[0].isdigit() for words in said[-1:])
    assert not any("′" in words for words in said)
    assert drawing.scale_words.startswith("1:")


def test_it_says_what_nobody_measured_and_draws_no_bottom() -> None:
    svg = svg_of(docks.platform())
    said = reading.texts(svg)
    assert "bottom not measured" in said and "water level" in said
    assert reading.parts(svg, "ground") == []
    described = reading.parse(svg).find(f"{reading.SVG}desc").text
    assert "Bottom not measured." in described and "Water levels not known." in described


def test_it_says_that_the_hinge_height_is_not_known() -> None:
    assert "hinge height not known" in reading.texts(svg_of(docks.tee()))


def test_it_shows_the_slope_at_the_lowest_level() -> None:
    # hinge 79, low water 18, deck 18.2 above it: drop 42.8; sqrt(144^2 - 42.8^2) / 42.8 = 3.21
    assert "1:3.2 at low" in reading.texts(svg_of(docks.straight()))


@every_dock
def test_it_picks_a_standard_scale_on_paper_and_says_which(dock: Callable[[], Design]) -> None:
    drawing = draw(dock(), Sheet(706, feet, style="paper", max_height_px=460))
    px_per_foot = scale_of(drawing.svg) * 12
    if "inch to the foot" in drawing.scale_words:
        over, under = drawing.scale_words.split()[0].split("/")
        assert px_per_foot / 96 == pytest.approx(int(over) / int(under))
    else:
        assert 96 / px_per_foot == pytest.approx(int(drawing.scale_words.split()[3]))
    assert drawing.height_px <= 460 and drawing.width_px <= 706


def test_it_draws_the_quotes_dock_at_three_sixteenths_on_letter() -> None:
    drawing = draw(docks.straight(), Sheet(706, feet, style="paper"))
    assert drawing.scale_words == "3/16 inch to the foot at full size"


def test_it_draws_a_tilted_dock_tilted() -> None:
    trims = (Trim("A", 16, 16, 18, 18), Trim("B", 18, 18, 20, 20))
    svg = svg_of(docks.straight(), trims=trims)
    deck = reading.points(reading.parts(svg, "deck")[0])
    assert deck[0][1] - deck[1][1] == pytest.approx(2 * scale_of(svg), abs=0.03)
    assert {"16.0″", "20.0″"} <= set(reading.texts(svg))


def test_it_breaks_a_chain_too_long_for_the_sheet_and_letters_its_true_reach() -> None:
    # 120 in out both ways: 169.7 in, 14 ft 2 in to the nearest inch
    assert reading.texts(svg_of(docks.straight())).count("14′ 2″ out") == 2


def test_it_carries_only_presentation_attributes() -> None:
    svg = svg_of(docks.straight())
    assert "style=" not in svg and "<style" not in svg and "<script" not in svg


def test_it_escapes_what_people_write() -> None:
    design = docks.straight()
    spec = replace(
        design.spec, title='<b>"Ann" & co', ramp=replace(design.spec.ramp, shore_fixing="<i>ledge</i> & rock")
    )
    svg = svg_of(replace(design, spec=spec))
    assert "<i>ledge</i> & rock" in reading.texts(svg)
    assert '<b>"Ann" & co' in reading.parse(svg).find(f"{reading.SVG}title").text


def test_it_keeps_deep_water_on_the_sheet_and_says_so() -> None:
    deep = replace(docks.LAKE, depths=(*docks.LAKE.depths[:1], replace(docks.LAKE.depths[1], depth_in=900)))
    design = docks.straight()
    svg = svg_of(replace(design, spec=replace(design.spec, place=deep)))
    assert "73.0 ft at low, deeper than drawn" in reading.texts(svg)
    assert reading.view_box(svg)[3] - reading.view_box(svg)[1] < 776


def test_it_draws_a_reservoir_that_falls_below_the_reach_of_the_ramp() -> None:
    design = docks.straight()
    place = Place(water=Water(low_in=-300, normal_in=42, high_in=54))
    svg = svg_of(replace(design, spec=replace(design.spec, place=place)))
    assert not any("at low" in words for words in reading.texts(svg))
    assert any(words.startswith("Low -25") for words in reading.texts(svg))
