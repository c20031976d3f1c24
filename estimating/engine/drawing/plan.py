"""The plan: shore left, lake right, first section boards on, the others boards off."""

from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

from estimating.engine.drawing import figures, symbols
from estimating.engine.drawing.canvas import (
    GRAIN,
    HIDDEN,
    INK_2,
    TIMBER,
    WATER,
    Box,
    Canvas,
    Lettering,
    Point,
    View,
)
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.scene import Deck, Scene, Walk, outer_corners
from estimating.engine.result import BoardRun, Design, JointPoint, PlacedAccessory, PlacedAnchor, SharedEdge

FINEST_BOARD_PX = 2.4
CHAIN_SHOWN_PX = 51.0
MOST_CAPTIONS = 6
MOST_GROUPS = 5
MOST_NAMED_ANCHORS = 8
PLATE_IN = 6.0
INSET_PX = 1.6


@dataclass(frozen=True, slots=True)
class Plan:
    """What the plan is drawn from and onto."""

    canvas: Canvas
    view: View
    scene: Scene
    design: Design
    speak: Speak
    wide: bool
    pad_px: float

    @property
    def deck_boxes(self) -> list[Box]:
        return [self.view.box(d.x0, d.y0, d.x1, d.y1) for d in self.scene.decks]

    @property
    def solids(self) -> list[Box]:
        walk = self.scene.walk
        return [*self.deck_boxes, self.view.box(*walk.box)] if walk else self.deck_boxes


def draw_plan(plan: Plan) -> None:
    """Everything of the plan but its dimensions and lettering, back to front; chains drawn short."""
    for anchor in plan.design.anchors:
        _chain(plan, anchor)
    draw_dock(plan)


def draw_dock(plan: Plan) -> None:
    """The dock with its ramp, without what holds it."""
    canvas = plan.canvas
    if plan.scene.walk is not None:
        _ramp(plan, plan.scene.walk)
    for deck in plan.scene.decks:
        _deck(plan, deck)
    for edge in plan.design.edges:
        _joint(plan, edge)
    for joint in plan.design.joints:
        _plate(plan, joint)
    for accessory in plan.design.accessories:
        _accessory(plan, accessory)
    for deck, box in zip(plan.scene.decks, plan.deck_boxes, strict=True):
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        symbols.ringed_letter(canvas, middle, deck.mark, min(box[2] - box[0], box[3] - box[1]))


def _groups(plan: Plan) -> list[list[Deck]]:
    """The decks that share a freeboard; the whole dock as one where there are too many groups to letter."""
    groups = [[d for d in plan.scene.decks if d.mark in group.sections] for group in plan.design.level]
    return groups if len(groups) <= MOST_GROUPS else [list(plan.scene.decks)]


def letter_plan(plan: Plan) -> None:
    """Freeboards, captions and anchor names, each where there is room for it."""
    if not plan.wide:
        return
    _freeboards(plan)
    _captions(plan)
    for anchor in plan.design.anchors:
        _anchor_name(plan, anchor)


# The ramp and what it stands on


def _ramp(plan: Plan, walk: Walk) -> None:
    canvas, view = plan.canvas, plan.view
    box = view.box(*walk.box)
    if walk.edge == "shore":
        over = 12 if plan.wide else 6
        pad = (box[0] - plan.pad_px, box[1] - over, box[0], box[3] + over)
        canvas.rect(pad, width=canvas.pen.thin, data_part="shore")
        symbols.concrete(canvas, pad)
    canvas.rect(box, width=canvas.pen.outline, fill=TIMBER, data_part="ramp")
    run = next((b for b in plan.design.boards if b.section == "ramp"), None)
    length = box[2] - box[0] if walk.along_x else box[3] - box[1]
    if run is not None and length / max(run.count, 1) >= FINEST_BOARD_PX:
        share = [k / run.count for k in range(1, run.count)]
        if walk.along_x:
            lines = [((box[0] + length * t, box[1]), (box[0] + length * t, box[3])) for t in share]
        else:
            lines = [((box[0], box[1] + length * t), (box[2], box[1] + length * t)) for t in share]
        canvas.lines(lines, width=canvas.pen.hair, stroke=GRAIN)
    for end in ("near", "far"):
        _hinge_line(plan, box, walk.along_x, end == "near")


