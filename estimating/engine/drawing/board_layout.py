"""How the boards of one section lie: where the first one starts, which way they run, what the last one is ripped to."""

from dataclasses import dataclass

from estimating.engine.drawing import dimensions
from estimating.engine.drawing.canvas import INK, Canvas, View
from estimating.engine.drawing.paper_scale import (
    CREW,
    WORDS_PX,
    CrewSheet,
    halo,
    lying,
    ringed,
    shore_words,
    standard_scale,
    wrapped,
)
from estimating.engine.result import BoardRun, Design
from estimating.engine.spec import Section

ROOM_X, ROOM_Y = 150.0, 130.0


@dataclass(frozen=True, slots=True)
class _Deck:
    section: Section
    run: BoardRun
    canvas: Canvas
    view: View

    def board(self, number: int) -> tuple[float, float, float, float]:
        """A board as a box on the sheet."""
        a, b = self.run.edges_in[number]
        over, section = self.run.overhang_in, self.section
        if section.turned and self.run.direction != "across":
            a, b = section.width_in - b, section.width_in - a
        if self.run.direction == "across":
            return self.view.box(a, -over, b, section.width_in + over)
        return self.view.box(-over, a, section.length_in + over, b)


def board_layout(design: Design, mark: str, sheet: CrewSheet) -> str:
    """The boards of a section, lying lengthwise and seen from above; the first and the last one numbered.

    Raises StopIteration for a section without boards.
    """
    section = next(s for s in design.spec.sections if s.mark == mark)
    run = next(r for r in design.boards if r.section == mark)
    fit = min((sheet.width_px - ROOM_X) / section.length_in, (sheet.height_px - ROOM_Y) / section.width_in)
    scale, _ = standard_scale(fit, metric=sheet.metric)
    canvas = Canvas(CREW)
    deck = _Deck(section, run, canvas, View(scale, 0.0, section.width_in * scale))
    boxes = [deck.board(k) for k in range(len(run.edges_in))]
    canvas.rects(boxes, width=canvas.pen.hair, fill="#FFFFFF", data_part="boards")
    _joints_under(deck, design)
    _ends(deck)
    view = deck.view
    top, x0, x1 = view.y(section.width_in), view.x(0), view.x(section.length_in)
    dimensions.across(canvas, (x0, x1), top - 30, sheet.cut(section.length_in), foot=(top, top))
    dimensions.upright(canvas, (view.y(0), top), x1 + 66, sheet.cut(section.width_in), foot=x1)
    words = f"{run.count} boards on section {mark}, each {sheet.cut(run.length_in)} long."
    return wrapped(canvas, prefix=sheet.prefix, title=f"Board layout of section {mark}, to scale", said=words)


def _ends(deck: _Deck) -> None:
    last = len(deck.run.edges_in) - 1
    for number, words in ((0, "1"), (last, str(deck.run.count))):
        x0, y0, x1, y1 = deck.board(number)
        deck.canvas.rect((x0, y0, x1, y1), width=deck.canvas.pen.cut, data_part="end-board")
        ringed(deck.canvas, ((x0 + x1) / 2, (y0 + y1) / 2), words, radius=15)
    x0, _, x1, y1 = deck.board(0)
    at = (min(x0, x1), max(deck.view.y(0), y1) + 26)
    deck.canvas.text(at, f"Start at board 1. {shore_words(deck.section)}", halo(WORDS_PX, weight=500, anchor="start"))


def _joints_under(deck: _Deck, design: Design) -> None:
    """Rings where a hinge or joint lies under the boards: those boards must come up again."""
    for edge in design.edges:
        if deck.section.mark in (edge.first, edge.second):
            a = deck.view.at(*lying(deck.section, edge.x0_in, edge.y0_in))
            b = deck.view.at(*lying(deck.section, edge.x1_in, edge.y1_in))
            deck.canvas.line(a, b, width=deck.canvas.pen.cut * 1.6, stroke=INK, data_part="joint")
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            other = edge.second if edge.first == deck.section.mark else edge.first
            upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
            shift = (24.0, 0.0) if upright else (0.0, -6.0)
            if upright and middle[0] < deck.view.x(deck.section.length_in / 2):
                shift = (-10.0, 0.0)
            at = (middle[0] + shift[0], middle[1] + shift[1])
            deck.canvas.text(at, f"joint to {other}", halo(WORDS_PX, upright=upright))
