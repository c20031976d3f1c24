"""A section as its strength sees it: sticks, what they rest on, what they carry. Own axes, inches and pounds."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from estimating.engine.frame import stringer_centres
from estimating.engine.outline import box_of, edge_of, own_axes
from estimating.engine.parts import Catalogue, FirmRules, Lumber
from estimating.engine.result import Design, Weight
from estimating.engine.spec import Section

# A stringer this near beside a float rests on its flange. Common practice, no source.
FLANGE_IN = 2.0
# Floats under less than this share of its length do not keep a stringer level by themselves.
HELD_SHARE = 1 / 3


@dataclass(frozen=True, slots=True)
class Stock:
    """What a member is sawn from: true size, inches, and the catalogue's words."""

    name: str
    thickness_in: float
    depth_in: float
    species: str
    treatment: str
    wet_lb_per_ft: float = 0.0

    @property
    def area_sqin(self) -> float:
        return self.thickness_in * self.depth_in

    @property
    def modulus_in3(self) -> float:
        return self.thickness_in * self.depth_in**2 / 6

    @property
    def inertia_in4(self) -> float:
        return self.thickness_in * self.depth_in**3 / 12


def stock_of(lumber: Lumber) -> Stock:
    return Stock(
        lumber.nominal,
        lumber.thickness_in,
        lumber.width_in,
        lumber.species,
        lumber.treatment,
        lumber.wet_lb_per_ft,
    )


@dataclass(frozen=True, slots=True)
class FloatUnder:
    """A float in plan, and the waterplane's stiffness: pounds to sink it one inch."""

    u0_in: float
    u1_in: float
    v0_in: float
    v1_in: float
    lb_per_in: float

    @property
    def u_in(self) -> float:
        return (self.u0_in + self.u1_in) / 2


@dataclass(frozen=True, slots=True)
class Landing:
    """The ramp on this section: where along it, over which width, pounds dead and with people on it."""

    u_in: float
    v0_in: float
    v1_in: float
    dead_lb: float
    live_lb: float
    on_header: bool

    @property
    def v_in(self) -> float:
        return (self.v0_in + self.v1_in) / 2


@dataclass(frozen=True, slots=True)
class Framed:
    """One section. `centres_in` are of the stringers across it, rims first and last; `lines_in` of headers and cross
    members along it."""

    length_in: float
    width_in: float
    stringer: Stock
    header: Stock
    cross: Stock
    board: Stock
    centres_in: tuple[float, ...]
    lines_in: tuple[float, ...]
    floats: tuple[FloatUnder, ...]
    along: bool  # boards along the section, on its headers and cross members
    board_spacing_in: float
    board_most_in: float | None
    overhang_in: float
    dead_psf: float
    live_psf: float
    heavy_lb: float
    landing: Landing | None
    ends: tuple[str, str]  # in words, from where it is measured and to where

    @property
    def spacing_in(self) -> float:
        return self.centres_in[1] - self.centres_in[0]

    @property
    def most_unbraced_in(self) -> float:
        return max(there - here for here, there in pairwise(self.lines_in))

    def with_stringers(self, count: int) -> "Framed":
        """The same section with its stringers counted anew, evenly spaced; their weight is with it."""
        centres = stringer_centres(width_in=self.width_in, thickness_in=self.stringer.thickness_in, count=count)
        spacing = self.board_spacing_in if self.along else centres[1] - centres[0]
        dead = self.dead_psf + self._psf((count - len(self.centres_in)) * self.stringer.wet_lb_per_ft)
        return replace(self, centres_in=tuple(centres), board_spacing_in=spacing, dead_psf=dead)

    def with_stock(self, stringer: Stock) -> "Framed":
        """The same section with its stringers of other lumber; its other members stay."""
        heavier = stringer.wet_lb_per_ft - self.stringer.wet_lb_per_ft
        return replace(self, stringer=stringer, dead_psf=self.dead_psf + self._psf(heavier * len(self.centres_in)))

    def _psf(self, lb_per_ft: float) -> float:
        return lb_per_ft / (self.width_in / 12)


