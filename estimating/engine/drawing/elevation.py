"""The side elevation, seen from the right of someone looking out, on the plan's own x axis."""

from dataclasses import dataclass
from itertools import pairwise

from estimating.engine.drawing import dimensions, figures, symbols
from estimating.engine.drawing.canvas import (
    GRAIN,
    HIGH,
    INK,
    LOW,
    TIMBER,
    WASH,
    WATER,
    Box,
    Canvas,
    Lettering,
    Point,
    View,
)
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.ground import Ground, draw_ground, draw_water, unknown_bottom
from estimating.engine.drawing.scene import Deck, Level, Scene, Walk
from estimating.engine.result import Design

RAMP_THICK_IN = 5.5
PAD_THICK_IN = 3.6
LADDER_ABOVE_IN = 24.0
LADDER_BELOW_IN = 20.0
NAME_STEP_PX = 15.0
MARK_STEP_PX = 13.0
LEAST_DIMENSION_PX = 15.0


@dataclass(frozen=True, slots=True)
class Side:
    """What the elevation is drawn from and onto."""

    canvas: Canvas
    view: View
    scene: Scene
    design: Design
    ground: Ground
    speak: Speak
    wide: bool


def draw_elevation(side: Side) -> None:
    """Everything of the elevation, back to front."""
    draw_water(side.canvas, side.view, side.ground)
    draw_ground(side.canvas, side.view, side.ground)
    _levels(side)
    _ghosts(side)
    _afloat(side)
    _joints(side)
    if side.scene.walk is not None:
        _ramp(side, side.scene.walk)
    _ladders(side)
    _level_names(side)
    if side.wide:
        _freeboard(side)
        _depth(side)
        _slope(side)
    if side.ground.measured_to is None:
        _unknown_bottom(side)


def _unknown_bottom(side: Side) -> None:
    """The words stand in the water where it is deep enough on the sheet, else under it."""
    view, floor = side.view, side.view.y(side.ground.floor_z)
    middle = view.x((side.scene.x0 + side.scene.x1) / 2)
    deep = floor - view.y(0.0) > 3 * side.canvas.pen.note
    unknown_bottom(side.canvas, (middle, floor - 6 if deep else floor + 15), in_water=deep)


# Water


def _levels(side: Side) -> None:
    canvas, view = side.canvas, side.view
    drawn = side.scene.levels or (Level("Water", 0.0, 0.0, None),)
    for level in drawn:
        for a, b in side.ground.open_spans(level.z):
            width = canvas.pen.outline if level.z == 0 else canvas.pen.thin
            canvas.line(
                view.at(a, level.z),
                view.at(b, level.z),
                width=width,
                stroke=WATER,
                stroke_dasharray=level.dash,
                data_part="level",
            )


def _level_names(side: Side) -> None:
    canvas, view = side.canvas, side.view
    right = view.x(side.ground.to_x)
    size = canvas.pen.note + (0.5 if side.wide else 0)
    levels = side.scene.levels
    heights = spread([view.y(level.z) + 0.35 * size for level in levels], NAME_STEP_PX)
    crowded = len(levels) > 1 and min(abs(a.z - b.z) for a, b in pairwise(levels)) * view.scale < MARK_STEP_PX
    for order, (level, y) in enumerate(zip(levels, heights, strict=True)):
        shown = figures.level(side.speak, level.value_in)
        if side.wide:
            mark = view.y(level.z)
            aside = MARK_STEP_PX * order if crowded else 0.0
            symbols.level_mark(canvas, (right + 8 - aside, mark), normal=level.dash is None)
            canvas.line((right, mark), (right + 18, mark), width=canvas.pen.thin, stroke=WATER)
            canvas.text((right + 21, y), f"{level.name} {shown}", Lettering(size, 600, "start", WATER))
        else:
            canvas.text((right + 6, y), f"{level.name.lower()} {shown}", Lettering(size, 600, "start", WATER))
    if not levels:
        label = Lettering(size, 500, "start", WATER)
        for line, words in enumerate(("water level", "not known")):
            canvas.text((right + 6, view.y(0.0) + 0.35 * size + line * NAME_STEP_PX), words, label)


def spread(heights: list[float], step: float) -> list[float]:
    """Push names apart, top first, until each has its own line.

    >>> spread([10, 12, 40], 15)
    [10, 25, 40]
    """
    placed: list[float] = []
    for height in heights:
        placed.append(max(height, placed[-1] + step) if placed else height)
    return placed


