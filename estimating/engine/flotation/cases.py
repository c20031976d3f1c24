"""The load cases a dock is looked at under, by their plain names. What they carry is the firm's or a rule's choice.

Where a crowd can stand on either side the cases of all sides are made: a shift of floats or of a ramp makes one of
them the worse one, and `worst` picks it. Source COMMON_PRACTICE, but for loads that come from a rule.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from .crowds import Outline, RampLanding, at, free_ends, half_psf, spread_psf
from .geometry import FRESH, Assembly, FlotationInputError, Mass, Point, PointLoad, WaterDensity
from .loads import CaseKind, LoadCase
from .results import Equilibrium

_PLAN = ((0.0, 1.0, "left half"), (0.0, -1.0, "right half"), (1.0, 0.0, "far half"), (-1.0, 0.0, "near half"))


@dataclass(frozen=True, slots=True)
class CaseChoices:
    """What the cases carry; every figure is a choice. Pounds, inches, pounds per square foot.

    spread_psf lies on all of the deck, half_psf on half of it. Crowds of edge_people and end_people stand
    crowd_inset_in from their edge. point_lb stands point_inset_in from the edge, at each side and at each corner;
    end_point_lb end_point_inset_in from each free end (0 leaves the case out).
    """

    spread_psf: float = 20.0
    half_psf: float = 20.0
    person_lb: float = 175.0
    edge_people: int = 4
    end_people: int = 4
    crowd_inset_in: float = 12.0
    point_lb: float = 400.0
    point_inset_in: float = 12.0
    end_point_lb: float = 0.0
    end_point_inset_in: float = 24.0
    water: WaterDensity = FRESH

    def __post_init__(self) -> None:
        amounts = (self.spread_psf, self.half_psf, self.person_lb, self.edge_people, self.end_people, self.point_lb)
        if min(amounts) < 0 or self.end_point_lb < 0:
            raise FlotationInputError("loads", "a load cannot be less than nothing")


@dataclass(frozen=True, slots=True)
class Frames:
    """The frame weights of all bodies, in order, freshly treated and seasoned."""

    wet: tuple[Mass, ...]
    seasoned: tuple[Mass, ...]


def standard_cases(
    assembly: Assembly, frames: Frames, choices: CaseChoices, ramp: RampLanding | None = None
) -> tuple[LoadCase, ...]:
    """All cases of a dock: dead wet and seasoned, then each kind of live load on wet lumber, on every section and side.

    Loads of nothing make no case. The ramp's own weight is always there. Raises FlotationInputError for a deck
    without area.
    """
    builder = _Builder(assembly, frames, choices, ramp)
    return tuple(builder.all())


@dataclass(frozen=True, slots=True)
class _Builder:
    assembly: Assembly
    frames: Frames
    choices: CaseChoices
    ramp: RampLanding | None

    def all(self) -> Iterator[LoadCase]:
        yield self._case("Dock alone, lumber wet", CaseKind.DEAD, ())
        yield self._case("Dock alone, lumber seasoned", CaseKind.DEAD, (), self.frames.seasoned)
        for case in self._live():
            if any(load.weight_lb for load in case.live):
                yield case

    def _live(self) -> Iterator[LoadCase]:
        name = f"Whole deck at {self.choices.spread_psf:g} psf"
        yield self._case(name, CaseKind.SPREAD, spread_psf(self.assembly, self.choices.spread_psf))
        yield from self._halves()
        for body in range(len(self.assembly.bodies)):
            yield from self._crowds(body)
            yield from self._points(body)
        if self.ramp is not None:
            yield self._case("Ramp full", CaseKind.RAMP, (self.ramp.full,))

    def _case(
        self, name: str, kind: CaseKind, live: tuple[PointLoad, ...], frames: tuple[Mass, ...] | None = None
    ) -> LoadCase:
        standing = (self.ramp.standing,) if self.ramp else ()
        return LoadCase(name, live, standing, frames or self.frames.wet, self.choices.water, kind)

    def _halves(self) -> Iterator[LoadCase]:
        psf = self.choices.half_psf
        for x, y, words in _PLAN:
            yield self._case(f"{psf:g} psf on the {words}", CaseKind.HALF, half_psf(self.assembly, psf, (x, y)))

    def _crowds(self, body: int) -> Iterator[LoadCase]:
        choices, name = self.choices, self.assembly.bodies[body].name
        outline = Outline.of(self.assembly.bodies[body].deck)
        crowd = choices.edge_people * choices.person_lb
        for side in outline.sides:
            place = at(body, crowd, outline.edge(side, choices.crowd_inset_in))
            yield self._case(f"{choices.edge_people} people at one edge of {name}", CaseKind.EDGE, (place,))
        crowd = choices.end_people * choices.person_lb
        for end in free_ends(self.assembly, body):
            place = at(body, crowd, outline.edge(end, choices.crowd_inset_in))
            yield self._case(f"{choices.end_people} people at one end of {name}", CaseKind.END, (place,))

    def _points(self, body: int) -> Iterator[LoadCase]:
        choices, name = self.choices, self.assembly.bodies[body].name
        outline = Outline.of(self.assembly.bodies[body].deck)
        inset = choices.point_inset_in
        places: list[Point] = [outline.edge(side, inset) for side in outline.sides]
        places += outline.corner_points(inset)
        for place in places:
            words = f"{choices.point_lb:g} lb near the edge of {name}"
            yield self._case(words, CaseKind.POINT, (at(body, choices.point_lb, place),))
        for end in free_ends(self.assembly, body):
            place = outline.edge(end, choices.end_point_inset_in)
            words = f"{choices.end_point_lb:g} lb {choices.end_point_inset_in:g} in from the end of {name}"
            yield self._case(words, CaseKind.FINGER_END, (at(body, choices.end_point_lb, place),))


def worst(results: Iterable[Equilibrium]) -> Equilibrium:
    """The worst of some cases: the worst outcome, and of like ones the least freeboard. ValueError if there is none."""
    return max(results, key=lambda r: (r.outcome.severity, -(r.least_freeboard_in or 0.0)))


def worst_of_each_kind(results: Sequence[Equilibrium]) -> tuple[Equilibrium, ...]:
    """One result a name's kind, in the order the kinds first come; the dead cases all stay."""
    kinds: dict[str, list[Equilibrium]] = {}
    for result in results:
        kind = result.case.kind
        kinds.setdefault(result.case.name if kind in (CaseKind.DEAD, CaseKind.OTHER) else kind, []).append(result)
    return tuple(worst(alike) for alike in kinds.values())
