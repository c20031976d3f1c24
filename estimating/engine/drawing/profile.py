"""The side elevation for an authority: bank, ramp, dock, bottom, chains as they hang, and every level that matters."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot

from estimating.engine.drawing.canvas import CHAIN, INK, INK_2, PAPER, Canvas, Lettering, View
from estimating.engine.drawing.chain_shape import chain_points, out_in
from estimating.engine.drawing.elevation import LADDER_ABOVE_IN, Side, draw_elevation
from estimating.engine.drawing.ground import UNKNOWN_BELOW_IN, survey
from estimating.engine.drawing.permit_sheet import Drawn, PermitSheet, draw_scale_bar, fitted
from estimating.engine.drawing.scene import Level, Scene, Trim, stage
from estimating.engine.result import Design, PlacedAnchor

STORM_DASH = "14 4 2 4"
DAY_DASH = "2 4"
BANK_IN = 48.0
PAST_IN, PAST_SHARE = 36.0, 0.14
TIE_OFF_IN = 12.0
ROOM_X, ROOM_Y = 130.0, 40.0
SAME_IN = 0.5


@dataclass(frozen=True, slots=True)
class DayLevel:
    """The level of a chosen day on the site's datum, with the day in words."""

    words: str
    level_in: float


def profile(design: Design, sheet: PermitSheet, *, day: DayLevel | None = None, trims: tuple[Trim, ...] = ()) -> Drawn:
    """Seen from the right of someone looking out, lying at normal level. Source: GEOMETRY."""
    scene = profile_scene(design, day, trims)
    from_x, to_x, floor_z, top_z = _extent(design, scene)
    fit = min((sheet.width_px - ROOM_X) / (to_x - from_x), (sheet.height_px - ROOM_Y) / (top_z - floor_z))

    def compose(scale: float) -> Canvas:
        canvas = Canvas(PAPER)
        view = View(scale, -from_x * scale, top_z * scale)
        ground = survey(scene, from_x, to_x, floor_z)
        side = Side(canvas, view, scene, design, ground, sheet.speak, True)
        draw_elevation(side)
        _chains(side)
        draw_scale_bar(canvas, sheet, scale)
        return canvas

    said = f"The dock from its right side at normal water, with {len(scene.levels)} levels and its chains."
    return fitted(sheet, fit, compose, title="Side elevation", said=said)


def profile_scene(design: Design, day: DayLevel | None, trims: tuple[Trim, ...]) -> Scene:
    """The usual scene, with storm water and the level of a day, and the depth at anchors beyond the last sounding."""
    scene, water = stage(design, trims), design.spec.place.water
    levels = list(scene.levels)
    if water.normal_in is not None:
        if water.storm_in is not None:
            levels.append(Level("Storm", water.storm_in - water.normal_in, water.storm_in, STORM_DASH))
        if day is not None:
            levels.append(Level(day.words, day.level_in - water.normal_in, day.level_in, DAY_DASH))
    return replace(
        scene,
        levels=tuple(sorted(levels, key=lambda level: -level.z)),
        bottom=(*scene.bottom, *_beyond(design, scene)),
    )


def _beyond(design: Design, scene: Scene) -> Iterator[tuple[float, float]]:
    if not scene.bottom:
        return
    last = scene.bottom[-1][0]
    for anchor in sorted(design.anchors, key=lambda a: (a.x_in, -(a.depth_in or 0.0))):
        if anchor.depth_in is not None and anchor.x_in > last + SAME_IN:
            last = anchor.x_in
            yield anchor.x_in, -anchor.depth_in


def _extent(design: Design, scene: Scene) -> tuple[float, float, float, float]:
    xs = [scene.x0, scene.x1, *(anchor.x_in for anchor in design.anchors)]
    if scene.walk is not None:
        xs += [scene.walk.box[0], scene.walk.box[2]]
    if scene.shore_x is not None:
        xs.append(scene.shore_x - BANK_IN)
    low = min((level.z for level in scene.levels), default=0.0) - 6.0
    floats = [
        deck.near_z(f.x_in) - deck.deck_in - deck.frame_in - f.height_in
        for deck in scene.decks
        for f in design.floats
        if f.section == deck.mark
    ]
    deep = [low, *floats, *(z for _, z in scene.bottom), *(-anchor.counted_depth_in for anchor in design.anchors)]
    floor = min(deep) - (0.0 if scene.bottom else UNKNOWN_BELOW_IN)
    ladder = LADDER_ABOVE_IN if any(a.symbol == "ladder" for a in design.accessories) else 0.0
    decks = max(max(d.near_z(d.x0), d.near_z(d.x1)) for d in scene.decks)
    high = max((level.z for level in scene.levels), default=0.0)
    hinge = scene.walk.hinge_z if scene.walk else 0.0
    bank = scene.bank_z if scene.shore_x is not None else 0.0
    return (
        min(xs) - 6.0,
        max(xs) + max(PAST_IN, PAST_SHARE * (max(xs) - min(xs))),
        floor,
        max(decks + max(ladder, high), hinge, bank),
    )


def _chains(side: Side) -> None:
    """Every chain as it hangs at normal level with nothing pulling; those behind one another are drawn once."""
    shown: dict[tuple[int, int], list[PlacedAnchor]] = {}
    for anchor in side.design.anchors:
        shown.setdefault((round(anchor.corner_x_in), round(anchor.x_in)), []).append(anchor)
    weights = [(anchors, _chain(side, anchors[0])) for anchors in shown.values()]
    few = len(side.design.anchors) <= 12
    for anchors, (x, y) in weights:
        names = " and ".join(anchor.mark for anchor in anchors)
        words = f"anchor{'s' if len(anchors) > 1 else ''} {names}" if few else names
        label = Lettering(side.canvas.pen.note, 500, "middle", INK_2, side.canvas.pen.ground)
        spots = [((x, y + 24), label), ((x, y + 38), label), ((x, y - 14), label)]
        side.canvas.text_where_free(spots, words)


def _chain(side: Side, anchor: PlacedAnchor) -> tuple[float, float]:
    view, canvas = side.view, side.canvas
    deck = next((d for d in side.scene.decks if d.mark == anchor.section), side.scene.decks[0])
    depth = anchor.counted_depth_in or anchor.depth_in or 0.0
    corner_z = deck.z_at(anchor.corner_x_in, anchor.corner_y_in) - deck.deck_in - deck.frame_in / 2
    reach = hypot(*out_in(anchor))
    shape = chain_points(reach_in=reach, height_in=depth + corner_z, length_in=anchor.chain_length_in - TIE_OFF_IN)
    along = (anchor.corner_x_in - anchor.x_in) / reach if reach else 0.0
    points = [view.at(anchor.x_in + out * along, up - depth) for out, up in shape]
    canvas.polyline(
        points, width=canvas.pen.thin, stroke=INK, stroke_dasharray=CHAIN, stroke_linecap="round", data_part="chain"
    )
    x, y = view.at(anchor.x_in, -depth)
    canvas.polygon(
        [(x - 7, y), (x - 4.5, y - 7), (x + 4.5, y - 7), (x + 7, y)],
        width=canvas.pen.thin,
        fill=INK,
        data_part="anchor",
    )
    return x, y
