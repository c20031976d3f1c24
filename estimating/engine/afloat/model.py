"""The dock as the water meets it: rigid groups of sections on their floats, hinged to one another.

Levels are inches up from the top of the frame, which all sections share. Only floats lift, unless the firm counts the
frame's own buoyancy. Chains are left out: they lie on the bottom.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from estimating.engine.flotation.geometry import (
    FRESH,
    Assembly,
    FloatBody,
    FloatShape,
    Hinge,
    Mass,
    PointLoad,
    RigidBody,
    WaterDensity,
    combine_masses,
)
from estimating.engine.outline import Box, box_of
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.result import Design, PlacedFloat, SharedEdge, WeightedItem

from .grouping import gather

LEAST_FACTOR = 1e-6  # a float that lifts nothing still is there
CORNER_NAMES = ("shore-right", "lake-right", "lake-left", "shore-left")


@dataclass(frozen=True, slots=True)
class Deck:
    """One section's deck: its mark, its box in plan, the level of its surface, the body it belongs to."""

    mark: str
    box: Box
    top_in: float
    body: int
    turned: bool
    frame_depth_in: float

    @property
    def area_sqft(self) -> float:
        return (self.box.x1 - self.box.x0) * (self.box.y1 - self.box.y0) / 144

    @property
    def corners(self) -> tuple[tuple[float, float, float], ...]:
        """In the order of CORNER_NAMES."""
        x0, y0, x1, y1 = self.box
        return tuple((x, y, self.top_in) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))

    def load(self, weight_lb: float, x_in: float, y_in: float) -> PointLoad:
        return PointLoad(self.body, weight_lb, x_in, y_in, self.top_in)


@dataclass(frozen=True, slots=True)
class Model:
    """An assembly with the way back to the design. `floats` names, body by body, the places in Design.floats."""

    design: Design
    assembly: Assembly
    decks: tuple[Deck, ...]
    wet: tuple[Mass, ...]
    seasoned: tuple[Mass, ...]
    floats: tuple[tuple[int, ...], ...]
    members: tuple[tuple[str, ...], ...]
    hinged: tuple[SharedEdge, ...]
    rings: tuple[tuple[str, ...], ...]
    water: WaterDensity

    def decks_of(self, body: int) -> tuple[Deck, ...]:
        return tuple(deck for deck in self.decks if deck.body == body)

    def deck(self, mark: str) -> Deck:
        return next(deck for deck in self.decks if deck.mark == mark)


def model_of(design: Design, catalogue: Catalogue, rules: FirmRules) -> Model:
    """The dock of a design as bodies, floats and hinges, in its own water. Sources: GEOMETRY, FLOAT_RATING."""
    marks = [section.mark for section in design.spec.sections]
    at = {mark: index for index, mark in enumerate(marks)}
    rigid = [(at[e.first], at[e.second]) for e in design.edges if e.kind == "rigid"]
    gathered, hinged, rings = gather(len(marks), rigid, [e for e in design.edges if e.kind != "rigid"], at)
    body_of = {marks[i]: body for body, members in enumerate(gathered) for i in members}
    decks = tuple(_decks(design, catalogue, body_of))
    wet, seasoned = (_masses(design.weighed, body_of, len(gathered), decks, dry=dry) for dry in (False, True))
    floats = [tuple(n for n, f in enumerate(design.floats) if body_of[f.section] == b) for b in range(len(gathered))]
    under = {deck.mark: -deck.frame_depth_in for deck in decks}
    extra = _frame_parts(design, body_of) if rules.flotation.frame_buoyancy else {}
    members = tuple(tuple(marks[i] for i in group) for group in gathered)
    bodies = tuple(
        RigidBody(
            " ".join(members[b]),
            (*(rated_float(design.floats[n], under[design.floats[n].section]) for n in floats[b]), *extra.get(b, ())),
            wet[b],
            tuple(corner for deck in decks if deck.body == b for corner in deck.corners),
        )
        for b in range(len(gathered))
    )
    depth = {deck.mark: deck.frame_depth_in for deck in decks}
    hinges = tuple(_hinge(e, body_of, -min(depth[e.first], depth[e.second]) / 2) for e in hinged)
    density = rules.density_lb_per_cuft[design.spec.place.water.kind]
    named = tuple(tuple(marks[i] for i in ring) for ring in rings)
    return Model(
        design,
        Assembly(bodies, hinges),
        decks,
        wet,
        seasoned,
        tuple(floats),
        members,
        tuple(hinged),
        named,
        WaterDensity(density),
    )


