"""What holds a dock, from above and to scale: chains, weights, and where the dock goes under the worst load."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from xml.sax.saxutils import escape

from estimating.engine.drawing import figures
from estimating.engine.drawing.canvas import (
    CHAIN,
    HIDDEN,
    INK,
    INK_2,
    SCREEN,
    TIMBER,
    WATER,
    Canvas,
    Lettering,
    Pen,
    Point,
    View,
    n,
)
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.words import listed
from estimating.engine.mooring.sides import FROM_DEG, WORDS
from estimating.engine.mooring_result import DockHeld, Drift, MooringProof
from estimating.engine.outline import Box, box_of
from estimating.engine.result import Design, PlacedAnchor

BLEED_PX = 4.0
WEIGHT_PX = 4.5
ARROW_PX = 44.0
HEAD_PX = 9.0
ROOM_PX = 54.0
MOST_LETTERED = 16
WORTH_DRAWING_IN = 2.0


@dataclass(frozen=True, slots=True)
class Moored:
    """How the plan is wanted: CSS px wide and high at most, who speaks, line weights."""

    width_px: float
    speak: Speak
    prefix: str
    tallest_px: float = 330.0
    pen: Pen = SCREEN


def mooring_plan(design: Design, proof: MooringProof, wanted: Moored) -> str:
    """The plan as SVG, or an empty string for a dock without anchors. Dashed: the dock where it drifts furthest.

    Every mark lies inside the viewBox; ids start with the prefix.
    """
    if not design.anchors:
        return ""
    drawn = _Plan(design, proof, wanted)
    return drawn.svg()


def moved(held: DockHeld, drift: Drift, x_in: float, y_in: float) -> Point:
    """Where a point of the dock lies under a load, inches in plan."""
    turn = radians(drift.yaw_deg)
    dx, dy = x_in - held.middle_x_in, y_in - held.middle_y_in
    x = held.middle_x_in + drift.dx_in + dx * cos(turn) - dy * sin(turn)
    return x, held.middle_y_in + drift.dy_in + dx * sin(turn) + dy * cos(turn)


class _Plan:
    def __init__(self, design: Design, proof: MooringProof, wanted: Moored) -> None:
        self.design, self.proof, self.wanted = design, proof, wanted
        self.boxes = {section.mark: box_of(section) for section in design.spec.sections}
        self.drifts = [
            (held, drift)
            for held in proof.docks
            if (drift := held.furthest()) is not None and drift.settled and drift.drift_in >= WORTH_DRAWING_IN
        ]
        x0, y0, x1, y1 = self._extent()
        room = wanted.width_px - 2 * ROOM_PX, wanted.tallest_px - 2 * ROOM_PX
        self.view = View(min(room[0] / max(x1 - x0, 1.0), room[1] / max(y1 - y0, 1.0)), 0.0, 0.0)

    def svg(self) -> str:
        scale = self.view.scale
        for _ in range(6):
            self.view = View(scale, 0.0, 0.0)
            canvas = self._compose()
            x0, y0, x1, y1 = canvas.bounds
            if x1 - x0 + 2 * BLEED_PX <= self.wanted.width_px:
                break
            scale *= 0.88
        width, height = x1 - x0 + 2 * BLEED_PX, y1 - y0 + 2 * BLEED_PX
        prefix = self.wanted.prefix
        return (
            f'<svg class="dwg moored" xmlns="http://www.w3.org/2000/svg" viewBox="{n(x0 - BLEED_PX)} {n(y0 - BLEED_PX)}'
            f' {n(width)} {n(height)}" width="{n(width)}" height="{n(height)}" role="img"'
            f' aria-labelledby="{prefix}-title {prefix}-desc"><title id="{prefix}-title">Anchors and chains, to scale'
            f'</title><desc id="{prefix}-desc">{escape(self._words())}</desc>{"".join(canvas.parts)}</svg>'
        )

    def _extent(self) -> tuple[float, float, float, float]:
        points = [corner for box in self.boxes.values() for corner in _corners(box)]
        points += [(anchor.x_in, anchor.y_in) for anchor in self.design.anchors]
        points += [corner for outline in self._drifted() for corner in outline]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def _drifted(self) -> Iterator[list[Point]]:
        for held, drift in self.drifts:
            for mark in held.sections:
                yield [moved(held, drift, x, y) for x, y in _corners(self.boxes[mark])]

    def _compose(self) -> Canvas:
        canvas, view, pen = Canvas(self.wanted.pen), self.view, self.wanted.pen
        decks = [view.box(*box) for box in self.boxes.values()]
        for deck in decks:
            canvas.rect(deck, width=pen.outline, fill=TIMBER, data_part="section")
        for outline in self._drifted():
            points = [view.at(x, y) for x, y in outline]
            canvas.polygon(
                points, width=pen.thin, fill="none", stroke=INK_2, stroke_dasharray=HIDDEN, data_part="drifted"
            )
        for anchor in self.design.anchors:
            corner, weight = view.at(anchor.corner_x_in, anchor.corner_y_in), view.at(anchor.x_in, anchor.y_in)
            canvas.line(
                corner, weight, width=pen.thin, stroke_dasharray=CHAIN, stroke_linecap="round", data_part="chain"
            )
        for anchor in self.design.anchors:
            weight = view.at(anchor.x_in, anchor.y_in)
            canvas.circle(weight, WEIGHT_PX, width=pen.thin, fill=INK, data_part="anchor")
        for (mark, box), deck in zip(self.boxes.items(), decks, strict=True):
            middle = view.at(*box.middle)
            size = 16.0 if min(deck[2] - deck[0], deck[3] - deck[1]) >= 20 else 13.0
            letter = Lettering(size, 600, "middle", INK)
            canvas.text_where_free([((middle[0], middle[1] + size / 3), letter)], mark)
        self._letter_anchors(canvas, decks)
        self._arrow(canvas)
        return canvas

    def _letter_anchors(self, canvas: Canvas, decks: list[Box]) -> None:
        for anchor in self.design.anchors[:MOST_LETTERED]:
            x, y = self.view.at(anchor.x_in, anchor.y_in)
            right = anchor.x_in >= anchor.corner_x_in
            out = 10 if right else -10
            label = Lettering(canvas.pen.note, 600, "start" if right else "end", INK, canvas.pen.ground)
            other = Lettering(canvas.pen.note, 600, "end" if right else "start", INK, canvas.pen.ground)
            spots = [((x + out, y + dy), label) for dy in (4, -9, 17)] + [
                ((x - out, y + dy), other) for dy in (4, -9, 17)
            ]
            if not canvas.text_where_free(spots, self._named(anchor), clear_of=decks):
                canvas.text_where_free(spots, anchor.mark, clear_of=decks)

    def _named(self, anchor: PlacedAnchor) -> str:
        away = hypot(anchor.x_in - anchor.corner_x_in, anchor.y_in - anchor.corner_y_in)
        return f"{anchor.mark}, {figures.length(self.wanted.speak, round(away))} out"

    def _arrow(self, canvas: Canvas) -> None:
        """The load that drives the dock furthest: an arrow outside the drawing, pointing the way it pushes."""
        if not self.drifts:
            return
        _, drift = max(self.drifts, key=lambda one: one[1].drift_in)
        x0, y0, x1, y1 = canvas.bounds
        angle = radians(drift.from_deg)
        out_x, out_y = cos(angle), -sin(angle)
        middle = (x0 + x1) / 2, (y0 + y1) / 2
        away = min(_over((x1 - x0) / 2, out_x), _over((y1 - y0) / 2, out_y)) + 8
        tip = middle[0] + out_x * away, middle[1] + out_y * away
        tail = tip[0] + out_x * ARROW_PX, tip[1] + out_y * ARROW_PX
        canvas.line(tail, tip, width=canvas.pen.outline, stroke=WATER, data_part="load")
        wing = [
            (tip[0] + HEAD_PX * (out_x + side * 0.45 * out_y), tip[1] + HEAD_PX * (out_y - side * 0.45 * out_x))
            for side in (1, -1)
        ]
        canvas.polygon([tip, *wing], width=canvas.pen.hair, fill=WATER, stroke=WATER)

    def _words(self) -> str:
        said = [
            f"{len(self.design.anchors)} anchors: {listed([self._named(anchor) for anchor in self.design.anchors])}."
        ]
        for held, drift in self.drifts:
            where = WORDS[FROM_DEG.index(drift.from_deg)]
            far = figures.length(self.wanted.speak, round(drift.drift_in))
            said.append(f"Pushed from {where} at {drift.level} water, {listed(list(held.sections))} drifts {far}.")
        return " ".join(said)


def _corners(box: Box) -> list[Point]:
    return [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]


def _over(half: float, share: float) -> float:
    return half / abs(share) if abs(share) > 1e-9 else float("inf")
