"""A dock under a load, small: one section from its end, and the whole of it from its side, as it truly lies.

The end view looks out from the shore, left side to the left. The side view is that of the large drawing: from the
right side, shore to the left. Nothing of a dock that is not afloat.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from xml.sax.saxutils import escape

from estimating.engine.drawing import figures, symbols
from estimating.engine.drawing.afloat import BLEED_PX, Outline, trims
from estimating.engine.drawing.canvas import INK, TIMBER, WASH, WATER, Canvas, Lettering, Point, View, n
from estimating.engine.drawing.scene import Deck, Scene, stage
from estimating.engine.proof import CaseProof, SectionAfloat
from estimating.engine.reasons import Amount
from estimating.engine.result import Design, PlacedFloat

SIDE_PX = 50.0
WATER_BELOW_IN = 12.0
HEAD_IN, TALL_IN = 4.6, 66.0
APART_IN = 24.0
MOST_FIGURES = 12
LABEL_PX = 14.0


@dataclass(frozen=True, slots=True)
class Standing:
    """People along one side of a section: shore, lake, left or right in plan, so far in from its edge."""

    section: str
    side: str
    people: int
    inset_in: float


def standing(where: str, people: int, inset_in: float) -> Standing | None:
    """Where the crowd of a case stands, from the words of the proof; None where they name no side.

    >>> standing("A, left edge", 5, 12.0).side, standing("", 5, 12.0)
    ('left', None)
    """
    section, _, place = where.partition(", ")
    side, _, kind = place.partition(" ")
    if not people or kind not in ("edge", "end"):
        return None
    return Standing(section, side, people, inset_in)


@dataclass(frozen=True, slots=True)
class Rigid:
    """A body seen from a side: from the start of its deck to its end, tilted; figures in inches on the sheet."""

    start: Point
    end: Point
    length_in: float

    def at(self, along_in: float, below_in: float) -> Point:
        """A point of it: so far along its deck, so far below."""
        (x0, z0), (x1, z1) = self.start, self.end
        reach = hypot(x1 - x0, z1 - z0)
        share = along_in / self.length_in
        across = (z1 - z0) / reach * below_in, (x1 - x0) / reach * below_in
        return x0 + (x1 - x0) * share + across[0], z0 + (z1 - z0) * share - across[1]

    def box(self, along0: float, below0: float, along1: float, below1: float) -> list[Point]:
        return [self.at(*p) for p in ((along0, below0), (along1, below0), (along1, below1), (along0, below1))]


def tilted(middle: float, length_in: float, start_z: float, end_z: float) -> Rigid:
    """A body of this length whose deck ends stand at these heights, round a middle that stays where it is."""
    rise = end_z - start_z
    half = sqrt(max(length_in**2 - rise**2, 0.0)) / 2
    return Rigid((middle - half, start_z), (middle + half, end_z), length_in)


def end_view(design: Design, case: CaseProof, mark: str, crowd: Standing | None, wanted: Outline) -> str:
    """One section across its width at its true heel, cut at the end that lies lowest; empty when not afloat."""
    if not case.sections:
        return ""
    section = next(s for s in case.sections if s.section == mark)
    deck = next(d for d in stage(design, trims(case)).decks if d.mark == mark)
    cut, left, right = _lower_end(deck)
    body = tilted(0.0, deck.y1 - deck.y0, left, right)
    rows = {(round(f.y_in), round(f.size_y_in)): f for f in design.floats if f.section == mark}
    floats = [_hung(deck, f, deck.y1 - f.y_in, "y") for f in rows.values()]
    spots = [deck.y1 - y for y in _places(crowd, deck, along_x=False)] if crowd and crowd.section == mark else []
    drawing = _Picture(wanted, [(deck, body)], floats, [(body, spot) for spot in spots], [])
    ends = (("left", left), ("right", right))
    return drawing.svg(ends, _angle(wanted, section.heel_deg, "heel"), f"Section {mark} at its {cut} end", "end")


def _lower_end(deck: Deck) -> tuple[str, float, float]:
    """Which end of a section has the lowest corner, and its deck there, left and right."""
    trim = deck.trim
    shore, lake = (trim.shore_left_in, trim.shore_right_in), (trim.lake_left_in, trim.lake_right_in)
    return ("shore", *shore) if min(shore) <= min(lake) else ("lake", *lake)


def side_view(design: Design, case: CaseProof, crowd: Standing | None, wanted: Outline) -> str:
    """The whole dock along its length, each section at its true trim; empty when the dock is not afloat."""
    if not case.sections:
        return ""
    scene = stage(design, trims(case))
    bodies = [(deck, _along(deck, near=True)) for deck in sorted(scene.decks, key=lambda d: -d.y0)]
    floats = [
        _hung(deck, f, f.x_in - deck.x0, "x", body)
        for deck, body in bodies
        for f in {(round(f.x_in), round(f.size_x_in)): f for f in design.floats if f.section == deck.mark}.values()
    ]
    people = [
        (near if crowd.side != "left" else _along(deck, near=False), spot - deck.x0)
        for deck, near in bodies
        if crowd and crowd.section == deck.mark
        for spot in _places(crowd, deck, along_x=True)
    ]
    decks = [(near, _along(deck, near=False)) for deck, near in bodies]
    far = crowd is not None and crowd.side == "left"
    drawing = _Picture(wanted, bodies, floats, people, decks, far)
    steepest = max(case.sections, key=lambda section: abs(section.trim_deg))
    angle = _angle(wanted, steepest.trim_deg, "trim" if len(bodies) == 1 else f"trim, {steepest.section}")
    return drawing.svg(_ends(scene), angle, "Side view", "side")


def _along(deck: Deck, *, near: bool) -> Rigid:
    trim = deck.trim
    ends = (trim.shore_right_in, trim.lake_right_in) if near else (trim.shore_left_in, trim.lake_left_in)
    return tilted((deck.x0 + deck.x1) / 2, deck.x1 - deck.x0, *ends)


def _ends(scene: Scene) -> tuple[tuple[str, float], tuple[str, float]]:
    shore = min(scene.decks, key=lambda d: (d.x0, d.y0))
    lake = max(scene.decks, key=lambda d: (d.x1, -d.y0))
    return ("shore end", shore.trim.shore_right_in), ("lake end", lake.trim.lake_right_in)


def _angle(wanted: Outline, degrees: float, name: str) -> str:
    return f"{wanted.speak(Amount(abs(round(degrees, 1)), 'deg'))} {name}"


def _places(crowd: Standing, deck: Deck, *, along_x: bool) -> list[float]:
    """Where people stand along an axis of the plan: in a row along their edge, one behind the other across it."""
    low, high = (deck.x0, deck.x1) if along_x else (deck.y0, deck.y1)
    names = ("shore", "lake") if along_x else ("right", "left")
    inset = min(crowd.inset_in, (high - low) / 2)
    if crowd.side in names:
        return [low + inset if crowd.side == names[0] else high - inset]
    count = max(1, min(crowd.people, MOST_FIGURES, int((high - low) / APART_IN)))
    return [(low + high) / 2 + (k - (count - 1) / 2) * APART_IN for k in range(count)]


@dataclass(frozen=True, slots=True)
class _Hung:
    """A float under a deck, from so far to so far along it."""

    along0: float
    along1: float
    top: float
    bottom: float
    body: Rigid | None
    round: bool


def _hung(deck: Deck, item: PlacedFloat, along: float, axis: str, body: Rigid | None = None) -> _Hung:
    """Seen from where `axis` of the plan runs along the picture; a cylinder across it shows its end."""
    top, size = deck.deck_in + deck.frame_in, item.size_x_in if axis == "x" else item.size_y_in
    seen_round = item.round_along not in ("", axis)
    return _Hung(along - size / 2, along + size / 2, top, top + item.height_in, body, seen_round)


@dataclass(frozen=True, slots=True)
class _Picture:
    wanted: Outline
    bodies: Sequence[tuple[Deck, Rigid]]
    floats: Sequence[_Hung]
    people: Sequence[tuple[Rigid, float]]
    decks: Sequence[tuple[Rigid, Rigid]]  # near and far edge
    far: bool = False  # people stand at the far edge, behind the near one

    def svg(self, ends: Sequence[tuple[str, float]], angle: str, title: str, name: str) -> str:
        view = self._view()
        canvas = Canvas(self.wanted.pen)
        self._water(canvas, view)
        if self.far:
            self._people(canvas, view)
        self._dock(canvas, view)
        if not self.far:
            self._people(canvas, view)
        self._letter(canvas, view, ends, angle)
        said = ", ".join(f"{end} {self.wanted.speak(Amount(z, 'in_small'))} above the water" for end, z in ends)
        return _wrapped(canvas, f"{self.wanted.prefix}-{name}", title, f"{said}, {angle}.", self.wanted.width_px)

    def _people(self, canvas: Canvas, view: View) -> None:
        for body, spot in self.people:
            _person(canvas, view, body.at(spot, 0.0))

    def _reach(self) -> tuple[float, float, float, float]:
        points = [p for _, body in self.bodies for p in (body.start, body.end)]
        low = [p for f in self.floats for p in self._corners(f)]
        heads = [body.at(spot, 0.0)[1] + TALL_IN for body, spot in self.people]
        xs, zs = [p[0] for p in points + low], [p[1] for p in points + low]
        return min(xs), min([*zs, 0.0]) - WATER_BELOW_IN, max(xs), max([*zs, *heads, 0.0])

    def _view(self) -> View:
        x0, low, x1, high = self._reach()
        room = self.wanted.width_px - 2 * SIDE_PX
        scale = min(room / (x1 - x0), self.wanted.tallest_px / (high - low))
        return View(scale, self.wanted.width_px / 2 - (x0 + x1) / 2 * scale, high * scale)

    def _corners(self, item: _Hung) -> list[Point]:
        body = item.body or self.bodies[0][1]
        return body.box(item.along0, item.top, item.along1, item.bottom)

    def _water(self, canvas: Canvas, view: View) -> None:
        _, low, _, _ = self._reach()
        box = (BLEED_PX, view.y(0.0), self.wanted.width_px - BLEED_PX, view.y(low))
        canvas.rect(box, width=0, fill=WASH, stroke="none", data_part="water")
        depths = [box[1] + (box[3] - box[1]) * share for share in (0.25, 0.55, 0.85)]
        symbols.water_hatch(canvas, [(depth, box[0] + 8, box[2]) for depth in depths])

    def _dock(self, canvas: Canvas, view: View) -> None:
        pen = canvas.pen
        for item in self.floats:
            corners = [view.at(*p) for p in self._corners(item)]
            if item.round:
                middle = (corners[0][0] + corners[2][0]) / 2, (corners[0][1] + corners[2][1]) / 2
                radius = (item.bottom - item.top) / 2 * view.scale
                canvas.circle(middle, radius, width=pen.thin, fill=pen.ground, data_part="float")
                continue
            canvas.polygon(corners, width=pen.thin, fill=pen.ground, data_part="float")
        surface = view.y(0.0)
        ends = (BLEED_PX, surface), (self.wanted.width_px - BLEED_PX, surface)
        canvas.line(*ends, width=pen.outline, stroke=WATER, data_part="level")
        for near, far in self.decks:
            if far.start[1] > near.start[1] or far.end[1] > near.end[1]:
                seen = [view.at(*p) for p in (near.start, near.end, far.end, far.start)]
                canvas.polygon(seen, width=pen.hair, fill=TIMBER, data_part="surface")
        for deck, body in self.bodies:
            frame = body.box(0.0, deck.deck_in, body.length_in, deck.deck_in + deck.frame_in)
            canvas.polygon([view.at(*p) for p in frame], width=pen.thin, fill=TIMBER, data_part="frame")
            top = body.box(0.0, 0.0, body.length_in, deck.deck_in)
            canvas.polygon([view.at(*p) for p in top], width=0, fill=INK, data_part="deck", data_mark=deck.mark)

    def _letter(self, canvas: Canvas, view: View, ends: Sequence[tuple[str, float]], angle: str) -> None:
        x0, _, x1, _ = self._reach()
        for (_, z), x, anchor in zip(ends, (x0, x1), ("end", "start"), strict=True):
            out = -6 if anchor == "end" else 6
            at = view.x(x) + out, view.y(max(z, 0.0)) - 3
            label = Lettering(LABEL_PX, 600, anchor, WATER)
            canvas.text_where_free([(at, label)], figures.height(self.wanted.speak, z))
        foot = self.wanted.width_px / 2, canvas.bounds[3] + LABEL_PX + 4
        canvas.text(foot, angle, Lettering(LABEL_PX, 600, "middle", INK))


def _person(canvas: Canvas, view: View, feet: Point) -> None:
    x, z = feet
    canvas.line(view.at(x, z), view.at(x, z + TALL_IN - 2 * HEAD_IN), width=canvas.pen.outline, data_part="person")
    canvas.circle(
        view.at(x, z + TALL_IN - HEAD_IN), HEAD_IN * view.scale, width=canvas.pen.thin, fill=canvas.pen.ground
    )


def _wrapped(canvas: Canvas, prefix: str, title: str, said: str, width_px: float) -> str:
    _, y0, _, y1 = canvas.bounds
    height = y1 - y0 + 2 * BLEED_PX
    return (
        f'<svg class="dwg tilt" xmlns="http://www.w3.org/2000/svg" viewBox="0 {n(y0 - BLEED_PX)} {n(width_px)}'
        f' {n(height)}" width="{n(width_px)}" height="{n(height)}" role="img"'
        f' aria-labelledby="{prefix}-title {prefix}-desc"><title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-desc">{escape(said[:1].upper() + said[1:])}</desc>{"".join(canvas.parts)}</svg>'
    )


def most_heeled(sections: Sequence[SectionAfloat]) -> str:
    """The section that leans most to a side."""
    return max(sections, key=lambda section: abs(section.heel_deg)).section