def _hinge_line(plan: Plan, box: Box, along_x: bool, near: bool) -> None:
    x0, y0, x1, y1 = box
    if along_x:
        x = x0 - 1.5 if near else x1 + 1
        start, end = (x, y0), (x, y1)
    else:
        y = y0 - 1.5 if near else y1 + 1
        start, end = (x0, y), (x1, y)
    _hinges(plan, start, end)


def _hinges(plan: Plan, start: Point, end: Point) -> None:
    """A hinge line with two rings, a sixth of the way in from each end."""
    canvas = plan.canvas
    (x0, y0), (x1, y1) = start, end
    radius = min(3.3, max(1.6, 2.2 * plan.view.scale))
    canvas.line(start, end, width=canvas.pen.thin)
    for share in (0.16, 0.84):
        symbols.hinge_ring(canvas, (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share), radius)


# Sections


def _deck(plan: Plan, deck: Deck) -> None:
    canvas, view = plan.canvas, plan.view
    box = view.box(deck.x0, deck.y0, deck.x1, deck.y1)
    fill = TIMBER if deck.boards == "on" else canvas.pen.ground
    canvas.rect(box, width=canvas.pen.cut, fill=fill, data_part="section", data_mark=deck.mark)
    if deck.boards != "on":
        members = [view.box(p.x0_in, p.y0_in, p.x1_in, p.y1_in) for p in plan.design.pieces if p.section == deck.mark]
        canvas.rects(members, width=canvas.pen.hair, fill=TIMBER, data_part="members")
    if deck.boards != "off":
        for run in plan.design.boards:
            if run.section == deck.mark:
                _boards(plan, deck, run)
    _floats(plan, deck)
    canvas.rect(box, width=canvas.pen.cut)


def _boards(plan: Plan, deck: Deck, run: BoardRun) -> None:
    """A line in the middle of every gap between boards; half the deck of a dock of one section."""
    gaps = [(one[1] + other[0]) / 2 for one, other in pairwise(run.edges_in)]
    turned = next(s.turned for s in plan.design.spec.sections if s.mark == deck.mark)
    along_x = (run.direction == "across") != turned
    whole = deck.x1 - deck.x0 if along_x else deck.y1 - deck.y0
    laid = min(gaps, key=lambda gap: abs(gap - whole / 2)) if deck.boards == "half" and gaps else whole

    def stroke(at: float) -> tuple[Point, Point]:
        if along_x:
            return plan.view.at(deck.x0 + at, deck.y0), plan.view.at(deck.x0 + at, deck.y1)
        return plan.view.at(deck.x0, deck.y0 + at), plan.view.at(deck.x1, deck.y0 + at)

    canvas = plan.canvas
    if laid < whole:
        end = (deck.x0 + laid, deck.y1) if along_x else (deck.x1, deck.y0 + laid)
        canvas.rect(plan.view.box(deck.x0, deck.y0, *end), width=canvas.pen.outline, fill=TIMBER, data_part="laid")
    if whole * plan.view.scale / (len(gaps) + 1) >= FINEST_BOARD_PX:
        lines = [stroke(gap) for gap in gaps if gap < laid]
        canvas.lines(lines, width=canvas.pen.hair, stroke=GRAIN, data_part="boards")


def _floats(plan: Plan, deck: Deck) -> None:
    """Hidden floats, drawn just inside their edges: most lie against a member and would vanish in its line."""
    view = plan.view
    for item in plan.design.floats:
        if item.section != deck.mark:
            continue
        half_x, half_y = item.size_x_in / 2, item.size_y_in / 2
        box = view.box(item.x_in - half_x, item.y_in - half_y, item.x_in + half_x, item.y_in + half_y)
        small = min(box[2] - box[0], box[3] - box[1]) < 16
        inset = INSET_PX if not small else 0.0
        box = (box[0] + inset, box[1] + inset, box[2] - inset, box[3] - inset)
        plan.canvas.rect(
            box,
            width=plan.canvas.pen.thin,
            stroke=WATER,
            rx=min(4.2, (box[2] - box[0]) / 6),
            stroke_dasharray="2.5 2" if small else HIDDEN,
            data_part="float",
        )
        if item.round_along:
            mid_x, mid_y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
            ends = ((box[0], mid_y), (box[2], mid_y)) if item.round_along == "x" else ((mid_x, box[1]), (mid_x, box[3]))
            plan.canvas.line(*ends, width=plan.canvas.pen.hair, stroke=WATER, stroke_dasharray="9 3 2 3")


