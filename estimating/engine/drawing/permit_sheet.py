"""How a drawing for an authority is wanted, and what comes of it: black on white, to a standard scale of paper."""

from collections.abc import Callable
from dataclasses import dataclass
from xml.sax.saxutils import escape

from estimating.engine.drawing import symbols
from estimating.engine.drawing.canvas import Canvas, n
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.paper_scale import bar_steps, standard_scale
from estimating.engine.reasons import plain

AIR_PX = 4.0
LEAST_SCALE = 0.01
Compose = Callable[[float], Canvas]


@dataclass(frozen=True, slots=True)
class PermitSheet:
    """The room on the paper in CSS px (96 to the inch of paper), in whose units, under which prefix of ids."""

    speak: Speak = plain
    metric: bool = False
    width_px: float = 930.0
    height_px: float = 540.0
    prefix: str = "permit"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A finished drawing; `scale` is px of paper to the inch of dock."""

    svg: str
    scale: float
    scale_words: str
    width_px: float
    height_px: float


def fitted(sheet: PermitSheet, first: float, compose: Compose, *, title: str, said: str) -> Drawn:
    """The drawing at the largest standard scale, from `first` down, at which it stays inside the room of its sheet."""
    scale, words = standard_scale(first, metric=sheet.metric)
    canvas = compose(scale)
    for _ in range(8):
        over = _over(canvas, sheet)
        if over <= 1 or scale <= LEAST_SCALE:
            break
        scale, words = standard_scale(scale * 0.999, metric=sheet.metric)
        canvas = compose(scale)
    return _finish(canvas, sheet.prefix, (scale, words), title=title, said=said)


def draw_scale_bar(canvas: Canvas, sheet: PermitSheet, scale: float) -> None:
    """Bottom left, under everything."""
    step_in, marks = bar_steps(scale, metric=sheet.metric)
    x, y = canvas.bounds[0] + 2, canvas.bounds[3] + 30
    symbols.scale_bar(canvas, (x, y), step_in * scale, marks)


def _over(canvas: Canvas, sheet: PermitSheet) -> float:
    x0, y0, x1, y1 = canvas.bounds
    return max((x1 - x0 + 2 * AIR_PX) / sheet.width_px, (y1 - y0 + 2 * AIR_PX) / sheet.height_px)


def _finish(canvas: Canvas, prefix: str, scale: tuple[float, str], *, title: str, said: str) -> Drawn:
    x0, y0, x1, y1 = canvas.bounds
    x0, y0, wide, tall = x0 - AIR_PX, y0 - AIR_PX, x1 - x0 + 2 * AIR_PX, y1 - y0 + 2 * AIR_PX
    head = (
        f'<svg class="dwg" xmlns="http://www.w3.org/2000/svg" viewBox="{n(x0)} {n(y0)} {n(wide)} {n(tall)}"'
        f' width="{n(wide)}" height="{n(tall)}" role="img" aria-labelledby="{prefix}-t {prefix}-d"'
        f' data-scale="{scale[0]:.6f}"><title id="{prefix}-t">{escape(title)}</title>'
        f'<desc id="{prefix}-d">{escape(said)}</desc>'
    )
    return Drawn(f"{head}{''.join(canvas.parts)}</svg>", *scale, wide, tall)