def _ghosts(side: Side) -> None:
    """Where ramp and deck lie at high and at low water."""
    canvas, view, walk = side.canvas, side.view, side.scene.walk
    if walk is None or not walk.along_x or not walk.hinge_known:
        return
    for level, dash in ((lv, lv.dash) for lv in side.scene.levels if lv.dash in (HIGH, LOW)):
        reach = walk.at_level(level.z)
        if reach is None:
            continue
        run, _ = reach
        away = 1 if walk.dock_x > walk.shore_x else -1
        foot = walk.shore_x + run * away
        deck_z = walk.dock_z + level.z
        far = foot + (side.scene.x1 - walk.dock_x if away > 0 else side.scene.x0 - walk.dock_x)
        lines = [
            (view.at(walk.shore_x, walk.hinge_z), view.at(foot, deck_z)),
            (view.at(foot + away, deck_z), view.at(far, deck_z)),
        ]
        canvas.lines(lines, width=canvas.pen.thin, stroke=WATER, stroke_dasharray=dash)


# The dock afloat


def _afloat(side: Side) -> None:
    """Farthest row first; floats only of decks that no nearer deck hides."""
    far_first = sorted(side.scene.decks, key=lambda d: -d.y0)
    seen = [d for k, d in enumerate(far_first) if not _hidden(d, far_first[k + 1 :])]
    for deck in seen:
        _floats(side, deck)
    _near_water(side)
    for deck in seen:
        _frame(side, deck)


def _hidden(deck: Deck, nearer: list[Deck]) -> bool:
    at = deck.x0
    for other in sorted(nearer, key=lambda d: d.x0):
        if other.x0 <= at + 1:
            at = max(at, other.x1)
    return at >= deck.x1 - 1


def _floats(side: Side, deck: Deck) -> None:
    canvas, view = side.canvas, side.view
    done: set[tuple[int, int]] = set()
    for item in sorted((f for f in side.design.floats if f.section == deck.mark), key=lambda f: f.y_in):
        key = (round(item.x_in), round(item.size_x_in))
        if key in done:
            continue
        done.add(key)
        x0, x1 = item.x_in - item.size_x_in / 2, item.x_in + item.size_x_in / 2
        if item.round_along == "y":
            radius, top = item.height_in / 2, deck.near_z(item.x_in) - deck.deck_in - deck.frame_in
            middle = view.at(item.x_in, top - radius)
            canvas.circle(middle, radius * view.scale, width=canvas.pen.thin, fill=canvas.pen.ground, data_part="float")
            continue
        tops = [deck.near_z(x) - deck.deck_in - deck.frame_in for x in (x0, x1)]
        taper = 0.0 if item.round_along else item.size_x_in * 0.028
        corners = [
            view.at(x0, tops[0]),
            view.at(x1, tops[1]),
            view.at(x1 - taper, tops[1] - item.height_in),
            view.at(x0 + taper, tops[0] - item.height_in),
        ]
        canvas.polygon(corners, width=canvas.pen.thin, fill=canvas.pen.ground, data_part="float")
        flutes = int((x1 - x0) * view.scale / 9)
        if flutes > 1 and not item.round_along:
            symbols.float_flutes(canvas, corners, flutes - 1)


def _near_water(side: Side) -> None:
    """The surface in front of the floats."""
    view = side.view
    start, end = view.at(side.scene.x0 - 4, 0.0), view.at(side.scene.x1 + 4, 0.0)
    side.canvas.line(start, end, width=side.canvas.pen.outline, stroke=WATER)


def _frame(side: Side, deck: Deck) -> None:
    canvas, view = side.canvas, side.view
    left, right = deck.near_z(deck.x0), deck.near_z(deck.x1)
    under = deck.deck_in
    body = [
        view.at(deck.x0, left - under),
        view.at(deck.x1, right - under),
        view.at(deck.x1, right - under - deck.frame_in),
        view.at(deck.x0, left - under - deck.frame_in),
    ]
    canvas.polygon(body, width=canvas.pen.outline, fill=TIMBER, data_part="frame", data_mark=deck.mark)
    long = (deck.x1 - deck.x0) * view.scale
    if long > 60 and deck.frame_in * view.scale > 6:
        for share, dash, start, stop in ((0.35, "40 6 14 5", 9, 12), (0.68, "22 7 52 4", 20, 6)):
            drop = under + deck.frame_in * share
            a = (view.x(deck.x0) + start, view.y(left - drop))
            b = (view.x(deck.x1) - stop, view.y(right - drop))
            canvas.line(a, b, width=canvas.pen.hair, stroke=GRAIN, stroke_dasharray=dash)
    top = [
        view.at(deck.x0, left),
        view.at(deck.x1, right),
        view.at(deck.x1, right - under),
        view.at(deck.x0, left - under),
    ]
    canvas.polygon(top, width=0, fill=INK, data_part="deck")