def _joint(plan: Plan, edge: SharedEdge) -> None:
    """Rigid joints are a pair of bars, hinged ones a line with two rings."""
    canvas = plan.canvas
    start, end = plan.view.at(edge.x0_in, edge.y0_in), plan.view.at(edge.x1_in, edge.y1_in)
    if edge.kind == "hinged":
        _hinges(plan, start, end)
        return
    across = 1.6 if abs(start[0] - end[0]) < abs(start[1] - end[1]) else 0.0
    along = 0.0 if across else 1.6
    bars = [
        ((start[0] + side * across, start[1] + side * along), (end[0] + side * across, end[1] + side * along))
        for side in (-1, 1)
    ]
    canvas.lines(bars, width=canvas.pen.outline, data_part="rigid")


def _plate(plan: Plan, joint: JointPoint) -> None:
    """Heavy L at corners and T at tees, only where boards are off and the scale shows them."""
    deck = next((d for d in plan.scene.decks if joint.sections and d.mark == joint.sections[0]), None)
    leg = PLATE_IN * plan.view.scale
    if deck is None or deck.boards == "on" or leg < 5 or joint.place not in ("outer_corner", "inner_corner", "tee"):
        return
    if deck.boards == "half" and joint.x_in < (deck.x0 + deck.x1) / 2:
        return
    at = plan.view.at(joint.x_in, joint.y_in)
    right = 1 if joint.x_in < (deck.x0 + deck.x1) / 2 else -1
    down = 1 if joint.y_in > (deck.y0 + deck.y1) / 2 else -1
    if joint.place != "tee":
        symbols.corner_plate(plan.canvas, at, leg, (right, down))
        return
    on_end = min(abs(joint.x_in - deck.x0), abs(joint.x_in - deck.x1)) <= min(
        abs(joint.y_in - deck.y0), abs(joint.y_in - deck.y1)
    )
    symbols.tee_plate(plan.canvas, at, leg, (right, 0) if on_end else (0, down))


# What is fitted and what holds it


def _accessory(plan: Plan, item: PlacedAccessory) -> None:
    view, canvas, scale = plan.view, plan.canvas, plan.view.scale
    x, y = view.at(item.x_in, item.y_in)
    out = {"lake": (1, 0), "shore": (-1, 0), "left": (0, -1), "right": (0, 1)}.get(item.edge, (0, 1))
    if item.symbol == "ladder":
        half, deep = 8 * scale, 7 * scale
        x0, x1 = (x - half, x + half) if out[0] == 0 else sorted((x, x + out[0] * deep))
        y0, y1 = (y - half, y + half) if out[1] == 0 else sorted((y, y + out[1] * deep))
        symbols.ladder_plan(canvas, (x0, y0, x1, y1), upright=out[1] == 0)
    elif item.symbol == "cleat":
        half, inset = max(4 * scale, 4), 3 * scale
        cx, cy = x - out[0] * inset, y - out[1] * inset
        along = (half, 0) if out[0] == 0 else (0, half)
        ends = (cx - along[0], cy - along[1]), (cx + along[0], cy + along[1])
        canvas.line(*ends, width=canvas.pen.cut, stroke_linecap="round", data_part="cleat")
    elif item.symbol == "bumper":
        along = (12 * scale, 0) if out[0] == 0 else (0, 12 * scale)
        off = canvas.pen.cut + 1
        cx, cy = x + out[0] * off, y + out[1] * off
        ends = (cx - along[0], cy - along[1]), (cx + along[0], cy + along[1])
        canvas.line(*ends, width=canvas.pen.cut, stroke=INK_2, data_part="bumper")


def anchor_ends(plan: Plan, anchor: PlacedAnchor) -> tuple[Point, Point, bool]:
    """Corner, weight as drawn, and whether the chain is drawn shorter than it runs."""
    corner = plan.view.at(anchor.corner_x_in, anchor.corner_y_in)
    true = plan.view.at(anchor.x_in, anchor.y_in)
    reach = hypot(true[0] - corner[0], true[1] - corner[1])
    most = CHAIN_SHOWN_PX if plan.wide else 26.0
    if reach <= most * 1.2:
        return corner, true, False
    share = most / reach
    return corner, (corner[0] + (true[0] - corner[0]) * share, corner[1] + (true[1] - corner[1]) * share), True


