"""Designs built by hand, so that a drawing is checked against positions that stand in the test."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from estimating.engine.reasons import Reason, Sentence
from estimating.engine.result import (
    BoardRun,
    Design,
    JointPoint,
    LevelFloat,
    Piece,
    PlacedAccessory,
    PlacedAnchor,
    PlacedFloat,
    RampDesign,
    SharedEdge,
)
from estimating.engine.spec import DepthPoint, DockSpec, Joint, Place, Ramp, Section, Water

WHY = Reason(Sentence("Set by hand."), "GEOMETRY")
LAKE = Place(
    water=Water(datum="staff", low_in=18, normal_in=42, high_in=54),
    depths=(DepthPoint("ramp end", 144, 50), DepthPoint("lake end", 336, 72)),
)


def extent(s: Section) -> tuple[float, float, float, float]:
    long, across = (s.width_in, s.length_in) if s.turned else (s.length_in, s.width_in)
    return s.x_in, s.y_in, s.x_in + long, s.y_in + across


def frame(s: Section) -> list[Piece]:
    x0, y0, x1, y1 = extent(s)
    sides = [(x0, y0, x1, y0 + 1.5), (x0, y1 - 1.5, x1, y1), (x0, y0, x0 + 1.5, y1), (x1 - 1.5, y0, x1, y1)]
    middle = (y0 + y1) / 2
    sides += [(x0, middle, x1, middle + 1.5), ((x0 + x1) / 2, y0, (x0 + x1) / 2 + 1.5, y1)]
    return [
        Piece(f"{s.mark}{k}", s.mark, "rim", "LUMBER", max(b[2] - b[0], b[3] - b[1]), *b, 7.25, 20, 15)
        for k, b in enumerate(sides)
    ]


def boards(mark: str, reach: float, box: tuple[float, float, float, float], direction: str = "across") -> BoardRun:
    pitch, edges, at = 5.625, [], 0.0
    while at < reach:
        edges.append((at, min(at + 5.5, reach)))
        at += pitch
    last = edges[-1][1] - edges[-1][0]
    return BoardRun(mark, "BOARD", len(edges), 72, 0.125, 0, direction, last, 4, 24, tuple(edges), *box, 200, 150, WHY)


def floats(s: Section) -> list[PlacedFloat]:
    x0, y0, x1, y1 = extent(s)
    return [
        PlacedFloat(s.mark, "FLOAT", x, y, 36, 24, 16, 36, 450) for x in (x0 + 20, x1 - 20) for y in (y0 + 12, y1 - 12)
    ]


def shared_edge(one: Section, other: Section, kind: str) -> SharedEdge:
    a, b = extent(one), extent(other)
    x0, x1 = max(a[0], b[0]), min(a[2], b[2])
    y0, y1 = max(a[1], b[1]), min(a[3], b[3])
    return SharedEdge(one.mark, other.mark, kind, x0, y0, x1, y1)


def dock(
    sections: Sequence[Section], *, joints: Sequence[Joint] = (), ramp: Ramp | None = None, place: Place = LAKE
) -> Design:
    """A design of these sections, each on four floats, level at 18.2 in wet."""
    spec = DockSpec("the Halloran dock", tuple(sections), tuple(joints), ramp, place=place)
    by_mark = {s.mark: s for s in sections}
    return Design(
        spec=spec,
        pieces=tuple(p for s in sections for p in frame(s)),
        boards=tuple(boards(s.mark, s.length_in, extent(s)) for s in sections),
        floats=tuple(f for s in sections for f in floats(s)),
        joints=tuple(corners(sections)),
        edges=tuple(shared_edge(by_mark[j.first], by_mark[j.second], j.kind) for j in joints),
        ramp=ramp and ramp_design(sections[0], ramp),
        anchors=(),
        accessories=(),
        weights=(),
        level=(level([s.mark for s in sections]),),
        deck_area_sqft=96,
        overall_length_in=192,
        overall_width_in=72,
        bolt_count=48,
        ramp_bolt_count=32,
        bolt_reason=WHY,
        ramp_bolt_reason=WHY,
        findings=(),
    )


def level(marks: Sequence[str]) -> LevelFloat:
    # 16 in float, 7.25 in frame, 1 in boards: 24.25 in from float bottom to deck top
    return LevelFloat(tuple(marks), 8, 900, 750, 2880, 3600, 100, 6.05, 5.5, 12, 18.2, 18.75, 12.25, 40, 12, WHY)


def corners(sections: Sequence[Section]) -> list[JointPoint]:
    found = []
    for s in sections:
        x0, y0, x1, y1 = extent(s)
        for k, (x, y) in enumerate(((x0, y0), (x1, y0), (x0, y1), (x1, y1))):
            found.append(JointPoint(f"{s.mark}{k}", "outer_corner", (s.mark,), x, y, "corner", (), 8, "BOLT"))
        found.append(JointPoint(f"{s.mark}t", "tee", (s.mark,), x0, (y0 + y1) / 2, "tee", (), 4, "BOLT"))
    return found


def ramp_design(landing: Section, ramp: Ramp) -> RampDesign:
    x0, y0, x1, y1 = extent(landing)
    reach = {"shore": (x0, (y0 + y1) / 2, -1, 0), "left": ((x0 + x1) / 2, y1, 0, 1)}[ramp.edge]
    x, y, dx, dy = reach
    return RampDesign(
        ramp.length_in,
        ramp.width_in,
        landing.mark,
        ramp.edge,
        x,
        y,
        x + dx * ramp.length_in,
        y + dy * ramp.length_in,
        120,
        100,
        None,
        60,
        WHY,
    )


def anchor(mark: str, section: Section, corner: tuple[float, float], off: tuple[float, float]) -> PlacedAnchor:
    x, y = corner
    return PlacedAnchor(mark, section.mark, "ANCHOR", "CHAIN", x, y, x + off[0], y + off[1], 72, 190, WHY)


def accessory(symbol: str, section: Section, at: tuple[float, float], edge: str) -> PlacedAccessory:
    return PlacedAccessory(symbol.upper(), 1, section.mark, *at, 12, symbol, edge)


def straight() -> Design:
    """6 x 16 ft in two rigid sections with a 12 ft ramp, two anchors, a ladder and three cleats."""
    a, b = Section("A", 96, 72), Section("B", 96, 72, x_in=96)
    ramp = Ramp(144, 48, hinge_level_in=79, shore_fixing="concrete pad")
    design = dock([a, b], joints=[Joint("A", "B", "rigid")], ramp=ramp)
    ramp_boards = boards("ramp", 144, (-144, 12, 0, 60))
    return replace(
        design,
        boards=(*design.boards, ramp_boards),
        anchors=(anchor("1", b, (192, 72), (120, 120)), anchor("2", b, (192, 0), (120, -120))),
        accessories=(
            accessory("ladder", b, (180, 0), "right"),
            accessory("cleat", a, (14, 72), "left"),
            accessory("cleat", a, (14, 0), "right"),
            accessory("cleat", b, (178, 72), "left"),
        ),
    )


def ell() -> Design:
    """A 24 ft run with a 12 ft leg to the right at the lake end."""
    run = [Section("A", 144, 72), Section("B", 144, 72, x_in=144)]
    leg = Section("C", 144, 72, x_in=216, y_in=-144, turned=True)
    joints = [Joint("A", "B", "hinged"), Joint("B", "C", "rigid")]
    ramp = Ramp(192, 48, hinge_level_in=79, shore_fixing="ledge")
    return dock([*run, leg], joints=joints, ramp=ramp)


def tee() -> Design:
    stem = [Section("A", 192, 60), Section("B", 192, 60, x_in=192)]
    head = [
        Section("C", 144, 72, x_in=384, y_in=30, turned=True),
        Section("D", 144, 72, x_in=384, y_in=-114, turned=True),
    ]
    joints = [Joint("A", "B"), Joint("B", "C", "rigid"), Joint("B", "D", "rigid"), Joint("C", "D", "rigid")]
    return dock([*stem, *head], joints=joints, ramp=Ramp(144, 48, shore_fixing="deadman"))


def ewe() -> Design:
    walk = [Section("A", 168, 72, turned=True), Section("B", 168, 72, y_in=168, turned=True)]
    legs = [Section("C", 240, 48, x_in=72), Section("D", 240, 48, x_in=72, y_in=288)]
    joints = [Joint("A", "B", "rigid"), Joint("A", "C"), Joint("B", "D")]
    return dock([*walk, *legs], joints=joints, ramp=Ramp(144, 48, hinge_level_in=79, shore_fixing="concrete pad"))


def platform() -> Design:
    """A free swim platform far from shore, nothing measured."""
    a = Section("A", 120, 96, x_in=1200)
    design = dock([a], place=Place())
    anchors = [
        anchor(str(k), a, (x, y), (dx, dy))
        for k, (x, y, dx, dy) in enumerate(
            ((1200, 0, -90, -90), (1200, 96, -90, 90), (1320, 0, 90, -90), (1320, 96, 90, 90)), start=1
        )
    ]
    return replace(design, anchors=tuple(anchors), accessories=(accessory("ladder", a, (1320, 48), "lake"),))


def marina() -> Design:
    """Twenty sections of main walk with ten fingers each side."""
    marks = iter(MARKS)
    walk = [Section(next(marks), 120, 72, x_in=120 * k) for k in range(20)]
    fingers = []
    for k in range(10):
        fingers.append(Section(next(marks), 240, 48, x_in=240 * k + 96, y_in=72, turned=True))
        fingers.append(Section(next(marks), 240, 48, x_in=240 * k + 96, y_in=-240, turned=True))
    joints = [Joint(a.mark, b.mark) for a, b in pairwise(walk)]
    joints += [Joint(walk[2 * (k // 2)].mark, finger.mark) for k, finger in enumerate(fingers)]
    ramp = Ramp(240, 60, hinge_level_in=110, shore_fixing="concrete pad")
    design = dock([*walk, *fingers], joints=joints, ramp=ramp)
    groups = tuple(level([s.mark]) for s in design.spec.sections)
    anchors = [
        anchor(str(k + 1), s, (s.x_in + 24, 312 if s.y_in > 0 else -240), (0, 120 if s.y_in > 0 else -120))
        for k, s in enumerate(fingers)
    ]
    return replace(design, level=groups, anchors=tuple(anchors))


_LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ"
MARKS = [*_LETTERS, *(f"A{x}" for x in _LETTERS)]
ALL = {"straight": straight, "ell": ell, "tee": tee, "ewe": ewe, "platform": platform, "marina": marina}
