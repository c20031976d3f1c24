"""Standard scales of paper drawings, and lettering big enough to saw by."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from estimating.engine.drawing.canvas import INK, INK_2, Canvas, Lettering, Pen, Point, n
from estimating.engine.drawing.figures import Speak
from estimating.engine.outline import own_axes
from estimating.engine.reasons import Amount, plain
from estimating.engine.spec import Section

PX_PER_INCH_OF_PAPER = 96.0
FEET_SCALES = (
    ("1 1/2", 1.5),
    ("1", 1.0),
    ("3/4", 0.75),
    ("1/2", 0.5),
    ("3/8", 0.375),
    ("1/4", 0.25),
    ("3/16", 0.1875),
    ("1/8", 0.125),
    ("3/32", 0.09375),
    ("1/16", 0.0625),
    ("1/32", 0.03125),
    ("1/64", 0.015625),
)
METRIC_SCALES = (5, 10, 20, 25, 40, 50, 75, 100, 150, 200, 250, 400, 500, 1000)
BLACK = "#000000"
CUT_PX = 28.0  # 21 pt: a length to saw by
LEAST_BOX_PX = 14.0
WORDS_PX = 18.7  # 14 pt
CREW = Pen(cut=2.7, outline=1.9, thin=1.3, hair=0.8, ground="#FFFFFF", figure=CUT_PX, note=WORDS_PX)


@dataclass(frozen=True, slots=True)
class CrewSheet:
    """How a drawing for the crew is wanted: in whose units, how large at most (CSS px), under which prefix of ids."""

    speak: Speak = plain
    metric: bool = False
    width_px: float = 690.0
    height_px: float = 400.0
    prefix: str = "crew"

    def cut(self, length_in: float) -> str:
        """A length to saw or to set out."""
        return self.speak(Amount(round(length_in, 4), "in_cut"))


def standard_scale(fit: float, *, metric: bool) -> tuple[float, str]:
    """The largest standard scale that is no larger than `fit`, px per inch of dock, and its words.

    >>> standard_scale(4.2, metric=False), standard_scale(2.0, metric=True)
    ((4.0, '1/2 inch to the foot'), (1.92, '1:50'))
    """
    return next(((scale, words) for scale, words in _scales(metric) if scale <= fit + 1e-9), (fit, "not to scale"))


def fitted(sheet: CrewSheet, fit: float, draw: Callable[[float], Canvas]) -> tuple[Canvas, str]:
    """What `draw` makes at the largest standard scale at which it is no wider than the sheet, and the scale's words."""
    scale, words = standard_scale(fit, metric=sheet.metric)
    canvas = draw(scale)
    for _ in range(6):
        if canvas.bounds[2] - canvas.bounds[0] + 8.0 <= sheet.width_px:
            break
        scale, words = standard_scale(scale * 0.98, metric=sheet.metric)
        canvas = draw(scale)
    return canvas, words


def _scales(metric: bool) -> Iterator[tuple[float, str]]:
    if metric:
        yield from ((PX_PER_INCH_OF_PAPER / s, f"1:{s}") for s in METRIC_SCALES)
    else:
        yield from ((inches * PX_PER_INCH_OF_PAPER / 12, f"{words} inch to the foot") for words, inches in FEET_SCALES)


def bar_steps(scale: float, *, metric: bool) -> tuple[float, tuple[str, str, str]]:
    """How long one box of a scale bar is, inches of dock, and its three figures: four boxes, wide enough to tell apart.

    >>> bar_steps(1.0, metric=False), bar_steps(96 / 50, metric=True)[1]
    ((24.0, ('0', '4', '8 ft')), ('0', '0.5', '1 m'))
    """
    unit_in, unit = (1000 / 25.4, "m") if metric else (12.0, "ft")
    steps = (0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 25.0, 50.0) if metric else (0.5, 1, 2, 5, 10, 20, 50, 100)
    step = next((s for s in steps if s * unit_in * scale >= LEAST_BOX_PX), steps[-1])
    return step * unit_in, ("0", f"{2 * step:g}", f"{4 * step:g} {unit}")


def halo(size: float, *, weight: int = 600, anchor: str = "middle", upright: bool = False) -> Lettering:
    """Black letters that keep a white rim over lines."""
    return Lettering(size, weight, anchor, INK, halo="#FFFFFF", upright=upright)


def ringed(canvas: Canvas, at: Point, words: str, *, radius: float = 14.0) -> None:
    """A piece's letter or a float's number in its ring."""
    size = WORDS_PX if len(words) < 3 else WORDS_PX * 0.8
    canvas.circle(at, radius, width=canvas.pen.thin, fill="#FFFFFF")
    canvas.text((at[0], at[1] + 0.34 * size), words, Lettering(size, 600, "middle", INK))


def lying(section: Section, x_in: float, y_in: float) -> tuple[float, float]:
    """A point of the plan as it lies on the sheet: the section's length to the right, never turned over.

    A section that runs along the shore is turned a quarter, shore at the top; a plain swap of axes would show it
    from below, and its left hinges as right ones.

    >>> lying(Section("A", 96.0, 72.0, 10.0, 0.0), 20.0, 5.0), lying(
    ...     Section("B", 96.0, 72.0, 10.0, 0.0, turned=True), 20.0, 5.0)
    ((10.0, 5.0), (5.0, 62.0))
    """
    u, v = own_axes(section, x_in, y_in)
    return (u, section.width_in - v) if section.turned else (u, v)


def shore_words(section: Section) -> str:
    return "Seen from above, shore at the top." if section.turned else "Seen from above, shore to the left."


def wrapped(canvas: Canvas, *, prefix: str, title: str, said: str, margin: float = 4.0) -> str:
    """The finished SVG, as large as what is drawn on it."""
    x0, y0, x1, y1 = canvas.bounds
    x0, y0, wide, tall = x0 - margin, y0 - margin, x1 - x0 + 2 * margin, y1 - y0 + 2 * margin
    head = (
        f'<svg class="dwg" xmlns="http://www.w3.org/2000/svg" viewBox="{n(x0)} {n(y0)} {n(wide)} {n(tall)}"'
        f' width="{n(wide)}" height="{n(tall)}" role="img" aria-labelledby="{prefix}-t {prefix}-d">'
        f'<title id="{prefix}-t">{_safe(title)}</title><desc id="{prefix}-d">{_safe(said)}</desc>'
    )
    drawn = "".join(canvas.parts).replace(INK_2, BLACK).replace(INK, BLACK)
    return f"{head}{drawn}</svg>"


def _safe(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;")