def _chain(plan: Plan, anchor: PlacedAnchor) -> None:
    corner, weight, broken = anchor_ends(plan, anchor)
    radius = 5 if len(plan.design.anchors) <= MOST_NAMED_ANCHORS else 3
    symbols.broken_chain(plan.canvas, corner, weight, broken=broken and plan.wide, radius=radius)


def _anchor_name(plan: Plan, anchor: PlacedAnchor) -> None:
    corner, (x, y), broken = anchor_ends(plan, anchor)
    few = len(plan.design.anchors) <= MOST_NAMED_ANCHORS
    lakeward = x >= corner[0]
    label = Lettering(plan.canvas.pen.note, 500, "start" if lakeward else "end", INK_2, plan.canvas.pen.ground)
    words = f"Anchor {anchor.mark}" if few and anchor.mark.isalnum() else anchor.mark
    step = 12 if lakeward else -12
    other = replace(label, anchor="end" if lakeward else "start")
    spots = [((x + step, y + dy), label) for dy in (4, -8, 16)] + [((x - step, y + dy), other) for dy in (4, -8, 16)]
    if not plan.canvas.text_where_free(spots, words, clear_of=plan.solids) or not (few and broken):
        return
    away = hypot(anchor.x_in - anchor.corner_x_in, anchor.y_in - anchor.corner_y_in)
    below = [((at[0], at[1] + 15), letters) for at, letters in spots] + [((at[0], at[1] - 15), le) for at, le in spots]
    plan.canvas.text_where_free(below, f"{figures.length(plan.speak, round(away))} out", clear_of=plan.solids)


# Lettering


def _freeboards(plan: Plan) -> None:
    for decks in _groups(plan):
        for deck, corner, value in outer_corners(decks):
            words = figures.height(plan.speak, value)
            plan.canvas.text_where_free(_corner_spots(plan, deck, corner), words, clear_of=plan.solids)


def _corner_spots(plan: Plan, deck: Deck, corner: tuple[str, str]) -> list[tuple[Point, Lettering]]:
    end, side = corner
    x0, y0, x1, y1 = plan.view.box(deck.x0, deck.y0, deck.x1, deck.y1)
    size = plan.canvas.pen.figure
    x, step = (x0, -8) if end == "shore" else (x1, 8)
    y = y0 + 0.93 * size if side == "left" else y1 - 4
    out = Lettering(size, 600, "end" if end == "shore" else "start", WATER, plan.canvas.pen.ground)
    over = Lettering(size, 600, "start" if end == "shore" else "end", WATER, plan.canvas.pen.ground)
    above = y0 - 7 if side == "left" else y1 + 7 + 0.75 * size
    inside = 5 if end == "shore" else -5
    return [((x + step, y), out), ((x + inside, above), over)]


def _captions(plan: Plan) -> None:
    canvas = plan.canvas
    label = Lettering(canvas.pen.note, 500, "middle", INK_2, canvas.pen.ground)
    walk = plan.scene.walk
    if walk is not None and walk.edge == "shore":
        box = plan.view.box(*walk.box)
        words = (walk.fixing or "shore").lower()
        canvas.text_where_free([((max(box[0] - plan.pad_px / 2, 34), box[3] + 12 + 17), label)], words)
    ladders = {(a.section, a.edge): a for a in plan.design.accessories if a.symbol == "ladder"}
    for item in ladders.values():
        x, y = plan.view.at(item.x_in, item.y_in)
        beside = replace(label, anchor="start")
        reach = 7 * plan.view.scale
        spots = {
            "right": [((x, y + reach + 15), label)],
            "left": [((x + 8 * plan.view.scale + 6, y - reach / 2 + 2), beside), ((x, y - reach - 6), label)],
            "lake": [((x + reach + 6, y + 5), beside)],
        }.get(item.edge, [((x, y + 15), label)])
        canvas.text_where_free(spots, "ladder", clear_of=plan.deck_boxes)
    if len(plan.scene.decks) > MOST_CAPTIONS:
        return
    for deck, (x0, _, x1, y1) in zip(plan.scene.decks, plan.deck_boxes, strict=True):
        words = f"{deck.mark}, boards {'half on' if deck.boards == 'half' else deck.boards}"
        spots = [((x0 + (x1 - x0) * share, y1 + 19), label) for share in (0.5, 0.38, 0.3)]
        canvas.text_where_free(spots, words, clear_of=plan.solids)
