"""Joint cards: every kind of joint of a dock drawn once, with its plates, backers and bolts, its mate mirrored.

The halves of a card are built as one set of shapes and its mirror image, so that they cannot come out as two lefts.
The hands come from the design: two corners of one hand are turned against each other, two of different hands mirrored.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from estimating.engine.drawing.canvas import INK, Canvas, Lettering, View
from estimating.engine.drawing.joint_shapes import (
    PLATE_IN,
    WOOD_IN,
    Shape,
    Shapes,
    bolts_across,
    bolts_up,
    mirrored,
    paint,
    spread,
    stations,
)
from estimating.engine.drawing.paper_scale import CREW, WORDS_PX, CrewSheet, wrapped
from estimating.engine.outline import box_of, corner_of, outward
from estimating.engine.parts import Catalogue, Use
from estimating.engine.result import Design, JointPoint, SharedEdge

LEG_IN = 10.0
SCALE = 9.0  # px per inch
LONG_SCALE = 4.8  # where two sections meet over their width
NAMES = {
    "outer_corner": "Corner",
    "inner_corner": "Inside corner",
    "tee": "Tee",
    "cross_end": "End of a cross member",
    "hinged_joint": "Hinged joint",
    "rigid_joint": "Rigid joint",
    "ramp_dock_end": "Ramp to the dock",
    "ramp_shore_end": "Ramp to the shore",
    "chain_retainer": "Chain retainer",
}
CORNER_OF = ("shore-left", "shore-right", "lake-left", "lake-right")


@dataclass(frozen=True, slots=True)
class JointCard:
    """A kind of joint: where it occurs, what one takes (code, quantity), its bolts counted once, and its drawing."""

    place: str
    name: str
    marks: tuple[str, ...]
    parts: tuple[tuple[str, float], ...]
    bolts: int
    bolt: str
    high: int  # bolts over each other where the drawing shows one
    drawn: tuple[str, ...]  # marks built as the first half shows
    mirrored: tuple[str, ...]  # marks built as its mirror image
    svg: str


def joint_cards(design: Design, catalogue: Catalogue, sheet: CrewSheet) -> tuple[JointCard, ...]:
    """A card for every kind of joint; a joint between two sections has a card of its own, with its own marks."""
    groups: dict[tuple[str, str, str], list[JointPoint]] = {}
    for joint in design.joints:
        if joint.place in NAMES:
            own = joint.mark if joint.place in ("hinged_joint", "rigid_joint") else ""
            groups.setdefault((joint.place, joint.rule, own), []).append(joint)
    order = list(NAMES)
    ranked = sorted(groups.values(), key=lambda alike: order.index(alike[0].place))
    return tuple(_card(design, catalogue, sheet, alike, n) for n, alike in enumerate(ranked))


def hand_of(design: Design, joint: JointPoint) -> str:
    """Which hand a corner is, seen from above: "left" if the header lies to the right of someone looking out along
    the rim from it, else "right". Corners of one section at the same end are of different hands. Source: GEOMETRY."""
    section = next(s for s in design.spec.sections if s.mark == joint.sections[0])
    box = box_of(section)
    corner = min(
        CORNER_OF,
        key=lambda name: abs(corner_of(box, name)[0] - joint.x_in) + abs(corner_of(box, name)[1] - joint.y_in),
    )
    out_x, out_y = outward(corner)
    rim, head = ((0, -out_y), (-out_x, 0)) if section.turned else ((-out_x, 0), (0, -out_y))
    return "left" if rim[0] * head[1] - rim[1] * head[0] < 0 else "right"


def _card(
    design: Design, catalogue: Catalogue, sheet: CrewSheet, alike: Sequence[JointPoint], number: int
) -> JointCard:
    joint = alike[0]
    legs = {"hinged_joint": 4, "ramp_dock_end": 4, "chain_retainer": 1}.get(joint.place, 2)
    shown, high = spread(joint.bolts, legs)
    marks = tuple(j.mark for j in alike)
    drawn, flipped = _hands(design, alike)
    if joint.place in ("hinged_joint", "rigid_joint"):
        edge = next(e for e in design.edges if f"{e.first}-{e.second}" == joint.mark)
        shapes, words = _meeting(design, edge, shown)
    else:
        shapes, words = PAIRS[joint.place](shown, drawn, flipped)
    rule = next((r for r in catalogue.joint_rules if (r.place, r.name) == (joint.place, joint.rule)), None)
    uses = (*(rule.per_bolt if rule else ()),)
    svg = _svg(shapes, words, joint, f"{sheet.prefix}-{number}", high)
    return JointCard(
        joint.place,
        NAMES[joint.place],
        marks,
        tuple(_parts(joint, uses)),
        joint.bolts,
        joint.bolt,
        high,
        drawn,
        flipped,
        svg,
    )


def _parts(joint: JointPoint, per_bolt: Sequence[Use]) -> Iterator[tuple[str, float]]:
    yield from ((code, float(quantity)) for code, quantity in joint.parts)
    if joint.bolts:
        yield joint.bolt, float(joint.bolts)
        yield from ((use.code, float(use.quantity) * joint.bolts) for use in per_bolt)


def _hands(design: Design, alike: Sequence[JointPoint]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if alike[0].place != "outer_corner":
        return tuple(j.mark for j in alike), ()
    hands = {j.mark: hand_of(design, j) for j in alike}
    return tuple(m for m, h in hands.items() if h == "left"), tuple(m for m, h in hands.items() if h == "right")


# One half, as shapes. The first half of a corner has its rim to the right and its header down.

Words = tuple[tuple[float, float, str], ...]
Pair = tuple[Shapes, Words]


def _half_corner(shown: int, outside: bool, backers: bool) -> Shapes:
    leg, t = LEG_IN, PLATE_IN
    shapes = [
        Shape("wood", 0, -WOOD_IN, leg + 3, 0),
        Shape("wood", 0, -leg - 3, WOOD_IN, -WOOD_IN),
        Shape("plate", WOOD_IN, -WOOD_IN - t, leg, -WOOD_IN),
        Shape("plate", WOOD_IN, -leg, WOOD_IN + t, -WOOD_IN),
    ]
    part = "backer" if backers else "plate"
    if outside or backers:
        start = 3.0 if backers else -t
        shapes += [Shape(part, start, 0, leg, t), Shape(part, -t, -leg, 0, -start if backers else t)]
    places = stations(shown, WOOD_IN + 1.2, leg)
    shapes += bolts_up(places, head=t + 0.3, nut=-WOOD_IN - t - 0.5)
    shapes += bolts_across([-p for p in places], head=-t - 0.3, nut=WOOD_IN + t + 0.5)
    return tuple(shapes)


def _two(half: Shapes, drawn: Sequence[str], flipped: Sequence[str], *, over: str = "x") -> Pair:
    """A half and its mirror image side by side, each under the marks it is for."""
    gap = 4.0
    left = tuple(s.owned_by("left").moved(-LEG_IN - 3 - gap / 2, 0) for s in half)
    right = mirrored(left, over="x")
    right = tuple(s.owned_by("right") for s in right)
    names = ((-9.0, 3.0, _named(drawn)), (9.0, 3.0, _named(flipped)))
    return left + right, names


def _named(marks: Sequence[str]) -> str:
    return ", ".join(marks) if len(marks) < 5 else f"{', '.join(marks[:3])} and {len(marks) - 3} more"


def _corner(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    return _two(_half_corner(shown, outside=True, backers=False), drawn, flipped)


def _inner(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    return _two(_half_corner(shown, outside=False, backers=True), ("left of it",), ("right of it",))


def _tee(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    leg, t, w = 7.0, PLATE_IN, WOOD_IN
    places = stations(shown, w / 2 + 0.8, leg)
    half = (
        Shape("wood", 0, -leg - 2, w, leg + 2),
        Shape("wood", w, -w / 2, leg + 6, w / 2),
        Shape("plate", w, w / 2, w + t, leg),
        Shape("plate", w, w / 2, w + leg, w / 2 + t),
        Shape("backer", -t, 0.5, 0, leg),
        *bolts_across(places, head=-t - 0.3, nut=w + t + 0.5),
        *bolts_up([w + p for p in places], head=-w / 2 - 0.3, nut=w / 2 + t + 0.5),
    )
    shapes, _ = _two(half, drawn, flipped)
    return shapes, ((-9.0, leg + 4.0, "at one end"), (9.0, leg + 4.0, "at the other end"))


def _cross(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    screws = bolts_across((-0.35, 0.35), head=-0.3, nut=5.0, part="screw")
    half = (Shape("wood", 0, -6, WOOD_IN, 6), Shape("wood", WOOD_IN, -0.75, 12, 0.75), *screws)
    shapes, _ = _two(half, drawn, flipped)
    return shapes, ((-9.0, 8.0, "at one end"), (9.0, 8.0, "at the other end"))


def _retainer(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    t = PLATE_IN
    half = (
        Shape("wood", 0, -WOOD_IN, LEG_IN + 3, 0),
        Shape("wood", 0, -8, WOOD_IN, -WOOD_IN),
        Shape("plate", 2.5, 0, 9, t),
        Shape("plate", 5.2, t, 6.3, 3.0),
        Shape("backer", 2.5, -WOOD_IN - t, 9, -WOOD_IN),
        *bolts_up((3.3, 8.2)[: max(shown, 1)], head=t + 0.3, nut=-WOOD_IN - t - 0.5),
    )
    shapes, _ = _two(half, drawn, flipped)
    return shapes, ((-9.0, 5.0, "left corners"), (9.0, 5.0, "right corners"))


def _ramp_on_dock(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    return _hinged("ramp", "dock", shown), (
        (-8.0, 18.0, "ramp"),
        (8.0, 18.0, "dock"),
        (-15.0, -1.0, "male halves"),
        (17.0, -1.0, "female halves"),
    )


def _ramp_on_shore(shown: int, drawn: Sequence[str], flipped: Sequence[str]) -> Pair:
    upper = (
        Shape("concrete", -9, 1, -1.2, 15, "shore"),
        Shape("plate", -5, 6, -1.2, 11, "shore"),
        Shape("wood", 1.2, 1, 1.2 + WOOD_IN, 15, "ramp"),
        Shape("leaf", 0.6, 6, 1.2, 11, "ramp"),
        Shape("pin", 0, 8.5, 0, 8.5),
    )
    return upper + mirrored(upper, over="y"), ((-7.0, 17.0, "shore"), (7.0, 17.0, "ramp"))


def _hinged(left: str, right: str, shown: int) -> Shapes:
    """Two kits on one line: the lower is the upper mirrored, so a kit's halves are of one hand each."""
    gap, w, t = 1.4, WOOD_IN, PLATE_IN
    places = stations(shown, 3.0, 14.0)
    upper = [Shape("pin", 0, 14.6, 0, 14.6)]
    for side, mark in ((-1, left), (1, right)):
        x = side * gap
        upper += [
            Shape("wood", x, 0, x + side * w, 16, mark),
            Shape("leaf", x - side * t, 2.5, x, 15.2, mark),
            Shape("backer", x + side * w, 2.5, x + side * (w + t), 14.6, mark),
            *(
                bolt.owned_by(mark)
                for bolt in bolts_across(places, head=x - side * (t + 0.3), nut=x + side * (w + t + 0.5))
            ),
        ]
    return tuple(upper) + mirrored(upper, over="y")


