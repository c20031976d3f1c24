"""The signs of the drawing: level marks, hinge rings, anchors, ladders, cleats, plates, hatches."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from estimating.engine.drawing.canvas import CHAIN, INK, INK_2, RULE, WATER, Box, Canvas, Lettering, Point, n


def level_mark(canvas: Canvas, at: Point, *, normal: bool) -> None:
    """A triangle standing on the water line; the normal level has three shortening strokes under it."""
    x, y = at
    pen = canvas.pen
    canvas.polygon([(x - 6, y - 9), (x + 6, y - 9), (x, y)], width=pen.thin, fill=pen.ground, stroke=WATER)
    if normal:
        strokes = [((x - half, y + down), (x + half, y + down)) for half, down in ((5.4, 3), (3.3, 6), (1.3, 9))]
        canvas.lines(strokes, width=pen.thin, stroke=WATER)


def hinge_ring(canvas: Canvas, at: Point, radius: float, *, width: float | None = None) -> None:
    canvas.circle(at, radius, width=width or canvas.pen.thin, fill=canvas.pen.ground, data_part="hinge")


def ringed_letter(canvas: Canvas, at: Point, mark: str, room_px: float) -> None:
    """A section's capital in its ring, or bare where the ring would not fit the section."""
    x, y = at
    size = 16 if room_px >= 32 else 13
    spot = (x, y + 0.34 * size)
    if room_px < 24:
        bare = Lettering(size, 600, "middle", INK, halo=canvas.pen.ground)
        canvas.text_where_free([(spot, bare)], mark)
        return
    canvas.circle(at, 13 if room_px >= 32 else 10, width=canvas.pen.outline, fill=canvas.pen.ground)
    canvas.text(spot, mark, Lettering(size, 600, "middle", INK))


def broken_chain(canvas: Canvas, corner: Point, weight: Point, *, broken: bool, radius: float) -> None:
    """A dotted chain from a corner to its weight; two strokes across it say that it is drawn short."""
    canvas.line(corner, weight, width=canvas.pen.thin, stroke_dasharray=CHAIN, stroke_linecap="round")
    if broken:
        (x0, y0), (x1, y1) = corner, weight
        along = ((x1 - x0) / max(hypot(x1 - x0, y1 - y0), 1e-9), (y1 - y0) / max(hypot(x1 - x0, y1 - y0), 1e-9))
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        canvas.circle(middle, 3.4, width=0, fill=canvas.pen.ground, stroke="none")
        strokes = []
        for shift in (-1.7, 1.7):
            cx, cy = middle[0] + along[0] * shift, middle[1] + along[1] * shift
            strokes.append(((cx + along[1] * 5, cy - along[0] * 5), (cx - along[1] * 5, cy + along[0] * 5)))
        canvas.lines(strokes, width=canvas.pen.thin)
    canvas.circle(weight, radius, width=canvas.pen.thin, fill=INK, data_part="anchor")


def ladder_plan(canvas: Canvas, box: Box, *, upright: bool) -> None:
    canvas.rect(box, width=canvas.pen.thin, fill=canvas.pen.ground, data_part="ladder")
    x0, y0, x1, y1 = box
    thirds = (1 / 3, 2 / 3)
    if upright:
        rungs = [((x0, y0 + (y1 - y0) * t), (x1, y0 + (y1 - y0) * t)) for t in thirds]
    else:
        rungs = [((x0 + (x1 - x0) * t, y0), (x0 + (x1 - x0) * t, y1)) for t in thirds]
    canvas.lines(rungs, width=canvas.pen.hair)


def ladder_side(canvas: Canvas, box: Box, *, rung_px: float) -> None:
    x0, y0, x1, y1 = box
    count = max(2, round((y1 - y0) / max(rung_px, 4)))
    rungs = [((x0, y0 + (y1 - y0) * k / count), (x1, y0 + (y1 - y0) * k / count)) for k in range(count + 1)]
    canvas.lines([((x0, y0), (x0, y1)), ((x1, y0), (x1, y1)), *rungs], width=canvas.pen.thin, data_part="ladder")


