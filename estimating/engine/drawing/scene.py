"""What stands where, in inches, before anything is drawn: decks afloat, the ramp, the levels, the bottom.

Heights are above the normal water level, or above the water as it lies where no normal level is known. Depth points
count from the shore hinge of the ramp; without a ramp from the shore, where x is zero.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt

from estimating.engine.drawing.canvas import HIGH, LOW
from estimating.engine.result import Design, LevelFloat
from estimating.engine.spec import Section

ASSUMED_BANK_IN = 12.0
NEAR_SHORE_IN = 24.0


@dataclass(frozen=True, slots=True)
class Trim:
    """How a section lies: deck above the water at its four corners in plan, inches."""

    section: str
    shore_left_in: float
    shore_right_in: float
    lake_left_in: float
    lake_right_in: float


@dataclass(frozen=True, slots=True)
class Deck:
    """A section in plan, how deep its frame and deck are, and how it lies on the water."""

    mark: str
    x0: float
    y0: float
    x1: float
    y1: float
    boards: str  # on, off, or half: a dock of one section shows both
    frame_in: float
    deck_in: float
    trim: Trim

    def near_z(self, x_in: float) -> float:
        """Deck above the water on the side the elevation looks at."""
        return self.z_at(x_in, self.y0)

    def z_at(self, x_in: float, y_in: float) -> float:
        """Deck above the water at a point of the section."""
        out, across = (x_in - self.x0) / (self.x1 - self.x0), (y_in - self.y0) / (self.y1 - self.y0)
        right = self.trim.shore_right_in + (self.trim.lake_right_in - self.trim.shore_right_in) * out
        left = self.trim.shore_left_in + (self.trim.lake_left_in - self.trim.shore_left_in) * out
        return right + (left - right) * across


@dataclass(frozen=True, slots=True)
class Walk:
    """The ramp at normal level. `along_x` is false for a ramp that lands on the left or right edge."""

    length: float
    width: float
    edge: str
    dock_x: float
    dock_y: float
    shore_x: float
    shore_y: float
    dock_z: float
    hinge_z: float
    hinge_known: bool
    fixing: str

    @property
    def along_x(self) -> bool:
        return self.edge in ("shore", "lake")

    @property
    def run(self) -> float:
        """How far it reaches in plan, at normal level."""
        return abs(self.dock_x - self.shore_x) + abs(self.dock_y - self.shore_y)

    @property
    def box(self) -> tuple[float, float, float, float]:
        half = self.width / 2
        if self.along_x:
            ends = sorted((self.shore_x, self.dock_x))
            return ends[0], self.dock_y - half, ends[1], self.dock_y + half
        ends = sorted((self.shore_y, self.dock_y))
        return self.dock_x - half, ends[0], self.dock_x + half, ends[1]

    def at_level(self, rise_in: float) -> tuple[float, float] | None:
        """Run and drop of the ramp when the water stands so much above normal; None where it cannot reach."""
        drop = self.hinge_z - (self.dock_z + rise_in)
        if abs(drop) >= self.length:
            return None
        return sqrt(self.length**2 - drop**2), drop


@dataclass(frozen=True, slots=True)
class Level:
    name: str
    z: float
    value_in: float
    dash: str | None


@dataclass(frozen=True, slots=True)
class Scene:
    decks: tuple[Deck, ...]
    walk: Walk | None
    levels: tuple[Level, ...]
    shore_x: float | None  # None: nothing of the shore is near
    bank_z: float
    bottom: tuple[tuple[float, float], ...]  # measured points (x, z), outward; empty: not measured

    @property
    def x0(self) -> float:
        return min(d.x0 for d in self.decks)

    @property
    def x1(self) -> float:
        return max(d.x1 for d in self.decks)

    @property
    def y0(self) -> float:
        return min(d.y0 for d in self.decks)

    @property
    def y1(self) -> float:
        return max(d.y1 for d in self.decks)


def extent(section: Section) -> tuple[float, float, float, float]:
    """The section's rectangle in plan: x0, y0, x1, y1."""
    long, across = (section.width_in, section.length_in) if section.turned else (section.length_in, section.width_in)
    return section.x_in, section.y_in, section.x_in + long, section.y_in + across


def level_trims(design: Design) -> tuple[Trim, ...]:
    """Every section lying level at its wet freeboard, nobody aboard."""
    return tuple(Trim(mark, *(4 * (group.freeboard_wet_in,))) for group in design.level for mark in group.sections)


