"""Plan and side elevation as a DXF drawing, full size, on layers named in plain words, dimensions as lines and text.

The plan lies with the shore at x 0 and the water to the right, the elevation below it on the same x axis. Inches where
the firm works in feet, millimetres where it works in metres: the header says which.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO
from math import hypot
from typing import TYPE_CHECKING, Any

from estimating.engine.drawing.chain_shape import chain_points, out_in
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.profile import TIE_OFF_IN, DayLevel, profile_scene
from estimating.engine.drawing.scene import Deck, Scene
from estimating.engine.drawing.site_plan import Bounds
from estimating.engine.permitted import SideLines
from estimating.engine.permitted.measures import built_boxes, landing_y_in
from estimating.engine.reasons import Amount, plain
from estimating.engine.result import Design, PlacedAnchor

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

MM_PER_IN = 25.4
INCHES, MILLIMETRES = 1, 4
LETTER_IN, TICK_IN, ROW_IN = 5.0, 2.0, 16.0
BETWEEN_IN = 72.0
PAST_IN = 60.0
RAMP_THICK_IN = 5.5
LAYERS = (
    # name, colour number of the format, line pattern, width in hundredths of a millimetre
    ("Sections", 7, "CONTINUOUS", 50),
    ("Dock from the side", 7, "CONTINUOUS", 50),
    ("Deck boards", 8, "CONTINUOUS", 13),
    ("Floats", 5, "DASHED", 25),
    ("Ramp", 7, "CONTINUOUS", 35),
    ("Chains", 8, "DOT", 25),
    ("Anchors", 7, "CONTINUOUS", 35),
    ("Shoreline", 3, "CONTINUOUS", 50),
    ("Bottom", 3, "CONTINUOUS", 50),
    ("Side lines", 6, "DASHDOT", 35),
    ("Setbacks", 6, "DASHED", 18),
    ("Water levels", 5, "DASHED", 25),
    ("Dimensions", 8, "CONTINUOUS", 18),
    ("Notes", 7, "CONTINUOUS", 18),
)
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class DxfSheet:
    """In whose units, with which title, and the level of a day to show."""

    speak: Speak = plain
    metric: bool = False
    title: str = ""
    day: DayLevel | None = None


def dxf_drawing(design: Design, bounds: Bounds, sheet: DxfSheet) -> str:
    """The drawing as the text of a DXF file (R2010). Source: GEOMETRY."""
    # Loading ezdxf takes longer than most drawings: only who exports pays for it.
    import ezdxf

    doc = ezdxf.new("R2010", setup=["linetypes"], units=MILLIMETRES if sheet.metric else INCHES)
    doc.header["$MEASUREMENT"] = 1 if sheet.metric else 0
    doc.header["$LUNITS"] = 2 if sheet.metric else 4
    doc.header["$LTSCALE"] = 6.0 * (MM_PER_IN if sheet.metric else 1.0)
    for name, colour, pattern, width in LAYERS:
        doc.layers.add(name, color=colour, linetype=pattern, lineweight=width)
    space = doc.modelspace()
    pencil = _Pencil(space, MM_PER_IN if sheet.metric else 1.0)
    scene = profile_scene(design, sheet.day, ())
    _plan(pencil, design, scene, bounds, sheet)
    lowest = min([scene.y0, *(a.y_in for a in design.anchors), *_line_ys(design, bounds)]) - 4 * ROW_IN
    _elevation(pencil.moved(lowest - BETWEEN_IN - _highest(scene)), design, scene, sheet)
    return _text(doc, space)


def _text(doc: "Drawing", space: "Modelspace") -> str:
    from ezdxf import bbox

    box = bbox.extents(space, fast=True)
    doc.header["$EXTMIN"], doc.header["$EXTMAX"] = tuple(box.extmin), tuple(box.extmax)
    doc.set_modelspace_vport(height=box.size.y * 1.1, center=(box.center.x, box.center.y))
    out = StringIO()
    doc.write(out)
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class _Pencil:
    """Draws inches of the dock in the units of the file, so far down the sheet."""

    space: Any
    per_in: float
    up_in: float = 0.0

    def moved(self, up_in: float) -> "_Pencil":
        return _Pencil(self.space, self.per_in, up_in)

    def at(self, point: Point) -> Point:
        return point[0] * self.per_in, (point[1] + self.up_in) * self.per_in

    def line(self, layer: str, start: Point, end: Point) -> None:
        self.space.add_line(self.at(start), self.at(end), dxfattribs={"layer": layer})

    def path(self, layer: str, points: Sequence[Point], *, close: bool = False) -> None:
        drawn = [self.at(point) for point in points]
        self.space.add_lwpolyline(drawn, close=close, dxfattribs={"layer": layer})

    def box(self, layer: str, box: tuple[float, float, float, float]) -> None:
        x0, y0, x1, y1 = box
        self.path(layer, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True)

    def ring(self, layer: str, at: Point, radius_in: float) -> None:
        self.space.add_circle(self.at(at), radius_in * self.per_in, dxfattribs={"layer": layer})

    def words(self, layer: str, at: Point, words: str, *, middle: bool = False, turned: bool = False) -> None:
        from ezdxf.enums import TextEntityAlignment

        facts = {"layer": layer, "height": LETTER_IN * self.per_in, "rotation": 90 if turned else 0}
        align = TextEntityAlignment.BOTTOM_CENTER if middle else TextEntityAlignment.BOTTOM_LEFT
        self.space.add_text(_spelled(words), dxfattribs=facts).set_placement(self.at(at), align=align)

    def level(self, ends: Point, y: float, words: str, foot: float) -> None:
        """A level dimension with its extension lines, 45 degree ticks, and its figure as text."""
        for x in ends:
            self.line("Dimensions", (x, foot), (x, y))
            self.line("Dimensions", (x - TICK_IN, y - TICK_IN), (x + TICK_IN, y + TICK_IN))
        self.line("Dimensions", (ends[0], y), (ends[1], y))
        self.words("Dimensions", ((ends[0] + ends[1]) / 2, y + 1), words, middle=True)

    def upright(self, ends: Point, x: float, words: str, foot: float) -> None:
        for y in ends:
            self.line("Dimensions", (foot, y), (x, y))
            self.line("Dimensions", (x - TICK_IN, y - TICK_IN), (x + TICK_IN, y + TICK_IN))
        self.line("Dimensions", (x, ends[0]), (x, ends[1]))
        self.words("Dimensions", (x - 1, (ends[0] + ends[1]) / 2), words, middle=True, turned=True)


def _spelled(words: str) -> str:
    """Marks that the lettering of drawing programs lacks, as plain ones."""
    return words.translate({0x2032: "'", 0x2033: '"', 0xA0: " ", 0x202F: " ", 0x2013: "-", 0xD7: "x"})


# The plan


def _plan(pencil: _Pencil, design: Design, scene: Scene, bounds: Bounds, sheet: DxfSheet) -> None:
    for deck in scene.decks:
        pencil.box("Sections", (deck.x0, deck.y0, deck.x1, deck.y1))
        pencil.words("Notes", ((deck.x0 + deck.x1) / 2, (deck.y0 + deck.y1) / 2), deck.mark, middle=True)
    _boards(pencil, design, scene)
    for item in design.floats:
        half_x, half_y = item.size_x_in / 2, item.size_y_in / 2
        pencil.box("Floats", (item.x_in - half_x, item.y_in - half_y, item.x_in + half_x, item.y_in + half_y))
    if scene.walk is not None:
        pencil.box("Ramp", scene.walk.box)
    for anchor in design.anchors:
        pencil.line("Chains", (anchor.corner_x_in, anchor.corner_y_in), (anchor.x_in, anchor.y_in))
        pencil.ring("Anchors", (anchor.x_in, anchor.y_in), 6.0)
        pencil.words("Notes", (anchor.x_in + 8, anchor.y_in + 2), f"Anchor {anchor.mark}")
    _lines(pencil, design, scene, bounds, sheet)
    _sizes(pencil, design, scene, bounds, sheet)


def _boards(pencil: _Pencil, design: Design, scene: Scene) -> None:
    """The near edge of every board but the first, at its true place."""
    turned = {section.mark: section.turned for section in design.spec.sections}
    for run in design.boards:
        deck = next((d for d in scene.decks if d.mark == run.section), None)
        if deck is None:
            continue
        along_x = (run.direction == "across") != turned[deck.mark]
        for low, _ in run.edges_in[1:]:
            ends = (
                ((deck.x0 + low, run.y0_in), (deck.x0 + low, run.y1_in))
                if along_x
                else ((run.x0_in, deck.y0 + low), (run.x1_in, deck.y0 + low))
            )
            pencil.line("Deck boards", *ends)


def _line_ys(design: Design, bounds: Bounds) -> list[float]:
    landing, lines = landing_y_in(design), bounds.lines or SideLines()
    sides = ((lines.to_left_in, 1), (lines.to_right_in, -1))
    return [landing + away * side for away, side in sides if away is not None]


def _lines(pencil: _Pencil, design: Design, scene: Scene, bounds: Bounds, sheet: DxfSheet) -> None:
    ys = _line_ys(design, bounds)
    shore = _shore_x(scene)
    low = min([scene.y0, *ys, *(a.y_in for a in design.anchors)]) - 12
    high = max([scene.y1, *ys, *(a.y_in for a in design.anchors)]) + 12
    pencil.line("Shoreline", (shore, low), (shore, high))
    pencil.words("Notes", (shore - 3, (low + scene.y0) / 2), "Shoreline", middle=True, turned=True)
    end = max([scene.x1, *(a.x_in for a in design.anchors)]) + PAST_IN
    landing = landing_y_in(design)
    for y in ys:
        side = 1 if y > landing else -1
        pencil.line("Side lines", (shore - PAST_IN, y), (end, y))
        pencil.words("Notes", (shore + 8, y + 2), f"{'Left' if side > 0 else 'Right'} side line")
        if bounds.setback_in:
            held = y - side * bounds.setback_in
            pencil.line("Setbacks", (shore, held), (end, held))
            asked = sheet.speak(Amount(round(bounds.setback_in, 3), "in"))
            pencil.words("Notes", (shore + 8, held + 2), f"{asked} setback")


def _sizes(pencil: _Pencil, design: Design, scene: Scene, bounds: Bounds, sheet: DxfSheet) -> None:
    def say(length_in: float) -> str:
        return sheet.speak(Amount(round(length_in, 3), "in"))

    row = scene.y0 - ROW_IN
    pencil.level((scene.x0, scene.x1), row, say(scene.x1 - scene.x0), scene.y0)
    shore = _shore_x(scene)
    if scene.x0 - shore > 1:
        flat = scene.x1 - min(design.ramp.shore_x_in, 0.0) if design.ramp and scene.walk else scene.x1 - shore
        pencil.level((shore, scene.x1), row - ROW_IN, f"{say(flat)} out from the shore", scene.y0)
    edge = scene.x1 + ROW_IN
    pencil.upright((scene.y0, scene.y1), edge, say(scene.y1 - scene.y0), scene.x1)
    boxes = built_boxes(design).values()
    near = {True: max(box.y1 for box in boxes), False: min(box.y0 for box in boxes)}
    landing = landing_y_in(design)
    for y in _line_ys(design, bounds):
        bound = near[y > landing]
        pencil.upright((bound, y), edge, say(abs(y - bound)), scene.x1)


def _shore_x(scene: Scene) -> float:
    return scene.walk.shore_x if scene.walk is not None and scene.walk.edge == "shore" else scene.shore_x or 0.0


# The elevation


def _elevation(pencil: _Pencil, design: Design, scene: Scene, sheet: DxfSheet) -> None:
    for deck in scene.decks:
        _deck_side(pencil, deck)
    for item in design.floats:
        deck = next(d for d in scene.decks if d.mark == item.section)
        top = deck.near_z(item.x_in) - deck.deck_in - deck.frame_in
        half = item.size_x_in / 2
        if item.round_along == "y":
            pencil.ring("Floats", (item.x_in, top - half), half)
            continue
        pencil.box("Floats", (item.x_in - half, top - item.height_in, item.x_in + half, top))
    shore, end = _shore_x(scene), max([scene.x1, *(a.x_in for a in design.anchors)]) + PAST_IN
    walk = scene.walk
    if walk is not None and walk.along_x:
        ends = [(walk.shore_x, walk.hinge_z), (walk.dock_x, walk.dock_z)]
        pencil.path("Ramp", [*ends, *((x, z - RAMP_THICK_IN) for x, z in reversed(ends))], close=True)
    if scene.bottom:
        bank = [(shore - PAST_IN, scene.bank_z), (shore, scene.bank_z)] if scene.shore_x is not None else []
        pencil.path("Bottom", [*bank, *scene.bottom, (end, scene.bottom[-1][1])])
    for level in scene.levels:
        pencil.line("Water levels", (shore, level.z), (end, level.z))
        pencil.words("Notes", (end + 4, level.z - LETTER_IN / 2), _level_words(level.name, level.value_in, sheet))
    for anchor in design.anchors:
        _chain_side(pencil, scene, anchor)
    pencil.words("Notes", (shore, _lowest(design, scene) - 3 * LETTER_IN), f"Side elevation. {sheet.title}".strip())


def _level_words(name: str, level_in: float, sheet: DxfSheet) -> str:
    return f"{name} {sheet.speak(Amount(level_in, 'ft_level'))}"


def _deck_side(pencil: _Pencil, deck: Deck) -> None:
    shore, lake = deck.near_z(deck.x0), deck.near_z(deck.x1)
    deep = deck.deck_in + deck.frame_in
    corners = [(deck.x0, shore), (deck.x1, lake), (deck.x1, lake - deep), (deck.x0, shore - deep)]
    pencil.path("Dock from the side", corners, close=True)
    pencil.line("Dock from the side", (deck.x0, shore - deck.deck_in), (deck.x1, lake - deck.deck_in))


def _chain_side(pencil: _Pencil, scene: Scene, anchor: PlacedAnchor) -> None:
    deck = next((d for d in scene.decks if d.mark == anchor.section), scene.decks[0])
    depth = anchor.counted_depth_in or anchor.depth_in or 0.0
    up = deck.z_at(anchor.corner_x_in, anchor.corner_y_in) - deck.deck_in - deck.frame_in / 2 + depth
    reach = hypot(*out_in(anchor))
    along = (anchor.corner_x_in - anchor.x_in) / reach if reach else 0.0
    shape = chain_points(reach_in=reach, height_in=up, length_in=anchor.chain_length_in - TIE_OFF_IN)
    pencil.path("Chains", [(anchor.x_in + out * along, above - depth) for out, above in shape])
    pencil.ring("Anchors", (anchor.x_in, -depth), 6.0)


def _highest(scene: Scene) -> float:
    decks = [deck.near_z(deck.x0) for deck in scene.decks]
    return max([*decks, scene.bank_z, *(level.z for level in scene.levels)])


def _lowest(design: Design, scene: Scene) -> float:
    return min([-24.0, *(z for _, z in scene.bottom), *(-anchor.counted_depth_in for anchor in design.anchors)])
