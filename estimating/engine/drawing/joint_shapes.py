"""The parts of a joint from above, in inches: wood, plates, bolts, pins. A mirrored joint is these shapes mirrored."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from estimating.engine.drawing.canvas import INK, Canvas, View

WOOD_IN = 1.5
PLATE_IN = 0.4  # drawn heavier than it is


@dataclass(frozen=True, slots=True)
class Shape:
    """A box (x0, y0, x1, y1), a bolt from its head to its nut, or a pin with its middle in the first two figures."""

    part: str  # wood, plate, backer, bolt, screw, pin, leaf
    x0: float
    y0: float
    x1: float
    y1: float
    of: str = ""  # whose half: a joint mark or a section

    def mirrored(self, *, over: str) -> "Shape":
        """The shape over the upright ("x") or the level ("y") line through the origin."""
        if over == "x":
            return replace(self, x0=-self.x0, x1=-self.x1)
        return replace(self, y0=-self.y0, y1=-self.y1)

    def moved(self, x: float, y: float) -> "Shape":
        return replace(self, x0=self.x0 + x, x1=self.x1 + x, y0=self.y0 + y, y1=self.y1 + y)

    def owned_by(self, mark: str) -> "Shape":
        return replace(self, of=mark)


Shapes = tuple[Shape, ...]


def mirrored(shapes: Iterable[Shape], *, over: str) -> Shapes:
    return tuple(shape.mirrored(over=over) for shape in shapes)


def spread(bolts: int, legs: int) -> tuple[int, int]:
    """How many bolts one leg shows from above, and how many stand over each other there.

    >>> spread(8, 2), spread(4, 2), spread(32, 4), spread(6, 2), spread(7, 2)
    ((2, 2), (1, 2), (4, 2), (3, 1), (4, 1))
    """
    if bolts % (legs * 2) == 0:
        return bolts // (legs * 2), 2
    return -(-bolts // legs), 1


def stations(count: int, start: float, end: float) -> Sequence[float]:
    """Evenly spread places between two ends.

    >>> stations(2, 0.0, 12.0), stations(1, 0.0, 12.0)
    ([3.0, 9.0], [6.0])
    """
    step = (end - start) / max(count, 1)
    return [start + step * (k + 0.5) for k in range(count)]


def bolts_up(xs: Iterable[float], *, head: float, nut: float, part: str = "bolt") -> Iterator[Shape]:
    """Bolts that run up or down at these places."""
    return (Shape(part, x, head, x, nut) for x in xs)


def bolts_across(ys: Iterable[float], *, head: float, nut: float, part: str = "bolt") -> Iterator[Shape]:
    return (Shape(part, head, y, nut, y) for y in ys)


def paint(canvas: Canvas, view: View, shapes: Iterable[Shape]) -> None:
    """Wood first, then iron, then bolts."""
    order = ("wood", "concrete", "backer", "plate", "leaf", "bolt", "screw", "pin")
    for shape in sorted(shapes, key=lambda one: order.index(one.part)):
        if shape.part in ("bolt", "screw"):
            _bolt(canvas, view, shape)
        elif shape.part == "pin":
            at = view.at(shape.x0, shape.y0)
            canvas.circle(
                at,
                0.6 * view.scale,
                width=canvas.pen.outline,
                fill="#FFFFFF",
                data_part="pin",
                data_of=shape.of or None,
            )
        else:
            _box(canvas, view, shape)


def _box(canvas: Canvas, view: View, shape: Shape) -> None:
    box = view.box(min(shape.x0, shape.x1), min(shape.y0, shape.y1), max(shape.x0, shape.x1), max(shape.y0, shape.y1))
    fill = {"wood": "#FFFFFF", "concrete": "#FFFFFF", "backer": "#FFFFFF"}.get(shape.part, INK)
    width = canvas.pen.outline if shape.part != "backer" else canvas.pen.thin
    canvas.rect(box, width=width, fill=fill, data_part=shape.part, data_of=shape.of or None)


def _bolt(canvas: Canvas, view: View, bolt: Shape) -> None:
    """A round head, a shank, and a nut over its lock washer; a screw has no nut."""
    a, b = view.at(bolt.x0, bolt.y0), view.at(bolt.x1, bolt.y1)
    canvas.line(a, b, width=canvas.pen.outline, data_part=bolt.part, data_of=bolt.of or None)
    canvas.circle(a, 0.4 * view.scale, width=canvas.pen.thin, fill=INK)
    if bolt.part == "screw":
        return
    upright = abs(b[0] - a[0]) < 0.01
    back = 0.33 * view.scale if (b[1] > a[1] if upright else b[0] > a[0]) else -0.33 * view.scale
    half = 0.6 * view.scale
    for shift, width in ((0.0, 4.0), (-1.6 * back, canvas.pen.thin)):
        x, y = (b[0], b[1] + shift) if upright else (b[0] + shift, b[1])
        ends = ((x - half, y), (x + half, y)) if upright else ((x, y - half), (x, y + half))
        canvas.line(*ends, width=width)
