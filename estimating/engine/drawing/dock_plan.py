"""The whole dock from above in a few heavy lines: sections, ramp, anchors with their chains, for the crew's paper."""

from math import hypot

from estimating.engine.drawing import dimensions
from estimating.engine.drawing.canvas import CHAIN, INK, Canvas, View
from estimating.engine.drawing.paper_scale import (
    CREW,
    CUT_PX,
    WORDS_PX,
    CrewSheet,
    halo,
    ringed,
    standard_scale,
    wrapped,
)
from estimating.engine.drawing.scene import extent
from estimating.engine.result import Design, PlacedAnchor

CHAIN_PX = 64.0
ROOM_X, ROOM_Y = 260.0, 240.0


def dock_plan(design: Design, sheet: CrewSheet, *, anchors: bool = True) -> str:
    """Shore to the left, lake to the right. A chain longer than fits is drawn short; its figures stand in the table."""
    boxes = {s.mark: extent(s) for s in design.spec.sections}
    walk = _walk(design)
    every = [*boxes.values(), *([walk] if walk else [])]
    x0, y0 = min(b[0] for b in every), min(b[1] for b in every)
    x1, y1 = max(b[2] for b in every), max(b[3] for b in every)
    fit = min((sheet.width_px - ROOM_X) / (x1 - x0), (sheet.height_px - ROOM_Y) / (y1 - y0))
    scale, _ = standard_scale(fit, metric=sheet.metric)
    canvas, view = Canvas(CREW), View(scale, -x0 * scale, y1 * scale)
    if walk:
        canvas.rect(view.box(*walk), width=canvas.pen.outline, fill="#FFFFFF", data_part="ramp")
        _say_ramp(canvas, view, walk)
    for mark, box in boxes.items():
        on_sheet = view.box(*box)
        canvas.rect(on_sheet, width=canvas.pen.cut, fill="#FFFFFF", data_part="section", data_mark=mark)
        ringed(canvas, ((on_sheet[0] + on_sheet[2]) / 2, (on_sheet[1] + on_sheet[3]) / 2), mark, radius=17)
    if anchors:
        for anchor in design.anchors:
            _anchor(canvas, view, anchor)
    _overall(canvas, view, sheet, (x0, y0, x1, y1))
    held = f", held by {len(design.anchors)} anchors" if anchors and design.anchors else ""
    said = f"Sections {', '.join(boxes)}{held}. Shore to the left, lake to the right."
    return wrapped(canvas, prefix=sheet.prefix, title="The dock from above, to scale", said=said)


def _walk(design: Design) -> tuple[float, float, float, float] | None:
    ramp = design.ramp
    if ramp is None:
        return None
    half = ramp.width_in / 2
    along = ramp.edge in ("shore", "lake")
    ends_x, ends_y = sorted((ramp.shore_x_in, ramp.dock_x_in)), sorted((ramp.shore_y_in, ramp.dock_y_in))
    if along:
        return ends_x[0], ramp.dock_y_in - half, ends_x[1], ramp.dock_y_in + half
    return ramp.dock_x_in - half, ends_y[0], ramp.dock_x_in + half, ends_y[1]


def _say_ramp(canvas: Canvas, view: View, walk: tuple[float, float, float, float]) -> None:
    x0, y0, x1, y1 = view.box(*walk)
    canvas.text(((x0 + x1) / 2, (y0 + y1) / 2 + 0.34 * WORDS_PX), "ramp", halo(WORDS_PX))


def _anchor(canvas: Canvas, view: View, anchor: PlacedAnchor) -> None:
    corner, true = view.at(anchor.corner_x_in, anchor.corner_y_in), view.at(anchor.x_in, anchor.y_in)
    reach = hypot(true[0] - corner[0], true[1] - corner[1])
    share = min(1.0, CHAIN_PX / reach) if reach else 1.0
    weight = corner[0] + (true[0] - corner[0]) * share, corner[1] + (true[1] - corner[1]) * share
    canvas.line(corner, weight, width=canvas.pen.outline, stroke_dasharray=CHAIN, stroke_linecap="round")
    canvas.circle(weight, 8, width=canvas.pen.thin, fill=INK, data_part="anchor")
    side = 1 if weight[0] >= corner[0] else -1
    at = (weight[0] + 14 * side, weight[1] + 0.34 * CUT_PX)
    canvas.text(at, anchor.mark, halo(CUT_PX, anchor="start" if side > 0 else "end"))


def _overall(canvas: Canvas, view: View, sheet: CrewSheet, box: tuple[float, float, float, float]) -> None:
    x0, y0, x1, y1 = view.box(*box)
    top = min(y0, canvas.bounds[1]) - 34
    words = sheet.cut(box[2] - box[0])
    dimensions.across(canvas, (x0, x1), top, words, foot=(y0, y0))
    below = max(y1, canvas.bounds[3]) + 30
    canvas.text((x0, below), "shore", halo(WORDS_PX, weight=500, anchor="start"))
    canvas.text((x1, below), "lake", halo(WORDS_PX, weight=500, anchor="end"))
