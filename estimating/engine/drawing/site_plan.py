"""The plan for an authority: shore, dock, anchors where they truly lie, side lines extended, setbacks and reach."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from estimating.engine.drawing import dimensions, figures, symbols
from estimating.engine.drawing.canvas import INK, INK_2, PAPER, Canvas, Lettering, Point, View, text_width
from estimating.engine.drawing.permit_sheet import Drawn, PermitSheet, draw_scale_bar, fitted
from estimating.engine.drawing.plan import Plan, draw_dock
from estimating.engine.drawing.scene import Scene, stage
from estimating.engine.permitted import SideLines
from estimating.engine.permitted.measures import built_boxes, landing_y_in
from estimating.engine.result import Design, PlacedAnchor

LINE_DASH = "14 5 3 5"
SETBACK_DASH = "3 4"
BANK_IN = 60.0
AWAY = 2.5  # how many times the dock's own reach a side line, or the shore, may lie off and still be drawn
ROOM_X, ROOM_Y = 110.0, 60.0
ROW_PX = 27.0
RIM_PX = 22.0
NAME_PX = 82.0  # an anchor with its name


@dataclass(frozen=True, slots=True)
class Bounds:
    """What is held off: the side lines, None to leave them out; and the greatest setback any rule asks, if any."""

    lines: SideLines | None = None
    setback_in: float | None = None


@dataclass(frozen=True, slots=True)
class _Site:
    design: Design
    scene: Scene
    bounds: Bounds
    sheet: PermitSheet
    canvas: Canvas
    view: View
    box: tuple[float, float, float, float]  # what is drawn, inches
    shore_x: float | None


def site_plan(design: Design, bounds: Bounds, sheet: PermitSheet) -> Drawn:
    """Shore to the left, water to the right, everything at its true place. Source: GEOMETRY."""
    scene = stage(design)
    scene = replace(scene, decks=tuple(replace(deck, boards="on") for deck in scene.decks))
    shore = _shore_x(design, scene)
    box = _extent(design, scene, bounds, shore)
    fit = min((sheet.width_px - ROOM_X) / (box[2] - box[0]), (sheet.height_px - ROOM_Y) / (box[3] - box[1]))

    def compose(scale: float) -> Canvas:
        canvas = Canvas(PAPER)
        view = View(scale, -box[0] * scale, box[3] * scale)
        _draw(_Site(design, scene, bounds, sheet, canvas, view, box, shore))
        draw_scale_bar(canvas, sheet, scale)
        return canvas

    return fitted(sheet, fit, compose, title="Plan", said=_said(design, bounds))


def _draw(site: _Site) -> None:
    _shore(site)
    side_lines = list(_lines(site))
    for y, words in side_lines:
        _side_line(site, y, words)
    for anchor in site.design.anchors:
        _chain(site, anchor)
    draw_dock(Plan(site.canvas, site.view, site.scene, site.design, site.sheet.speak, True, RIM_PX))
    _lengths(site)
    _widths(site)
    for anchor in site.design.anchors:
        _anchor_name(site, anchor)
    for y, words in side_lines:
        _line_name(site, y, words)
    _words(site)


# Where


def _shore_x(design: Design, scene: Scene) -> float | None:
    """The shore where the ramp starts, or at zero; None where it lies too far off to be drawn."""
    if scene.walk is not None and scene.walk.edge == "shore":
        return scene.walk.shore_x
    span = max(scene.x1 - scene.x0, scene.y1 - scene.y0)
    return 0.0 if scene.x0 <= AWAY * span else None


def _extent(design: Design, scene: Scene, bounds: Bounds, shore: float | None) -> tuple[float, float, float, float]:
    xs = [scene.x0, scene.x1, *(anchor.x_in for anchor in design.anchors)]
    ys = [scene.y0, scene.y1, *(anchor.y_in for anchor in design.anchors)]
    if scene.walk is not None:
        box = scene.walk.box
        xs, ys = [*xs, box[0], box[2]], [*ys, box[1], box[3]]
    if shore is not None:
        xs.append(shore - BANK_IN)
    lines = [y for y, _ in _near_lines(design, scene, bounds)]
    ys += [line + (6.0 if line > landing_y_in(design) else -6.0) for line in lines]
    return min(xs), min(ys) - 12.0, max(xs), max(ys) + 12.0


def _near_lines(design: Design, scene: Scene, bounds: Bounds) -> Iterator[tuple[float, str]]:
    """The side lines near enough to be drawn, with which they are."""
    landing, lines = landing_y_in(design), bounds.lines or SideLines()
    far = AWAY * max(scene.x1 - scene.x0, scene.y1 - scene.y0, 240.0)
    if lines.to_left_in is not None and lines.to_left_in <= far:
        yield landing + lines.to_left_in, "left"
    if lines.to_right_in is not None and lines.to_right_in <= far:
        yield landing - lines.to_right_in, "right"


def _lines(site: _Site) -> Iterator[tuple[float, str]]:
    return _near_lines(site.design, site.scene, site.bounds)


def _end_x(site: _Site) -> float:
    """Where shore and side lines stop on the water side."""
    return site.view.x(site.box[2]) + 30


# Shore and lines


def _shore(site: _Site) -> None:
    if site.shore_x is None:
        return
    canvas, view = site.canvas, site.view
    top, bottom = view.y(site.box[3]), view.y(site.box[1])
    x = view.x(site.shore_x)
    canvas.line((x, top), (x, bottom), width=canvas.pen.cut, data_part="shoreline")
    strokes, count = [], 0
    y = top + 7
    while y < bottom - 7:
        reach = 11.0 if count % 3 == 0 else 7.0
        strokes.append(((x - 1.5, y), (x - 1.5 - reach, y + reach)))
        y, count = y + 14, count + 1
    canvas.lines(strokes, width=canvas.pen.hair, stroke=INK_2)
    label = Lettering(canvas.pen.note, 500, "middle", INK_2, canvas.pen.ground, upright=True)
    spots = [((x - 20, top + (bottom - top) * share), label) for share in (0.86, 0.14, 0.72, 0.28)]
    solid = [view.box(*site.scene.walk.box)] if site.scene.walk else []
    canvas.text_where_free(spots, "shoreline", clear_of=solid)


def _side_line(site: _Site, y_in: float, side: str) -> None:
    canvas, view = site.canvas, site.view
    start, y = view.x(site.box[0]), view.y(y_in)
    canvas.line((start, y), (_end_x(site), y), width=canvas.pen.outline, stroke_dasharray=LINE_DASH, data_part="line")
    asked = site.bounds.setback_in
    if asked:
        held = view.y(y_in - asked if side == "left" else y_in + asked)
        from_x = view.x(site.shore_x) if site.shore_x is not None else start
        canvas.line(
            (from_x, held),
            (_end_x(site), held),
            width=canvas.pen.hair,
            stroke=INK_2,
            stroke_dasharray=SETBACK_DASH,
            data_part="setback",
        )


def _line_name(site: _Site, y_in: float, side: str) -> None:
    canvas, view = site.canvas, site.view
    y = view.y(y_in)
    start = (view.x(site.shore_x) if site.shore_x is not None else view.x(site.box[0])) + 12
    label = Lettering(canvas.pen.note, 500, "start", INK_2, canvas.pen.ground)
    toward = 16 if side == "left" else -7
    canvas.text_where_free([((start, y + toward), label), ((start, y - 9 + toward), label)], f"{side} side line")
    asked = site.bounds.setback_in
    if asked:
        held = view.y(y_in - asked if side == "left" else y_in + asked)
        words = f"{figures.length(site.sheet.speak, asked)} setback"
        spots = [((start, held - 5), label), ((start, held + 14), label), ((start + 90, held - 5), label)]
        canvas.text_where_free(spots, words)


# What holds it


def _chain(site: _Site, anchor: PlacedAnchor) -> None:
    view, canvas = site.view, site.canvas
    corner, weight = view.at(anchor.corner_x_in, anchor.corner_y_in), view.at(anchor.x_in, anchor.y_in)
    symbols.broken_chain(canvas, corner, weight, broken=False, radius=4.5)


def _anchor_name(site: _Site, anchor: PlacedAnchor) -> None:
    x, y = site.view.at(anchor.x_in, anchor.y_in)
    out = 1 if anchor.x_in >= anchor.corner_x_in else -1
    label = Lettering(site.canvas.pen.note, 500, "start" if out > 0 else "end", INK_2, site.canvas.pen.ground)
    other = replace(label, anchor="end" if out > 0 else "start")
    above = replace(label, anchor="middle")
    spots = [((x + 10 * out, y + dy), label) for dy in (4, -8, 16)]
    spots += [((x - 10 * out, y + dy), other) for dy in (4, -8, 16)]
    spots += [((x, y - 10), above), ((x, y + 20), above)]
    words = f"anchor {anchor.mark}" if len(site.design.anchors) <= 12 else anchor.mark
    site.canvas.text_where_free(
        spots, words, clear_of=[site.view.box(d.x0, d.y0, d.x1, d.y1) for d in site.scene.decks]
    )


# Sizes


def _lengths(site: _Site) -> None:
    """Below the dock: ramp and sections one after the other, then the whole reach from the shore."""
    scene, view, canvas = site.scene, site.view, site.canvas
    lowest = max([view.y(scene.y0), *([view.box(*scene.walk.box)[3]] if scene.walk else [])])
    row = lowest + ROW_PX + 6
    marks = dimensions.breaks([e for d in scene.decks for e in (d.x0, d.x1)])

    def say(length_in: float) -> str:
        return figures.length(site.sheet.speak, length_in)

    if dimensions.chain_fits(marks, say, view.scale, canvas.pen.figure):
        for a, b in pairwise(marks):
            _below(site, (a, b), row, say(b - a))
        row += ROW_PX
    _below(site, (marks[0], marks[-1]), row, say(marks[-1] - marks[0]))
    ramp = site.design.ramp
    if ramp is not None and scene.walk is not None and scene.walk.edge == "shore":
        words, run = f"ramp {say(ramp.length_in)}", scene.walk.run * view.scale
        if text_width(words, canvas.pen.figure) + 6 > run:
            words = say(ramp.length_in)
        _below(site, (scene.walk.shore_x, scene.walk.dock_x), row, words)
    if site.shore_x is not None and marks[0] - site.shore_x > 1:
        reach = marks[-1] - site.shore_x
        if ramp is not None and scene.walk is not None and scene.walk.edge == "shore":
            reach = marks[-1] - min(ramp.shore_x_in, 0.0)
        _below(site, (site.shore_x, marks[-1]), row + ROW_PX, f"{say(reach)} out from the shore")


def _below(site: _Site, ends_in: tuple[float, float], row: float, words: str) -> None:
    canvas, view = site.canvas, site.view
    foot = view.y(site.scene.y0)
    x0, x1 = view.x(ends_in[0]), view.x(ends_in[1])
    strokes = [((x, foot + dimensions.GAP), (x, row + dimensions.PAST)) for x in (x0, x1)]
    canvas.lines([*strokes, ((x0 - 3.6, row), (x1 + 3.6, row))], width=canvas.pen.hair, stroke=INK_2)
    slash = dimensions.SLASH
    ticks = [((x - slash, row + slash), (x + slash, row - slash)) for x in (x0, x1)]
    canvas.lines(ticks, width=canvas.pen.outline, data_part="tick")
    label = Lettering(canvas.pen.figure, 600, "middle", INK, canvas.pen.ground)
    canvas.text(((x0 + x1) / 2, row - 4.8), words, label)


def _widths(site: _Site) -> None:
    """Beside the lake end one chain: line to dock, the widths there, dock to line; then the whole, where it differs."""
    scene, view, canvas = site.scene, site.view, site.canvas
    boxes = list(built_boxes(site.design).values())
    low, high = min(box.y0 for box in boxes), max(box.y1 for box in boxes)
    marks = dimensions.breaks([e for d in scene.decks for e in (d.y0, d.y1)])
    edge = view.x(scene.x1)
    x = _clear_of_anchors(site, edge + 36)

    def say(length_in: float) -> str:
        return figures.length(site.sheet.speak, length_in)

    if dimensions.chain_fits(marks, say, view.scale, canvas.pen.figure):
        for a, b in pairwise(marks):
            dimensions.upright(canvas, (view.y(a), view.y(b)), x, say(b - a), foot=edge)
        edge, x = x, x + ROW_PX
    ends = (view.y(low), view.y(high))
    beside = dimensions.upright if ends[0] - ends[1] > text_width(say(high - low), canvas.pen.figure) + 6 else _beside
    beside(canvas, ends, x, say(high - low), foot=edge)
    for y_in, side in _lines(site):
        near = high if side == "left" else low
        dimensions.upright(canvas, (view.y(near), view.y(y_in)), x, say(abs(y_in - near)), foot=x)
    _ramp_width(site)


def _clear_of_anchors(site: _Site, x: float) -> float:
    """Right of the anchors and their names where those would stand on the line, unless that is far away."""
    lakeward = [site.view.x(anchor.x_in) for anchor in site.design.anchors]
    near = [ax for ax in lakeward if x - NAME_PX < ax < x + 20]
    return max(near) + NAME_PX if near else x


def _beside(canvas: Canvas, ends: Point, x: float, words: str, *, foot: float) -> None:
    dimensions.upright_beside(canvas, ends, x, words, foot=foot)


def _ramp_width(site: _Site) -> None:
    walk = site.scene.walk
    if walk is None or walk.edge != "shore":
        return
    x0, y0, x1, y1 = site.view.box(*walk.box)
    words = f"{figures.length(site.sheet.speak, walk.width)} wide"
    label = Lettering(site.canvas.pen.figure, 600, "middle", INK, site.canvas.pen.ground)
    middle = (x0 + x1) / 2
    spots = [((middle, y0 - 8), label)]
    if y1 - y0 > 1.4 * label.size and x1 - x0 > text_width(words, label.size) + 8:
        spots.insert(0, ((middle, (y0 + y1) / 2 + 0.34 * label.size), label))
    site.canvas.text_where_free(spots, words)


def _words(site: _Site) -> None:
    """What could not be drawn, said: lines and shore that lie too far off, or that nobody knows."""
    canvas = site.canvas
    label = Lettering(canvas.pen.note, 500, "start", INK_2)
    y, x = canvas.bounds[3] + 20, canvas.bounds[0] + 2
    for words in _not_drawn(site):
        canvas.text((x, y), words, label)
        y += 17


def _not_drawn(site: _Site) -> Iterator[str]:
    drawn = {side for _, side in _lines(site)}
    lines, speak = site.bounds.lines, site.sheet.speak
    for side, away in (("left", lines.to_left_in), ("right", lines.to_right_in)) if lines else ():
        if away is None:
            yield f"The {side} side line is not known."
        elif side not in drawn:
            yield f"The {side} side line lies {figures.length(speak, away)} from the landing, beyond this sheet."
    if site.shore_x is None:
        yield f"The shore lies {figures.length(speak, site.scene.x0)} off, beyond this sheet."


def _said(design: Design, bounds: Bounds) -> str:
    marks = ", ".join(section.mark for section in design.spec.sections)
    held = f" held by {len(design.anchors)} anchors" if design.anchors else ""
    known = " between its side lines" if bounds.lines and bounds.lines.to_left_in is not None else ""
    return f"Sections {marks}{held}{known}, shore to the left, to scale."