def _joints(side: Side) -> None:
    """A plate with four bolts at a rigid joint, a ring at a hinged one, where the near side shows it."""
    canvas, view = side.canvas, side.view
    decks = {d.mark: d for d in side.scene.decks}
    for edge in side.design.edges:
        if abs(edge.x0_in - edge.x1_in) > 1 or edge.first not in decks:
            continue
        x, near = edge.x0_in, min(edge.y0_in, edge.y1_in)
        if any(d.y0 < near - 1 and d.x0 < x - 1 and d.x1 > x + 1 for d in side.scene.decks):
            continue
        deck = decks[edge.first]
        top = deck.near_z(min(max(x, deck.x0), deck.x1)) - deck.deck_in
        middle = view.at(x, top - deck.frame_in / 2)
        if edge.kind == "hinged":
            symbols.hinge_ring(canvas, middle, min(2.8, deck.frame_in * view.scale / 2.2))
        else:
            _side_plate(side, middle, deck.frame_in)


def _side_plate(side: Side, middle: Point, frame_in: float) -> None:
    half_x, half_y = 5 * side.view.scale, frame_in * 0.43 * side.view.scale
    x, y = middle
    canvas = side.canvas
    canvas.rect((x - half_x, y - half_y, x + half_x, y + half_y), width=canvas.pen.thin, fill=canvas.pen.ground)
    if half_x > 4:
        for dx in (-0.6, 0.6):
            for dy in (-0.52, 0.52):
                canvas.circle((x + half_x * dx, y + half_y * dy), 1, width=0, fill=INK, stroke="none")


def _ladders(side: Side) -> None:
    view = side.view
    for item in side.design.accessories:
        deck = next((d for d in side.scene.decks if d.mark == item.section), None)
        if item.symbol != "ladder" or deck is None:
            continue
        top = deck.near_z(min(max(item.x_in, deck.x0), deck.x1))
        half = 8.0 if item.edge in ("left", "right") else 2.0
        shift = {"lake": 2.0, "shore": -2.0}.get(item.edge, 0.0)
        x = item.x_in + shift
        box = view.box(x - half, min(top - LADDER_BELOW_IN - 10, -LADDER_BELOW_IN), x + half, top + LADDER_ABOVE_IN)
        symbols.ladder_side(side.canvas, box, rung_px=12 * view.scale)


# The ramp


def _ramp(side: Side, walk: Walk) -> None:
    canvas, view = side.canvas, side.view
    if not walk.along_x:
        low, high = sorted((walk.dock_z, walk.hinge_z))
        box = view.box(walk.dock_x - walk.width / 2, low - RAMP_THICK_IN, walk.dock_x + walk.width / 2, high)
        canvas.rect(box, width=canvas.pen.outline, fill=TIMBER, data_part="ramp")
        return
    run, drop = walk.dock_x - walk.shore_x, walk.hinge_z - walk.dock_z
    across = (RAMP_THICK_IN * drop / walk.length, RAMP_THICK_IN * run / walk.length)
    away = 1 if run > 0 else -1
    body = [
        view.at(walk.shore_x, walk.hinge_z),
        view.at(walk.dock_x, walk.dock_z),
        view.at(walk.dock_x - across[0] * away, walk.dock_z - across[1] * away),
        view.at(walk.shore_x - across[0] * away, walk.hinge_z - across[1] * away),
    ]
    canvas.polygon(body, width=canvas.pen.outline, fill=TIMBER, data_part="ramp")
    if walk.edge == "shore":
        pad = view.box(side.ground.from_x, walk.hinge_z - PAD_THICK_IN, walk.shore_x, walk.hinge_z)
        canvas.rect(pad, width=canvas.pen.outline, fill=canvas.pen.ground)
    for x, z in ((walk.shore_x, walk.hinge_z), (walk.dock_x, walk.dock_z)):
        radius = min(2.8, max(1.8, 1.9 * view.scale))
        symbols.hinge_ring(canvas, view.at(x, z - RAMP_THICK_IN / 2), radius, width=canvas.pen.outline)