@dataclass(frozen=True, slots=True)
class Rest:
    """One stringer that floats hold up: number, and from where to where across it carries the deck, and the floats'
    shares under it as (from, to, pounds per inch of sinking)."""

    number: int
    from_in: float
    to_in: float
    under: tuple[tuple[float, float, float], ...]

    @property
    def width_in(self) -> float:
        return self.to_in - self.from_in

    @property
    def float_centres_in(self) -> tuple[float, ...]:
        return tuple(sorted({round((start + end) / 2, 6) for start, end, _ in self.under}))


def rests(framed: Framed) -> tuple[Rest, ...]:
    """The stringers that floats hold up. Those between them load them through the boards or the cross members.

    Where floats hold up none by itself, all stringers rest on all floats together. Source: COMMON_PRACTICE.
    """
    touching = {number: _touching(framed, number) for number in range(len(framed.centres_in))}
    held = [
        number for number, floats in touching.items() if _holds([framed.floats[at] for at in floats], framed.length_in)
    ]
    if not held:
        touching = dict.fromkeys(touching, range(len(framed.floats)))
        held = list(touching) if framed.floats else []
    edges = _edges(framed, held)
    shares: dict[int, dict[tuple[float, float], float]] = {number: defaultdict(float) for number in held}
    for at, each in enumerate(framed.floats):
        under = [number for number in held if at in touching[number]]
        # A stringer on the flange carries little of a float, but not nothing.
        parts = [max(1.0, min(each.v1_in, edges[n][1]) - max(each.v0_in, edges[n][0])) for n in under]
        for number, part in zip(under, parts, strict=True):
            start, end = max(each.u0_in, 0.0), min(each.u1_in, framed.length_in)
            shares[number][start, end] += each.lb_per_in * part / sum(parts)
    return tuple(
        Rest(number, *edges[number], tuple((*span, stiff) for span, stiff in shares[number].items())) for number in held
    )


def idle(framed: Framed, held: Sequence[Rest]) -> tuple[int, ...]:
    """Stringers that no float holds up."""
    on_floats = {rest.number for rest in held}
    return tuple(number for number in range(len(framed.centres_in)) if number not in on_floats)


def carried_width_in(framed: Framed, number: int) -> float:
    """The width of deck one stringer carries by itself, halfway to its neighbours, inches. Source: GEOMETRY."""
    centres, over = framed.centres_in, 0.0 if framed.along else framed.overhang_in
    start = (centres[number - 1] + centres[number]) / 2 if number else -over
    last = number == len(centres) - 1
    return (framed.width_in + over if last else (centres[number] + centres[number + 1]) / 2) - start


def _touching(framed: Framed, number: int) -> Sequence[int]:
    centre, half = framed.centres_in[number], framed.stringer.thickness_in / 2 + FLANGE_IN
    return [n for n, each in enumerate(framed.floats) if each.v0_in - half < centre < each.v1_in + half]


def _holds(floats: Sequence[FloatUnder], length_in: float) -> bool:
    if not floats:
        return False
    spread = max(each.u_in for each in floats) - min(each.u_in for each in floats)
    longest = max(each.u1_in - each.u0_in for each in floats)
    return max(spread, longest) >= HELD_SHARE * length_in - 1e-6


def _edges(framed: Framed, numbers: Sequence[int]) -> dict[int, tuple[float, float]]:
    over = 0.0 if framed.along else framed.overhang_in
    centres = [framed.centres_in[number] for number in numbers]
    lines = [-over, *((a + b) / 2 for a, b in pairwise(centres)), framed.width_in + over]
    return dict(zip(numbers, pairwise(lines), strict=True))


