"""Where the floats of one section go, seen from above, with running dimensions to their nearer faces."""

from dataclasses import dataclass

from estimating.engine.drawing import dimensions
from estimating.engine.drawing.canvas import HIDDEN, INK, Canvas, View, text_width
from estimating.engine.drawing.paper_scale import (
    CREW,
    CUT_PX,
    WORDS_PX,
    CrewSheet,
    fitted,
    halo,
    lying,
    ringed,
    shore_words,
    wrapped,
)
from estimating.engine.result import Design
from estimating.engine.spec import Section

ROOM_X, ROOM_Y = 230.0, 190.0


@dataclass(frozen=True, slots=True)
class FloatSpot:
    """One float in its section's own axes: `number` counts from 1 over the whole dock, as the proof does from 0."""

    number: int
    item: str
    from_end_in: float  # left end of the section as drawn, to the nearer face
    from_edge_in: float  # lower edge of the section as drawn, to the nearer face
    along_in: float  # its size along the section
    across_in: float

    @property
    def lies(self) -> str:
        if abs(self.along_in - self.across_in) < 0.01:
            return "square"
        return "lengthwise" if self.along_in > self.across_in else "crosswise"


def float_spots(design: Design, mark: str) -> tuple[FloatSpot, ...]:
    """The floats of a section with their places, in the design's order. Raises StopIteration for an unknown mark."""
    section = next(s for s in design.spec.sections if s.mark == mark)
    spots = []
    for number, placed in enumerate(design.floats, 1):
        if placed.section == mark:
            u, v = lying(section, placed.x_in, placed.y_in)
            sizes = placed.size_x_in, placed.size_y_in
            along, across = sizes[::-1] if section.turned else sizes
            spots.append(FloatSpot(number, placed.item, u - along / 2, v - across / 2, along, across))
    return tuple(spots)


def float_map(design: Design, mark: str, sheet: CrewSheet) -> str:
    """The section's outline with its floats, numbered, lying lengthwise and seen from above."""
    section = next(s for s in design.spec.sections if s.mark == mark)
    fit = min((sheet.width_px - ROOM_X) / section.length_in, (sheet.height_px - ROOM_Y) / section.width_in)
    spots = float_spots(design, mark)

    def draw(scale: float) -> Canvas:
        canvas, view = Canvas(CREW), View(scale, 0.0, section.width_in * scale)
        canvas.rect(view.box(0, 0, section.length_in, section.width_in), width=canvas.pen.cut, data_part="section")
        for spot in spots:
            _float(canvas, view, spot)
        _running(canvas, view, spots, sheet, section)
        top, x0 = view.y(section.width_in), view.x(0)
        words = sheet.cut(section.length_in)
        dimensions.across(canvas, (x0, view.x(section.length_in)), top - 28, words, foot=(top, top))
        return canvas

    canvas, _ = fitted(sheet, fit, draw)
    said = f"Section {mark} with {len(spots)} floats, seen from above."
    return wrapped(canvas, prefix=sheet.prefix, title=f"Float map of section {mark}, to scale", said=said)


def _float(canvas: Canvas, view: View, spot: FloatSpot) -> None:
    u1, v1 = spot.from_end_in + spot.along_in, spot.from_edge_in + spot.across_in
    box = view.box(spot.from_end_in, spot.from_edge_in, u1, v1)
    inset = (box[0] + 2, box[1] + 2, box[2] - 2, box[3] - 2)
    canvas.rect(inset, width=canvas.pen.outline, rx=5, stroke_dasharray=HIDDEN, data_part="float")
    ringed(canvas, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), str(spot.number), radius=15)


def _running(canvas: Canvas, view: View, spots: tuple[FloatSpot, ...], sheet: CrewSheet, section: Section) -> None:
    ends = sorted({round(s.from_end_in, 3) for s in spots})
    edges = sorted({round(s.from_edge_in, 3) for s in spots})
    y, x, last, deepest = view.y(0) + 22, view.x(section.length_in) + 22, -1e9, 0.0
    for u in ends:
        canvas.line((view.x(u), view.y(0) + 4), (view.x(u), y + 6), width=canvas.pen.hair)
        if (u - last) * view.scale >= CUT_PX * 0.95:
            words = sheet.cut(u) if u else "0"
            label = halo(CUT_PX, anchor="end", upright=True)
            canvas.text((view.x(u) + 0.34 * CUT_PX, y + 12), words, label)
            last, deepest = u, max(deepest, text_width(words, CUT_PX))
    last = -1e9
    for v in edges:
        canvas.line((view.x(section.length_in) + 4, view.y(v)), (x + 6, view.y(v)), width=canvas.pen.hair, stroke=INK)
        if (v - last) * view.scale >= CUT_PX * 0.8:
            words = sheet.cut(v) if v else "0"
            canvas.text((x + 12, view.y(v) + 0.34 * CUT_PX), words, halo(CUT_PX, anchor="start"))
            last = v
    told = f"{shore_words(section)} Frame upside down: mirror it."
    for line, words in enumerate((told, "Figures run to the nearer side of each float.")):
        label = halo(WORDS_PX, weight=500, anchor="start")
        canvas.text((view.x(0), y + 36 + deepest + 24 * line), words, label)
