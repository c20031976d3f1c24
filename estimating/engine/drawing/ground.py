"""The bottom in section: from the bank through the measured depths, and the water over it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from estimating.engine.drawing import symbols
from estimating.engine.drawing.canvas import INK_2, WASH, Canvas, Lettering, Point, View
from estimating.engine.drawing.scene import Scene

HATCH_DEPTHS_PX = (7, 16.8, 28.7, 43.2, 60.9, 82.5, 108.9, 141.0, 180.0)
BANK_SLOPE = 0.6
UNKNOWN_BELOW_IN = 30.0


@dataclass(frozen=True, slots=True)
class Ground:
    """The profile drawn, outward, in inches; `measured_to` is the x after which it is only carried on level."""

    points: tuple[tuple[float, float], ...]
    measured_to: float | None  # None: no depth was measured
    from_x: float
    to_x: float
    floor_z: float

    def z_at(self, x_in: float) -> float:
        """Height of the profile at x; the floor of the drawing where nothing is known."""
        for (x0, z0), (x1, z1) in pairwise(self.points):
            if x0 <= x_in <= x1:
                return max(z0, z1) if x1 == x0 else z0 + (z1 - z0) * (x_in - x0) / (x1 - x0)
        return self.floor_z

    def open_spans(self, z_in: float) -> Iterator[tuple[float, float]]:
        """The stretches from left to right where the profile lies below a height."""
        stops = [self.from_x, *self._crossings(z_in), self.to_x]
        for a, b in pairwise(stops):
            if b > a and self.z_at((a + b) / 2) < z_in:
                yield a, b

    def _crossings(self, z_in: float) -> list[float]:
        found = []
        for (x0, z0), (x1, z1) in pairwise(self.points):
            if min(z0, z1) < z_in <= max(z0, z1):
                found.append(x0 + (x1 - x0) * (z_in - z0) / (z1 - z0))
        return sorted(found)


def survey(scene: Scene, from_x: float, to_x: float, floor_z: float) -> Ground:
    """The profile between two ends of the drawing, cut off at its floor."""
    points: list[tuple[float, float]] = []
    if scene.shore_x is not None:
        points += [(from_x, scene.bank_z), (scene.shore_x, scene.bank_z)]
        if not scene.bottom:
            points += _bank_foot(scene, floor_z)
    measured = [(x, max(z, floor_z)) for x, z in scene.bottom if not points or x > points[-1][0]]
    if measured:
        points += measured
        if scene.shore_x is None and measured[0][0] > from_x:
            points.insert(0, (from_x, measured[0][1]))
        if points[-1][0] < to_x:
            points.append((to_x, points[-1][1]))
    clipped = _clip(points, from_x, to_x)
    return Ground(tuple(clipped), measured[-1][0] if measured else None, from_x, to_x, floor_z)


def _bank_foot(scene: Scene, floor_z: float) -> list[tuple[float, float]]:
    """As much of the bank as goes under water; below that nothing is known, and the foot stands for it."""
    low = max(-UNKNOWN_BELOW_IN / 2, floor_z)
    foot = scene.shore_x + (scene.bank_z - low) * BANK_SLOPE
    return [(foot, low), (foot, floor_z)]


def _clip(points: list[tuple[float, float]], from_x: float, to_x: float) -> list[tuple[float, float]]:
    kept: list[tuple[float, float]] = []
    for (x0, z0), (x1, z1) in pairwise(points):
        a, b = max(x0, from_x), min(x1, to_x)
        if a > b or (a == b and x0 != x1):
            continue
        ends = [(x, z1 if x1 == x0 else z0 + (z1 - z0) * (x - x0) / (x1 - x0)) for x in (a, b)]
        for end in ends:
            if not kept or end != kept[-1]:
                kept.append(end)
    return kept


def draw_water(canvas: Canvas, view: View, ground: Ground) -> None:
    """The wash between the normal surface and the bottom, and strokes that thin out with depth."""
    for a, b in ground.open_spans(0.0):
        inner = [p for p in ground.points if a < p[0] < b and p[1] < 0]
        under = [(a, ground.z_at(a)), *inner, (b, ground.z_at(b))]
        under = [(x, min(z, 0.0)) for x, z in under]
        if ground.measured_to is None:
            foot = inner[-1][0] if inner else a
            under = [(a, min(0.0, ground.z_at(a))), *inner, (foot, ground.floor_z), (b, ground.floor_z)]
        outline = [view.at(a, 0.0), *(view.at(x, z) for x, z in under), view.at(b, 0.0)]
        canvas.polygon(outline, width=0, fill=WASH, stroke="none", data_part="water")
    spans = []
    for depth in HATCH_DEPTHS_PX:
        z = -depth / view.scale
        if z > ground.floor_z:
            spans += [(view.y(z), view.x(a) + 8, view.x(b)) for a, b in ground.open_spans(z)][:1]
    symbols.water_hatch(canvas, spans)


def draw_ground(canvas: Canvas, view: View, ground: Ground) -> None:
    """The ground line where it was measured, dashed where it is only carried on, and words where it is unknown."""
    points = [view.at(x, z) for x, z in ground.points]
    if ground.measured_to is None:
        bank = points[:-1]
        if bank:
            canvas.polyline(bank, width=canvas.pen.cut, data_part="ground")
            symbols.ground_hatch(canvas, bank)
        return
    solid = [p for p in ground.points if p[0] <= ground.measured_to]
    beyond = [p for p in ground.points if p[0] >= ground.measured_to]
    if len(solid) > 1:
        drawn = [view.at(*p) for p in solid]
        canvas.polyline(drawn, width=canvas.pen.cut, data_part="ground")
        symbols.ground_hatch(canvas, drawn)
    if len(beyond) > 1:
        canvas.polyline([view.at(*p) for p in beyond], width=canvas.pen.thin, stroke_dasharray="8 5")


def unknown_bottom(canvas: Canvas, at: Point, *, in_water: bool) -> None:
    label = Lettering(canvas.pen.note, 500, "middle", INK_2, WASH if in_water else canvas.pen.ground)
    canvas.text_where_free([(at, label), ((at[0], at[1] + 16), label)], "bottom not measured")