def corner_plate(canvas: Canvas, at: Point, leg_px: float, toward: tuple[int, int]) -> None:
    """A heavy L whose legs run from the corner into the section."""
    (x, y), (right, down) = at, toward
    d = f"M{n(x + right * leg_px)} {n(y)}H{n(x)}V{n(y + down * leg_px)}"
    canvas.path(d, width=canvas.pen.cut * 1.5, data_part="plate")


def tee_plate(canvas: Canvas, at: Point, leg_px: float, stem: tuple[int, int]) -> None:
    """A heavy T: a bar along the carrying member and a stem along the one that ends there."""
    (x, y), (right, down) = at, stem
    bar_x, bar_y = leg_px * 0.7 * abs(down), leg_px * 0.7 * abs(right)
    bar = f"M{n(x - bar_x)} {n(y - bar_y)}L{n(x + bar_x)} {n(y + bar_y)}"
    stalk = f"M{n(x)} {n(y)}L{n(x + right * leg_px)} {n(y + down * leg_px)}"
    canvas.path(bar + stalk, width=canvas.pen.cut, data_part="plate")


def concrete(canvas: Canvas, box: Box) -> None:
    """Dots scattered the same way every time, a little denser than one to a square of 14 px."""
    x0, y0, x1, y1 = box
    rows, columns = max(2, int((y1 - y0) / 11)), max(2, int((x1 - x0) / 14))
    for row in range(rows):
        for column in range(columns):
            drift = ((row * 7 + column * 13) % 10) / 10
            x = x0 + (column + 0.25 + drift * 0.6) * (x1 - x0) / columns
            y = y0 + (row + 0.3 + (1 - drift) * 0.5) * (y1 - y0) / rows
            if x < x1 - 2 and y < y1 - 2:
                canvas.circle((x, y), 0.9, width=0, fill=INK_2, stroke="none")


def float_flutes(canvas: Canvas, corners: Sequence[Point], count: int) -> None:
    """Upright flutes down the side of a float, clear of its edges."""
    (tl, tr, br, bl) = corners
    strokes = []
    for k in range(1, count + 1):
        share = k / (count + 1)
        top = (tl[0] + (tr[0] - tl[0]) * share, tl[1] + (tr[1] - tl[1]) * share)
        low = (top[0], bl[1] + (br[1] - bl[1]) * share)
        tall = low[1] - top[1]
        strokes.append(((top[0], top[1] + tall * 0.22), (low[0], low[1] - tall * 0.2)))
    canvas.lines(strokes, width=canvas.pen.hair, stroke=RULE)


def ground_hatch(canvas: Canvas, points: Sequence[Point]) -> None:
    """Slanted strokes under the ground line, every third longer."""
    strokes, count = [], 0
    for (x0, y0), (x1, y1) in pairwise(points):
        length = hypot(x1 - x0, y1 - y0)
        for step in range(int(length // 14)):
            share = (step * 14 + 7) / length
            x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share + 1.5
            reach = (8.4, 9.6) if count % 3 == 0 else (5.2, 6)
            strokes.append(((x, y), (x - reach[0], y + reach[1])))
            count += 1
    canvas.lines(strokes, width=canvas.pen.hair, stroke=INK_2)


def water_hatch(canvas: Canvas, spans: Sequence[tuple[float, float, float]]) -> None:
    """Level strokes that shorten and thin out with depth; each span is (y, from x, to x), top first."""
    for depth, (y, x0, x1) in enumerate(spans):
        if x1 - x0 > 8:
            on, off = 26 * 0.8**depth, 10 * 1.35**depth
            canvas.line((x0, y), (x1, y), width=canvas.pen.hair, stroke=WATER, stroke_dasharray=f"{on:.2f} {off:.2f}")


def scale_bar(canvas: Canvas, at: Point, step_px: float, marks: Sequence[str]) -> None:
    """Four boxes, black and open by turns, with three figures above."""
    x, y = at
    for k in range(4):
        fill = INK if k % 2 == 0 else canvas.pen.ground
        canvas.rect((x + k * step_px, y, x + (k + 1) * step_px, y + 6), width=canvas.pen.hair, fill=fill)
    for k, words in zip((0, 2, 4), marks, strict=True):
        anchor = "start" if k == 0 else "middle"
        canvas.text((x + k * step_px, y - 5), words, Lettering(canvas.pen.note, 500, anchor))