def _slope(side: Side) -> None:
    """The slope at the lowest level drawn, and its leader; the words when the hinge is not known."""
    walk, view, canvas = side.scene.walk, side.view, side.canvas
    if walk is None or not walk.along_x:
        return
    middle = (walk.shore_x + walk.dock_x) / 2
    label = Lettering(canvas.pen.note, 600, "middle", WATER, WASH)
    if not walk.hinge_known:
        plain = Lettering(canvas.pen.note, 500, "middle", label.fill, canvas.pen.ground)
        canvas.text_where_free([((view.x(middle), view.y(walk.hinge_z) - 9), plain)], "hinge height not known")
        return
    lowest = min(side.scene.levels, key=lambda level: level.z)
    reach = walk.at_level(lowest.z)
    if reach is None or abs(reach[1]) < 1:
        return
    run, drop = reach
    words = f"1:{ratio(run, drop)} at {lowest.name.lower()}"
    for share in (0.72, 0.84, 0.93, 0.6, 0.5):
        on_ramp = view.at(
            walk.shore_x + (walk.dock_x - walk.shore_x) / walk.run * run * share, walk.hinge_z - drop * share
        )
        spot = (on_ramp[0] - 14, max(on_ramp[1], view.y(0.0)) + 24)
        if _in_water(side, label.box(spot, words)) and canvas.text_where_free([(spot, label)], words):
            canvas.line((on_ramp[0] - 8, spot[1] - 11), on_ramp, width=canvas.pen.hair, stroke=WATER)
            return
    above = Lettering(canvas.pen.note, 600, "middle", WATER, canvas.pen.ground)
    canvas.text_where_free([((view.x(middle), view.y((walk.hinge_z + walk.dock_z) / 2) - 14), above)], words)


def _in_water(side: Side, box: Box) -> bool:
    """Whether a box on the sheet lies between the surface and the bottom."""
    view = side.view
    z = (view.base_px - box[3]) / view.scale
    return all(side.ground.z_at((px - view.left_px) / view.scale) <= z - 2 for px in (box[0], box[2]))


def ratio(run_in: float, drop_in: float) -> str:
    """How many along for one down, one decimal below ten.

    >>> ratio(144, 45), ratio(144, 7.2)
    ('3.2', '20')
    """
    along = run_in / abs(drop_in)
    return f"{along:.1f}" if along < 9.95 else f"{along:.0f}"


# Figures


def _freeboard(side: Side) -> None:
    """Deck above water at the lake end, and at the shore end where it differs."""
    scene = side.scene
    lakeward = max(scene.decks, key=lambda d: (d.x1, -d.y0))
    shoreward = min(scene.decks, key=lambda d: (d.x0, d.y0))
    lake_z, shore_z = lakeward.near_z(lakeward.x1), shoreward.near_z(shoreward.x0)
    room = side.view.x(side.ground.to_x) - side.view.x(scene.x1)
    _height(side, scene.x1, lake_z, 22 if room > 80 else 13)
    if abs(shore_z - lake_z) >= 0.05:
        _height(side, scene.x0, shore_z, -16)


def _height(side: Side, x_in: float, z: float, off: float) -> None:
    view = side.view
    if z * view.scale < LEAST_DIMENSION_PX:
        return
    words, edge = figures.height(side.speak, z), view.x(x_in)
    dimensions.upright_beside(side.canvas, (view.y(z), view.y(0.0)), edge + off, words, foot=edge)


def _depth(side: Side) -> None:
    """Water at the outermost measured point under the dock, at the lowest level drawn."""
    scene, view, canvas = side.scene, side.view, side.canvas
    inside = [p for p in scene.bottom if scene.x0 <= p[0] <= side.ground.to_x]
    if not inside:
        return
    x_in, z = min(inside, key=lambda p: abs(p[0] - scene.x1))
    lowest = min(scene.levels, key=lambda level: level.z, default=Level("the reading", 0.0, 0.0, None))
    if lowest.z - z <= 0:
        return
    x = max(view.x(x_in), view.x(scene.x1) + 23)
    words = f"{figures.level(side.speak, lowest.z - z)} at {lowest.name.lower()}"
    bottom = max(z, side.ground.floor_z)
    if bottom > z:
        words += ", deeper than drawn"
    ends = (view.y(lowest.z), view.y(bottom))
    if ends[1] - ends[0] < LEAST_DIMENSION_PX:
        return
    canvas.lines([((x, min(ends) - 3.6), (x, max(ends) + 3.6))], width=canvas.pen.hair, stroke=INK)
    strokes = [((x - 4.3, y + 4.3), (x + 4.3, y - 4.3)) for y in ends]
    canvas.lines(strokes, width=canvas.pen.outline)
    label = Lettering(canvas.pen.figure, 600, "end", INK, WASH)
    middle = (ends[0] + ends[1]) / 2 + 5
    canvas.text_where_free([((x - 7, middle), label), ((x - 7, ends[1] - 4), label)], words)
