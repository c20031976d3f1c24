"""A section cut across the dock, looking out from the shore: boards, stringers, floats, water, bottom."""

from collections.abc import Iterator
from dataclasses import dataclass

from estimating.engine.drawing import dimensions, figures, symbols
from estimating.engine.drawing.canvas import GRAIN, INK, INK_2, PAPER, TIMBER, WASH, WATER, Box, Canvas, Lettering, View
from estimating.engine.drawing.permit_sheet import Drawn, PermitSheet, draw_scale_bar, fitted
from estimating.engine.drawing.scene import Deck, stage
from estimating.engine.outline import own_axes
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from estimating.engine.spec import Section

ASIDE_IN = 44.0
BELOW_IN = 14.0
ROOM_X, ROOM_Y = 60.0, 60.0
ROW_PX = 30.0


@dataclass(frozen=True, slots=True)
class _Cut:
    """One section across its width: v runs from the right edge to the left, the sheet shows left on the left."""

    design: Design
    section: Section
    deck: Deck
    sheet: PermitSheet
    canvas: Canvas
    view: View

    def box(self, v0: float, z0: float, v1: float, z1: float) -> Box:
        wide = self.section.width_in
        return self.view.box(wide - v1, z0, wide - v0, z1)

    @property
    def freeboard(self) -> float:
        deck = self.deck
        return deck.z_at((deck.x0 + deck.x1) / 2, (deck.y0 + deck.y1) / 2)

    @property
    def frame_top(self) -> float:
        return self.freeboard - self.deck.deck_in

    @property
    def frame_foot(self) -> float:
        return self.frame_top - self.deck.frame_in


def cross_section(design: Design, sheet: PermitSheet, *, mark: str = "") -> Drawn:
    """The named section, else the widest, at its wet freeboard with nobody aboard. Raises KeyError for no such mark."""
    section = _section(design, mark)
    deck = next(d for d in stage(design).decks if d.mark == section.mark)
    tall = _tallest(design, section)
    first = (sheet.width_px - ROOM_X) / (section.width_in + 2 * ASIDE_IN)
    fit = min(first, (sheet.height_px - ROOM_Y) / (deck.frame_in + tall + deck.deck_in + BELOW_IN))

    def compose(scale: float) -> Canvas:
        canvas = Canvas(PAPER)
        cut = _Cut(design, section, deck, sheet, canvas, View(scale, 0.0, 0.0))
        _draw(cut)
        draw_scale_bar(canvas, sheet, scale)
        return canvas

    said = f"Section {section.mark} cut across: boards on stringers on floats, in the water."
    return fitted(sheet, fit, compose, title=f"Section through {section.mark}", said=said)


def _section(design: Design, mark: str) -> Section:
    sections = {section.mark: section for section in design.spec.sections}
    return sections[mark] if mark else max(design.spec.sections, key=lambda section: section.width_in)


def _tallest(design: Design, section: Section) -> float:
    return max((f.height_in for f in design.floats if f.section == section.mark), default=0.0)


def _draw(cut: _Cut) -> None:
    canvas, view, wide = cut.canvas, cut.view, cut.section.width_in
    foot = cut.frame_foot - _tallest(cut.design, cut.section)
    water = view.box(-ASIDE_IN, foot - BELOW_IN, wide + ASIDE_IN, 0.0)
    canvas.rect(water, width=0, fill=WASH, stroke="none", data_part="water")
    ends = (view.at(-ASIDE_IN, 0.0), view.at(wide + ASIDE_IN, 0.0))
    canvas.line(*ends, width=canvas.pen.outline, stroke=WATER, data_part="level")
    _floats(cut)
    for v0, v1 in _sticks(cut):
        box = cut.box(v0, cut.frame_foot, v1, cut.frame_top)
        canvas.rect(box, width=canvas.pen.outline, fill=TIMBER, data_part="stringer")
        canvas.line((box[0], box[1]), (box[2], box[3]), width=canvas.pen.hair, stroke=GRAIN)
    _boards(cut)
    canvas.line(*ends, width=canvas.pen.thin, stroke=WATER, stroke_dasharray="6 4")
    right = view.x(wide + ASIDE_IN)
    symbols.level_mark(canvas, (right - 12, view.y(0.0)), normal=True)
    canvas.text((right + 6, view.y(0.0) + 4.5), "water", Lettering(canvas.pen.note, 600, "start", WATER))
    _sizes(cut, foot)


