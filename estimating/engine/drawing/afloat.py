"""A dock as it lies on the water: its trim for the large drawing, a small plan with the freeboard at its corners."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from estimating.engine.drawing import figures
from estimating.engine.drawing.canvas import INK, SCREEN, TIMBER, Box, Canvas, Lettering, Pen, Point, View, n
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.scene import Scene, Trim, Walk, stage
from estimating.engine.proof import CaseProof, CornerAfloat, SectionAfloat
from estimating.engine.reasons import Amount
from estimating.engine.result import Design, SharedEdge

TALLEST_PX = 104.0
STUB_PX = 26.0
SIDE_PX = 26.0
BLEED_PX = 3.0
NEAR_IN = 1.0


def trims(case: CaseProof | None) -> tuple[Trim, ...]:
    """How each section lies in a case; nothing when it is not afloat."""
    return tuple(_trim(section) for section in case.sections) if case else ()


def _trim(section: SectionAfloat) -> Trim:
    at = {corner.corner: corner.freeboard_in for corner in section.corners}
    return Trim(section.section, at["shore-left"], at["shore-right"], at["lake-left"], at["lake-right"])


@dataclass(frozen=True, slots=True)
class Outline:
    """How a small plan is wanted: CSS px wide at most, who speaks, line weights, and the size of its figures."""

    width_px: float
    speak: Speak
    prefix: str
    pen: Pen = SCREEN
    figure_px: float = 17.0
    tallest_px: float = TALLEST_PX


def corner_plan(design: Design, case: CaseProof, wanted: Outline) -> str:
    """The dock from above, to scale, with the height of its deck above water at its free corners, as SVG.

    The lowest corners are lettered first, the others where there is room; the description has them all. A dock that
    is not afloat in this case has no such figures: an empty string.
    """
    if not case.sections:
        return ""
    scene = stage(design, trims(case))
    room = wanted.width_px - 2 * SIDE_PX - (STUB_PX if scene.walk else 0.0)
    scale = min(room / (scene.x1 - scene.x0), wanted.tallest_px / (scene.y1 - scene.y0))
    for _ in range(6):
        canvas = _compose(design, case, scene, scale, wanted)
        if canvas.bounds[2] - canvas.bounds[0] + 2 * BLEED_PX <= wanted.width_px:
            break
        scale *= 0.88
    return _wrapped(canvas, case, wanted)


def free_corners(design: Design, sections: Sequence[SectionAfloat]) -> list[CornerAfloat]:
    """Corners not on a rigid joint, lowest first; two that meet at a hinge stand for each other."""
    rigid = [edge for edge in design.edges if edge.kind != "hinged"]
    found: list[CornerAfloat] = []
    for corner in sorted((c for s in sections for c in s.corners), key=lambda corner: corner.freeboard_in):
        met = any(abs(corner.x_in - o.x_in) + abs(corner.y_in - o.y_in) < NEAR_IN for o in found)
        if not met and not any(_lies_on(edge, corner) for edge in rigid):
            found.append(corner)
    return found


def _lies_on(edge: SharedEdge, corner: CornerAfloat) -> bool:
    x0, x1 = sorted((edge.x0_in, edge.x1_in))
    y0, y1 = sorted((edge.y0_in, edge.y1_in))
    return x0 - NEAR_IN < corner.x_in < x1 + NEAR_IN and y0 - NEAR_IN < corner.y_in < y1 + NEAR_IN


def _compose(design: Design, case: CaseProof, scene: Scene, scale: float, wanted: Outline) -> Canvas:
    canvas, view = Canvas(wanted.pen), View(scale, -scene.x0 * scale, scene.y1 * scale)
    decks = [view.box(d.x0, d.y0, d.x1, d.y1) for d in scene.decks]
    solids = [*decks, *_stub(canvas, view, scene.walk)]
    for box in decks:
        canvas.rect(box, width=canvas.pen.outline, fill=TIMBER, data_part="section")
    for corner in free_corners(design, case.sections):
        words = figures.height(wanted.speak, corner.freeboard_in)
        spots = list(_spots(view.at(corner.x_in, corner.y_in), corner.corner, wanted.figure_px))
        canvas.text_where_free(spots, words, clear_of=solids)
    return canvas


def _stub(canvas: Canvas, view: View, walk: Walk | None) -> list[Box]:
    """The ramp where it lands, broken off."""
    if walk is None:
        return []
    x0, y0, x1, y1 = view.box(*walk.box)
    cut = min(STUB_PX, max(x1 - x0, y1 - y0))
    box = {
        "shore": (x1 - cut, y0, x1, y1),
        "lake": (x0, y0, x0 + cut, y1),
        "left": (x0, y1 - cut, x1, y1),
        "right": (x0, y0, x1, y0 + cut),
    }[walk.edge]
    canvas.rect(box, width=canvas.pen.thin, fill=canvas.pen.ground, data_part="ramp")
    return [box]


def _spots(at: Point, corner: str, size: float) -> Iterator[tuple[Point, Lettering]]:
    """Above or below the corner, then beside it."""
    (x, y), (end, side) = at, corner.split("-")
    above = y - 6 if side == "left" else y + 5 + 0.78 * size
    level = y + 0.7 * size if side == "left" else y - 2
    out = -7 if end == "shore" else 7
    yield (x, above), Lettering(size, 600, "middle", INK)
    yield (x, above), Lettering(size, 600, "end" if end == "shore" else "start", INK)
    yield (x + out, level), Lettering(size, 600, "end" if end == "shore" else "start", INK)
    yield (x, above), Lettering(size, 600, "start" if end == "shore" else "end", INK)


def _wrapped(canvas: Canvas, case: CaseProof, wanted: Outline) -> str:
    x0, y0, x1, y1 = canvas.bounds
    width, height = x1 - x0 + 2 * BLEED_PX, y1 - y0 + 2 * BLEED_PX
    prefix = wanted.prefix
    return (
        f'<svg class="dwg corners" xmlns="http://www.w3.org/2000/svg" viewBox="{n(x0 - BLEED_PX)} {n(y0 - BLEED_PX)}'
        f' {n(width)} {n(height)}" width="{n(width)}" height="{n(height)}" role="img"'
        f' aria-labelledby="{prefix}-title {prefix}-desc"><title id="{prefix}-title">Freeboard at the corners</title>'
        f'<desc id="{prefix}-desc">{escape(corner_words(case, wanted.speak))}</desc>{"".join(canvas.parts)}</svg>'
    )


def corner_words(case: CaseProof, speak: Speak) -> str:
    """Every corner of every section, a sentence each."""
    return " ".join(
        f"Section {section.section}: "
        + ", ".join(
            f"{c.corner.replace('-', ' end ')} {speak(Amount(c.freeboard_in, 'in_small'))}" for c in section.corners
        )
        + "."
        for section in case.sections
    )
