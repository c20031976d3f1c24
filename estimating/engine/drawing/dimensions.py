"""Dimension lines: 45 degree slash ticks, extension lines with a gap, figure above the line."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from estimating.engine.drawing.canvas import INK, INK_2, Canvas, Lettering, text_width

Say = Callable[[float], str]
GAP = 5.0
PAST = 6.0
SLASH = 4.3


def _slashes(canvas: Canvas, points: Sequence[tuple[float, float]]) -> None:
    strokes = [((x - SLASH, y + SLASH), (x + SLASH, y - SLASH)) for x, y in points]
    canvas.lines(strokes, width=canvas.pen.outline, data_part="tick")


def across(canvas: Canvas, ends: tuple[float, float], y: float, words: str, *, foot: tuple[float, float]) -> None:
    """A level dimension at `y` over something whose two ends stand at the heights of `foot`."""
    x0, x1 = ends
    strokes = [((x, start - GAP), (x, y - PAST)) for x, start in zip(ends, foot, strict=True)]
    canvas.lines([*strokes, ((x0 - 3.6, y), (x1 + 3.6, y))], width=canvas.pen.hair, stroke=INK_2)
    _slashes(canvas, [(x0, y), (x1, y)])
    canvas.taken.append((x0, y - 1, x1, y + 1))
    label = Lettering(canvas.pen.figure, 600, "middle", INK, halo=canvas.pen.ground)
    canvas.text(((x0 + x1) / 2, y - 4.8), words, label)


def upright(canvas: Canvas, ends: tuple[float, float], x: float, words: str, *, foot: float) -> None:
    """An upright dimension at `x` beside something whose edge is at `foot`; the words run up it."""
    _upright_lines(canvas, ends, x, foot)
    label = Lettering(canvas.pen.figure, 600, "middle", INK, canvas.pen.ground, upright=True)
    canvas.text((x - 4.8, (ends[0] + ends[1]) / 2), words, label)


def upright_beside(canvas: Canvas, ends: tuple[float, float], x: float, words: str, *, foot: float) -> None:
    """The same, with the words lying beside it, on the side away from what is measured."""
    _upright_lines(canvas, ends, x, foot)
    away = 1 if x >= foot else -1
    label = Lettering(canvas.pen.figure, 600, "start" if away > 0 else "end", INK, canvas.pen.ground)
    canvas.text((x + 7 * away, (ends[0] + ends[1]) / 2 + 0.34 * canvas.pen.figure), words, label)


def _upright_lines(canvas: Canvas, ends: tuple[float, float], x: float, foot: float) -> None:
    away = 1 if x >= foot else -1
    y0, y1 = ends
    strokes = [((x, min(ends) - 3.6), (x, max(ends) + 3.6))]
    if abs(x - foot) > GAP:
        strokes += [((foot + GAP * away, y), (x + PAST * away, y)) for y in (y0, y1)]
    canvas.lines(strokes, width=canvas.pen.hair, stroke=INK_2)
    _slashes(canvas, [(x, y0), (x, y1)])


def breaks(edges: Sequence[float], within: float = 0.5) -> list[float]:
    """The distinct edges in order; edges closer than `within` inches count as one.

    >>> breaks([96, 0, 96.2, 192])
    [0, 96, 192]
    """
    kept: list[float] = []
    for edge in sorted(edges):
        if not kept or edge - kept[-1] > within:
            kept.append(edge)
    return kept


def chain_fits(marks: Sequence[float], say: Say, scale: float, size: float) -> bool:
    """Whether every figure of a chain has room between its ticks, and the chain says more than the overall."""
    return len(marks) > 2 and all((b - a) * scale >= text_width(say(b - a), size) + 6 for a, b in pairwise(marks))