def _sticks(cut: _Cut) -> Iterator[tuple[float, float]]:
    """The long members, as they are cut: from v to v."""
    for piece in cut.design.pieces:
        if piece.section != cut.section.mark:
            continue
        u0, v0 = own_axes(cut.section, piece.x0_in, piece.y0_in)
        u1, v1 = own_axes(cut.section, piece.x1_in, piece.y1_in)
        if u1 - u0 > v1 - v0 and u1 - u0 > cut.section.length_in / 2:
            yield v0, v1


def _floats(cut: _Cut) -> None:
    canvas, done = cut.canvas, set()
    for item in cut.design.floats:
        if item.section != cut.section.mark:
            continue
        _, v = own_axes(cut.section, item.x_in, item.y_in)
        across = item.size_x_in if cut.section.turned else item.size_y_in
        if (round(v), round(across)) in done:
            continue
        done.add((round(v), round(across)))
        if item.round_along and item.round_along != ("x" if cut.section.turned else "y"):
            _round(cut, v, across / 2)
            continue
        x0, y0, x1, y1 = cut.box(v - across / 2, cut.frame_foot - item.height_in, v + across / 2, cut.frame_foot)
        canvas.polygon(
            [(x0, y0), (x1, y0), (x1 - 2, y1), (x0 + 2, y1)], width=canvas.pen.thin, fill="#FFFFFF", data_part="float"
        )
        flutes = int((x1 - x0) / 10)
        if flutes > 1:
            symbols.float_flutes(canvas, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], flutes - 1)


def _round(cut: _Cut, v: float, radius_in: float) -> None:
    """A round float seen along its axis."""
    x0, y0, x1, y1 = cut.box(v - radius_in, cut.frame_foot - 2 * radius_in, v + radius_in, cut.frame_foot)
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    cut.canvas.circle(middle, abs(x1 - x0) / 2, width=cut.canvas.pen.thin, fill="#FFFFFF", data_part="float")


def _boards(cut: _Cut) -> None:
    """Boards across lie as one slab; boards along are each cut."""
    section, canvas = cut.section, cut.canvas
    run = next((one for one in cut.design.boards if one.section == section.mark), None)
    over = run.overhang_in if run is not None and run.direction == "across" else 0.0
    cuts = [(-over, section.width_in + over)]
    if run is not None and run.direction == "along":
        cuts = list(run.edges_in)
    boxes = [cut.box(v0, cut.frame_top, v1, cut.freeboard) for v0, v1 in cuts]
    canvas.rects(boxes, width=canvas.pen.thin, fill=TIMBER, data_part="boards")


def _sizes(cut: _Cut, foot: float) -> None:
    canvas, view, wide, speak = cut.canvas, cut.view, cut.section.width_in, cut.sheet.speak
    over = max((view.x(0.0) - x for x in (canvas.bounds[0],)), default=0.0)
    top = view.y(cut.freeboard) - ROW_PX
    dimensions.across(
        canvas, (view.x(0.0), view.x(wide)), top, figures.length(speak, wide), foot=(view.y(cut.freeboard),) * 2
    )
    left = view.x(0.0)
    heights = (
        (left - 26, cut.freeboard, 0.0, f"{figures.height(speak, cut.freeboard)} deck to water"),
        (left - 26, 0.0, foot, f"{figures.height(speak, -foot)} in the water"),
    )
    for x, high, low, words in heights:
        if (high - low) * view.scale > 12:
            dimensions.upright_beside(canvas, (view.y(high), view.y(low)), x, words, foot=left)
    right = view.x(wide)
    depth = speak(Amount(round(cut.deck.frame_in, 3), "in"))
    tall = _tallest(cut.design, cut.section)
    stack = [(cut.frame_top, cut.frame_foot, f"{depth} frame")]
    if tall:
        stack.append((cut.frame_foot, foot, f"{speak(Amount(round(tall, 3), 'in'))} float"))
    for high, low, words in stack:
        if (high - low) * view.scale > 12:
            dimensions.upright_beside(canvas, (view.y(high), view.y(low)), right + 26, words, foot=right)
    label = Lettering(canvas.pen.note, 500, "middle", INK_2, canvas.pen.ground)
    names = {"left": left - over / 2, "right": right + over / 2}
    for side, x in names.items():
        canvas.text_where_free([((x, top + 4), label), ((x, top - 12), label)], side)
    canvas.text_where_free(
        [((view.x(wide / 2), top - 24), Lettering(canvas.pen.note, 600, "middle", INK))],
        f"{cut.section.mark}, looking out from the shore"
        if not cut.section.turned
        else f"{cut.section.mark}, cut across",
    )