def rated_float(placed: PlacedFloat, under_in: float) -> FloatBody:
    """A float of the design in its place, lifting what its sheet says: just awash under its rated net lift in fresh
    water. Source: FLOAT_RATING."""
    height, weight = placed.height_in, max(placed.weight_lb, 0.0)
    at = placed.x_in, placed.y_in, under_in - height, weight
    if placed.round_along:
        turned = placed.round_along == "y"
        length = placed.size_y_in if turned else placed.size_x_in
        body = FloatBody(length, height, height, *at, turn_deg=90.0 if turned else 0.0, shape=FloatShape.ROUND)
    else:
        body = FloatBody(placed.size_x_in, placed.size_y_in, height, *at)
    factor = (placed.net_lift_lb + placed.weight_lb) / (body.gross_volume_in3 * FRESH.lb_per_in3)
    return replace(body, buoyancy_factor=max(factor, LEAST_FACTOR))


def _decks(design: Design, catalogue: Catalogue, body_of: dict[str, int]) -> Iterator[Deck]:
    for section in design.spec.sections:
        board = catalogue.lumber[section.decking.board].thickness_in
        depth = catalogue.lumber[section.framing.stringer].width_in
        yield Deck(section.mark, box_of(section), board, body_of[section.mark], section.turned, depth)


def _masses(
    items: Sequence[WeightedItem], body_of: dict[str, int], count: int, decks: Sequence[Deck], *, dry: bool
) -> tuple[Mass, ...]:
    """All that each body carries but its floats, at one place."""
    sums = [[0.0, 0.0, 0.0, 0.0] for _ in range(count)]
    for what, section, x, y, z, wet_lb, seasoned_lb in items:
        if what != "float":
            weight, row = (seasoned_lb if dry else wet_lb), sums[body_of[section]]
            row[0] += weight
            row[1] += weight * x
            row[2] += weight * y
            row[3] += weight * z
    return tuple(
        Mass(weight, x / weight, y / weight, z / weight) if weight > 0 else _nothing(decks, body)
        for body, (weight, x, y, z) in enumerate(sums)
    )


def _nothing(decks: Sequence[Deck], body: int) -> Mass:
    return combine_masses(tuple(Mass(0.0, *deck.box.middle, 0.0) for deck in decks if deck.body == body))


def _hinge(edge: SharedEdge, body_of: dict[str, int], level_in: float) -> Hinge:
    return Hinge(body_of[edge.first], body_of[edge.second], edge.x0_in, edge.y0_in, edge.x1_in, edge.y1_in, level_in)


def _frame_parts(design: Design, body_of: dict[str, int]) -> dict[int, list[FloatBody]]:
    """Every stick as a body that lifts where it is wet. Its weight is in the frame's."""
    parts: dict[int, list[FloatBody]] = {}
    for piece in design.pieces:
        if piece.section != "ramp":
            long_in, wide_in = piece.x1_in - piece.x0_in, piece.y1_in - piece.y0_in
            middle = (piece.x0_in + piece.x1_in) / 2, (piece.y0_in + piece.y1_in) / 2
            stick = FloatBody(long_in, wide_in, piece.depth_in, *middle, -piece.depth_in, frame_part=True)
            parts.setdefault(body_of[piece.section], []).append(stick)
    return parts