def outer_corners(decks: Sequence[Deck]) -> Iterator[tuple[Deck, tuple[str, str], float]]:
    """The four outermost corners of a group with the deck's height above the water there."""
    shore, lake = min(d.x0 for d in decks), max(d.x1 for d in decks)
    shoreward = [d for d in decks if d.x0 - shore < 1]
    lakeward = [d for d in decks if lake - d.x1 < 1]
    for ends, end in ((shoreward, "shore"), (lakeward, "lake")):
        left, right = max(ends, key=lambda d: d.y1), min(ends, key=lambda d: d.y0)
        yield left, (end, "left"), getattr(left.trim, f"{end}_left_in")
        yield right, (end, "right"), getattr(right.trim, f"{end}_right_in")


def stage(design: Design, trims: Sequence[Trim] = ()) -> Scene:
    """Set the scene from a design; sections without a trim of their own lie level."""
    lying = {t.section: t for t in (*level_trims(design), *trims)}
    afloat = {mark: group for group in design.level for mark in group.sections}
    first = "on" if len(design.spec.sections) > 1 else "half"
    decks = tuple(
        _deck(design, section, boards="off" if order else first, lying=lying, afloat=afloat)
        for order, section in enumerate(design.spec.sections)
    )
    walk = _walk(design, {d.mark: d for d in decks})
    shore_x = _shore_x(design, walk, decks)
    return Scene(
        decks=decks,
        walk=walk,
        levels=_levels(design),
        shore_x=shore_x,
        bank_z=_bank_z(design, walk),
        bottom=_bottom(design, shore_x or 0.0),
    )


def _deck(
    design: Design, section: Section, *, boards: str, lying: dict[str, Trim], afloat: dict[str, LevelFloat]
) -> Deck:
    frame = max((p.depth_in for p in design.pieces if p.section == section.mark), default=7.25)
    heights = [f.height_in for f in design.floats if f.section == section.mark]
    group = afloat.get(section.mark)
    deck = 1.0
    if group and heights:
        deck = min(3.0, max(0.5, group.freeboard_wet_in + group.draft_wet_in - max(heights) - frame))
    trim = lying.get(section.mark) or Trim(section.mark, 12.0, 12.0, 12.0, 12.0)
    return Deck(section.mark, *extent(section), boards, frame, deck, trim)


def _walk(design: Design, decks: dict[str, Deck]) -> Walk | None:
    ramp, asked = design.ramp, design.spec.ramp
    if ramp is None or asked is None:
        return None
    deck, water = decks[ramp.section], design.spec.place.water
    landing = min(max(ramp.dock_x_in, deck.x0), deck.x1), min(max(ramp.dock_y_in, deck.y0), deck.y1)
    dock_z = deck.z_at(*landing)
    known = asked.hinge_level_in is not None and water.normal_in is not None
    hinge_z = asked.hinge_level_in - water.normal_in if known else dock_z
    drop = min(abs(hinge_z - dock_z), ramp.length_in * 0.95)
    share = sqrt(ramp.length_in**2 - drop**2) / ramp.length_in
    return Walk(
        length=ramp.length_in,
        width=ramp.width_in,
        edge=ramp.edge,
        dock_x=ramp.dock_x_in,
        dock_y=ramp.dock_y_in,
        shore_x=ramp.dock_x_in + (ramp.shore_x_in - ramp.dock_x_in) * share,
        shore_y=ramp.dock_y_in + (ramp.shore_y_in - ramp.dock_y_in) * share,
        dock_z=dock_z,
        hinge_z=hinge_z,
        hinge_known=known,
        fixing=asked.shore_fixing,
    )


def _shore_x(design: Design, walk: Walk | None, decks: Sequence[Deck]) -> float | None:
    """Where the shore stands, when a ramp comes from it or something is known of it and the dock begins there."""
    if walk is not None:
        return walk.shore_x if walk.edge == "shore" else None
    place = design.spec.place
    known = bool(place.depths) or place.bank_height_in is not None
    nearest = min(d.x0 for d in decks)
    return 0.0 if known and 0 <= nearest <= NEAR_SHORE_IN else None


def _levels(design: Design) -> tuple[Level, ...]:
    water = design.spec.place.water
    if water.normal_in is None:
        return ()
    named = (("High", water.high_in, HIGH), ("Normal", water.normal_in, None), ("Low", water.low_in, LOW))
    return tuple(Level(name, value - water.normal_in, value, dash) for name, value, dash in named if value is not None)


def _bank_z(design: Design, walk: Walk | None) -> float:
    if walk is not None and walk.edge == "shore":
        return walk.hinge_z
    known = design.spec.place.bank_height_in
    return ASSUMED_BANK_IN if known is None else known


def _bottom(design: Design, shore_x: float) -> tuple[tuple[float, float], ...]:
    points = sorted((p.distance_in, p.depth_in) for p in design.spec.place.depths)
    return tuple((shore_x + distance, -depth) for distance, depth in points)