def _rigid(left: str, right: str, shown: int) -> Shapes:
    w, t = WOOD_IN, PLATE_IN
    upper = [
        Shape("wood", -w, 0, 0, 16, left),
        Shape("wood", 0, 0, w, 16, right),
        Shape("backer", -w - t, 6, -w, 15, left),
        Shape("backer", w, 6, w + t, 15, right),
        *bolts_across(stations(shown, 6.5, 14.5), head=-w - t - 0.3, nut=w + t + 0.5),
    ]
    return tuple(upper) + mirrored(upper, over="y")


def _meeting(design: Design, edge: SharedEdge, shown: int) -> Pair:
    """Two sections at their common edge, as they lie: lower x (or y) to the left, each end under its own marks."""
    upright = abs(edge.x1_in - edge.x0_in) < abs(edge.y1_in - edge.y0_in)
    middles = {s.mark: box_of(s).middle[0 if upright else 1] for s in design.spec.sections}
    left, right = sorted((edge.first, edge.second), key=middles.__getitem__)
    build = _hinged if edge.kind == "hinged" else _rigid
    ends = sorted(
        ((edge.x0_in, edge.y0_in), (edge.x1_in, edge.y1_in)), key=lambda at: at[1] if upright else -at[0], reverse=True
    )
    words = [(-9.0, 18.5, f"section {left}"), (9.0, 18.5, f"section {right}")]
    for height, at in ((13.0, ends[0]), (-14.0, ends[1])):
        for x, mark in ((-7.5, left), (7.5, right)):
            words.append((x, height, mark_at(design, mark, at) or mark))
    if edge.kind == "hinged":
        words += [(-15.0, -1.0, "male halves"), (17.0, -1.0, "female halves")]
    return build(left, right, shown), tuple(words)


