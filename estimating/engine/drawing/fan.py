"""The small picture of a ramp at three levels: one hinge, a line to a level, the slope at its end."""

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from estimating.engine.drawing.canvas import HIGH, INK, INK_2, LOW, WATER, Canvas, Lettering, Pen, n
from estimating.engine.drawing.elevation import spread

WIDTH = 236.0
REACH = 120.0
DASHES = {"high": HIGH, "low": LOW}
ON_WHITE = Pen(cut=2.6, outline=1.8, thin=1.15, hair=0.75, ground="#FFFFFF", figure=17, note=14)


@dataclass(frozen=True, slots=True)
class Ray:
    """A ramp at one level: its name, how far it drops for one out (below zero it rises), and the slope in words."""

    level: str
    drop_share: float
    words: str


def slope_fan(rays: Sequence[Ray], *, prefix: str) -> str:
    """The rays from one hinge, steepest at the bottom, to scale with each other."""
    canvas = Canvas(ON_WHITE)
    ordered = sorted(rays, key=lambda ray: ray.drop_share)
    tips = []
    for ray in ordered:
        length = (1 + ray.drop_share**2) ** 0.5
        tips.append((10 + REACH / length, REACH * ray.drop_share / length))
    for ray, tip in zip(ordered, tips, strict=True):
        width = canvas.pen.thin if ray.level in DASHES else canvas.pen.cut
        canvas.line(
            (10, 0), tip, width=width, stroke=WATER, stroke_dasharray=DASHES.get(ray.level), data_part=ray.level
        )
    for ray, tip, y in zip(ordered, tips, spread([tip[1] + 6 for tip in tips], 19), strict=True):
        canvas.text((tip[0] + 8, y), ray.words, Lettering(17, 600, "start", INK))
        canvas.text((188, y), ray.level, Lettering(14, 500, "start", INK_2))
    canvas.circle((10, 0), 4, width=canvas.pen.outline, fill=canvas.pen.ground)
    top, low = canvas.bounds[1] - 4, canvas.bounds[3] + 4
    said = ", ".join(f"{ray.words} at {ray.level} water" for ray in ordered)
    return (
        f'<svg class="dwg" xmlns="http://www.w3.org/2000/svg" viewBox="0 {n(top)} {n(WIDTH)} {n(low - top)}"'
        f' width="{n(WIDTH)}" height="{n(low - top)}" role="img" aria-labelledby="{prefix}-title {prefix}-desc">'
        f'<title id="{prefix}-title">Ramp slope at each level</title>'
        f'<desc id="{prefix}-desc">{escape(said)}.</desc>{"".join(canvas.parts)}</svg>'
    )