class Framing:
    """Reads the sections of a design, one pass over its pieces and floats."""

    def __init__(self, design: Design, catalogue: Catalogue, rules: FirmRules, live_load_psf: float) -> None:
        self.design, self.catalogue, self.rules, self.live = design, catalogue, rules, live_load_psf
        self.lines: dict[str, set[tuple[float, float]]] = defaultdict(set)
        self.floats: dict[str, list[FloatUnder]] = defaultdict(list)
        self.items: dict[str, set[str]] = defaultdict(set)
        self.sections = {section.mark: section for section in design.spec.sections}
        self.weights: dict[str, Weight] = {weight.section: weight for weight in design.weights}
        self._read()

    def _read(self) -> None:
        turned = {mark: section.turned for mark, section in self.sections.items()}
        for piece in self.design.pieces:
            if piece.role in ("header", "cross member") and piece.section in turned:
                ends = (piece.y0_in, piece.y1_in) if turned[piece.section] else (piece.x0_in, piece.x1_in)
                self.lines[piece.section].add(ends)
        sink = self.rules.density_lb_per_cuft[self.design.spec.place.water.kind] / 1728
        for each in self.design.floats:
            section = self.sections[each.section]
            u, v = own_axes(section, each.x_in, each.y_in)
            size = (each.size_y_in, each.size_x_in) if section.turned else (each.size_x_in, each.size_y_in)
            box = (
                round(u - size[0] / 2, 4),
                round(u + size[0] / 2, 4),
                round(v - size[1] / 2, 4),
                round(v + size[1] / 2, 4),
            )
            self.items[each.section].add(each.item)
            self.floats[each.section].append(FloatUnder(*box, size[0] * size[1] * sink))

    def float_items(self, mark: str) -> tuple[str, ...]:
        """Catalogue codes of the floats under a section."""
        return tuple(sorted(self.items[mark]))

    def all(self) -> Iterator[tuple[str, Framed]]:
        for run in self.design.boards:
            if run.section in self.sections:
                yield run.section, self._one(self.sections[run.section], run.support_spacing_in)

    def _one(self, section: Section, board_spacing_in: float) -> Framed:
        framing, lumber = section.framing, self.catalogue.lumber
        stringer, board = stock_of(lumber[framing.stringer]), lumber[section.decking.board]
        centres = stringer_centres(
            width_in=section.width_in, thickness_in=stringer.thickness_in, count=framing.stringer_count
        )
        weight = self.weights[section.mark]
        dead = weight.frame_wet_lb + weight.deck_wet_lb + weight.hardware_lb + weight.accessories_lb
        return Framed(
            section.length_in,
            section.width_in,
            stringer,
            stock_of(lumber[framing.header]),
            stock_of(lumber[framing.cross_member]),
            stock_of(board),
            tuple(centres),
            self._lines_in(section),
            tuple(self.floats[section.mark]),
            section.decking.direction == "along",
            board_spacing_in,
            board.support_spacing_in,
            section.decking.overhang_in,
            dead * 144 / (section.length_in * section.width_in),
            self.live,
            self.rules.flotation.heavy_lb,
            self._landing(section),
            ("right end", "left end") if section.turned else ("shore end", "lake end"),
        )

    def _lines_in(self, section: Section) -> tuple[float, ...]:
        start = section.y_in if section.turned else section.x_in
        return tuple(sorted({round((here + there) / 2 - start, 4) for here, there in self.lines[section.mark]}))

    def _landing(self, section: Section) -> Landing | None:
        ramp = self.design.ramp
        if ramp is None or ramp.section != section.mark:
            return None
        u, v = own_axes(section, ramp.dock_x_in, ramp.dock_y_in)
        live = self.live * ramp.length_in * ramp.width_in / 144 / 2
        line = edge_of(box_of(section), ramp.edge)
        on_header = (line.x0 == line.x1) != section.turned
        half = ramp.width_in / 2 if on_header else 0.0
        return Landing(u, v - half, v + half, ramp.reaction_lb, live, on_header)