def mark_at(design: Design, section: str, at: tuple[float, float]) -> str:
    """The joint mark of a section's own corner at a point in plan; empty where the point is on its side."""
    near = (
        joint.mark
        for joint in design.joints
        if joint.place == "outer_corner"
        and joint.sections == (section,)
        and abs(joint.x_in - at[0]) < 1
        and abs(joint.y_in - at[1]) < 1
    )
    return next(near, "")


PAIRS: dict[str, Callable[[int, Sequence[str], Sequence[str]], Pair]] = {
    "outer_corner": _corner,
    "inner_corner": _inner,
    "tee": _tee,
    "cross_end": _cross,
    "chain_retainer": _retainer,
    "ramp_dock_end": _ramp_on_dock,
    "ramp_shore_end": _ramp_on_shore,
}


def _svg(shapes: Shapes, words: Words, joint: JointPoint, prefix: str, high: int) -> str:
    long = joint.place in ("hinged_joint", "rigid_joint", "ramp_dock_end", "ramp_shore_end")
    canvas, view = Canvas(CREW), View(LONG_SCALE if long else SCALE, 0.0, 0.0)
    paint(canvas, view, shapes)
    for x, y, said in words:
        canvas.text(view.at(x, y), said, Lettering(WORDS_PX, 600, "middle", INK, halo="#FFFFFF"))
    sections = " and ".join(joint.sections)
    title = f"{NAMES[joint.place]}, from above"
    said = f"{joint.bolts} bolts, {high} over each other, on {sections}." if joint.bolts else f"On {sections}."
    return wrapped(canvas, prefix=prefix, title=title, said=said)


def pairs_of_mates(design: Design) -> tuple[tuple[str, str], ...]:
    """Corners that face each other over a joint, each with its mate: (A1, B1). Source: GEOMETRY."""
    found = []
    for edge in design.edges:
        for at in ((edge.x0_in, edge.y0_in), (edge.x1_in, edge.y1_in)):
            both = mark_at(design, edge.first, at), mark_at(design, edge.second, at)
            if all(both):
                found.append(both)
    return tuple(found)
