"""One section's frame from above, as it is set out and bolted: members, plates, marks, dimensions, diagonals."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

from estimating.engine.drawing import dimensions, symbols
from estimating.engine.drawing.canvas import INK, Canvas, View, text_width
from estimating.engine.drawing.paper_scale import (
    CREW,
    CUT_PX,
    CrewSheet,
    fitted,
    halo,
    lying,
    ringed,
    shore_words,
    wrapped,
)
from estimating.engine.result import Design, Piece
from estimating.engine.spec import Section

DIAGONAL = "14 5 3 5"
PLATE_PX = 26.0
ROOM_X, ROOM_Y = 200.0, 230.0


@dataclass(frozen=True, slots=True)
class FramePlan:
    """A frame drawn; its scale and how it is to be read, in words that stand beside it."""

    svg: str
    scale_words: str
    read_words: str


@dataclass(frozen=True, slots=True)
class _Frame:
    design: Design
    section: Section
    sheet: CrewSheet
    canvas: Canvas
    view: View

    def said(self, length_in: float) -> str:
        return self.sheet.cut(length_in)

    @property
    def pieces(self) -> list[tuple[Piece, tuple[float, float, float, float]]]:
        """Each piece with its box along and across the section."""
        found = []
        for piece in self.design.pieces:
            if piece.section == self.section.mark:
                a = lying(self.section, piece.x0_in, piece.y0_in)
                b = lying(self.section, piece.x1_in, piece.y1_in)
                found.append((piece, (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))))
        return found


def diagonal_in(section: Section) -> float:
    """Corner to corner of the true sizes, inches. Source: GEOMETRY.

    >>> diagonal_in(Section("A", 96.0, 72.0))
    120.0
    """
    return hypot(section.length_in, section.width_in)


def frame_plan(design: Design, mark: str, sheet: CrewSheet, *, plates: bool = True) -> FramePlan:
    """The frame of one section, lying lengthwise and seen from above; a turned one has the shore at the top.

    Running dimensions start at the left end and at the lower edge. Raises StopIteration for an unknown mark.
    """
    section = next(s for s in design.spec.sections if s.mark == mark)
    fit = min((sheet.width_px - ROOM_X) / section.length_in, (sheet.height_px - ROOM_Y) / section.width_in)

    def draw(scale: float) -> Canvas:
        canvas = Canvas(CREW)
        frame = _Frame(design, section, sheet, canvas, View(scale, 0.0, section.width_in * scale))
        _members(frame)
        _diagonals(frame)
        if plates:
            _plates(frame)
        _marks(frame)
        _overall(frame)
        _running(frame)
        return canvas

    canvas, words = fitted(sheet, fit, draw)
    long, wide, across = (sheet.cut(v) for v in (section.length_in, section.width_in, diagonal_in(section)))
    said = f"Frame of section {mark}, {long} by {wide}; both diagonals {across}."
    title = f"Section {mark} from above, to scale"
    read = f"{shore_words(section)} Figures run from the left end and from the lower edge."
    return FramePlan(wrapped(canvas, prefix=sheet.prefix, title=title, said=said), words, read)


def _members(frame: _Frame) -> None:
    for _, (u0, v0, u1, v1) in frame.pieces:
        box = frame.view.box(u0, v0, u1, v1)
        frame.canvas.rect(box, width=frame.canvas.pen.outline, fill="#FFFFFF", data_part="member")


def _diagonals(frame: _Frame) -> None:
    long_in, wide_in = frame.section.length_in, frame.section.width_in
    for start, end in (((0, 0), (long_in, wide_in)), ((0, wide_in), (long_in, 0))):
        a, b = frame.view.at(*start), frame.view.at(*end)
        frame.canvas.line(a, b, width=frame.canvas.pen.hair, stroke_dasharray=DIAGONAL, data_part="diagonal")


def _plates(frame: _Frame) -> None:
    """Heavy L at corners, T at tees; a corner with an outside plate has one on each side of the wood."""
    section, canvas = frame.section, frame.canvas
    for joint in frame.design.joints:
        if joint.sections != (section.mark,) or joint.place not in ("outer_corner", "tee"):
            continue
        u, v = lying(section, joint.x_in, joint.y_in)
        right, down = (1 if u < section.length_in / 2 else -1), (1 if v > section.width_in / 2 else -1)
        x, y = frame.view.at(u, v)
        if joint.place == "tee":
            symbols.tee_plate(canvas, (x, y), PLATE_PX * 0.8, (right, 0))
            continue
        thick = 1.5 * frame.view.scale
        symbols.corner_plate(canvas, (x + right * (thick + 2), y + down * (thick + 2)), PLATE_PX, (right, down))
        if len(joint.parts) > 1:
            symbols.corner_plate(canvas, (x - right * 2.5, y - down * 2.5), PLATE_PX, (right, down))


def _marks(frame: _Frame) -> None:
    """Ringed letters on the pieces and the joint marks in the corners."""
    for order, (piece, (u0, v0, u1, v1)) in enumerate(frame.pieces):
        along = u1 - u0 > v1 - v0
        share = (0.62, 0.4, 0.55, 0.46)[order % 4] if along else 0.5
        at = frame.view.at(u0 + (u1 - u0) * share, v0 + (v1 - v0) * 0.5)
        ringed(frame.canvas, at, piece.mark, radius=13)
    for joint in frame.design.joints:
        if joint.place == "outer_corner" and joint.sections == (frame.section.mark,):
            u, v = lying(frame.section, joint.x_in, joint.y_in)
            x, y = frame.view.at(u, v)
            right, down = (1 if u < frame.section.length_in / 2 else -1), (1 if v > frame.section.width_in / 2 else -1)
            at = (x + right * 54, y + (42 if down > 0 else -24))
            frame.canvas.text(at, joint.mark, halo(25))


def _overall(frame: _Frame) -> None:
    view, section = frame.view, frame.section
    top, x0, x1 = view.y(section.width_in), view.x(0), view.x(section.length_in)
    words = frame.said(section.length_in)
    dimensions.across(frame.canvas, (x0, x1), top - 30, words, foot=(top, top))
    dimensions.upright(frame.canvas, (view.y(0), top), x0 - 30, frame.said(section.width_in), foot=x0)


def _running(frame: _Frame) -> None:
    """From the left end along the bottom, from the lower edge up the right side: to each member's nearer face."""
    section, view, canvas = frame.section, frame.view, frame.canvas
    along = _firsts(u0 for p, (u0, _, _, _) in frame.pieces if p.role == "cross member")
    across = _firsts(v0 for p, (_, v0, _, _) in frame.pieces if p.role == "inner stringer")
    x, y = view.x(section.length_in) + 26, view.y(0) + 26
    strokes = [((x, view.y(0)), (x, view.y(section.width_in)))]
    last = -1e9
    for v in (0.0, *across, section.width_in):
        strokes += [((view.x(section.length_in) + 6, view.y(v)), (x + 6, view.y(v)))]
        label = frame.said(v) if v else "0"
        if view.y(last) - view.y(v) >= CUT_PX * 0.8 or last < 0:
            canvas.text((x + 12, view.y(v) + 0.34 * CUT_PX), label, halo(CUT_PX, anchor="start"))
            last = v
    if along:
        strokes += [((view.x(0), y), (view.x(along[-1]), y))]
        last = -1e9
        for u in (0.0, *along):
            strokes += [((view.x(u), view.y(0) + 6), (view.x(u), y + 6))]
            if (u - last) * view.scale >= CUT_PX * 0.95:
                words = frame.said(u) if u else "0"
                label = halo(CUT_PX, anchor="end", upright=True)
                canvas.text((view.x(u) + 0.34 * CUT_PX, y + 12), words, label)
                last = u
    canvas.lines(strokes, width=canvas.pen.hair, stroke=INK)
    below = y + 26 + (text_width(frame.said(along[-1]), CUT_PX) if along else 0)
    both = f"Both diagonals {frame.said(diagonal_in(section))}"
    canvas.text((view.x(0), below + 10), both, halo(CUT_PX, anchor="start"))


def _firsts(values: Iterable[float]) -> list[float]:
    return sorted({round(value, 4) for value in values})
