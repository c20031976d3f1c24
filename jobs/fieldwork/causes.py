"""Why a dock does not lie as it was reckoned: measured freeboards against those of likely causes, worked out anew.

Each cause is put on the dock as a weight in its place (water in one float, lumber heavier or lighter than reckoned, a
load along one side) and made so large that the corners come nearest to what was measured; the cause that leaves the
least unexplained comes first. Corners tell how much weight is where, and no more: a load right above a float looks
like water in it, so every cause that fits is named.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from estimating.engine.afloat.model import Model, model_of
from estimating.engine.afloat.places import free_edges
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import Mass, PointLoad
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Equilibrium
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.reasons import Amount, Sentence
from estimating.engine.result import Design

AS_RECKONED_IN = 0.25  # a tape on flat water reads no closer, common practice
FITS_IN = 0.15  # what a good cause may leave unexplained, root mean square
ALIKE_IN = 0.05  # causes that explain equally well: then the commoner first
TRY_LB = 60.0
STEPS = 4


@dataclass(frozen=True, slots=True)
class Measured:
    """A freeboard as read: corner is shore-right, lake-right, lake-left or shore-left of a section."""

    section: str
    corner: str
    freeboard_in: float


@dataclass(frozen=True, slots=True)
class Cause:
    """A likely cause in words. kind: as_reckoned, lumber_wet, lumber_dry, float_water, side_load, unclear.

    `float_number` counts from 1, as on the float map; `left_in` is what it leaves unexplained, root mean square.
    """

    kind: str
    words: Sentence
    weight_lb: float = 0.0
    float_number: int | None = None
    where: str = ""
    left_in: float = 0.0


@dataclass(frozen=True, slots=True)
class _Suspect:
    """A cause to try: a weight in its place, or a share of the lumber."""

    kind: str
    loads: tuple[PointLoad, ...]  # of one pound in all
    float_index: int | None = None
    where: str = ""
    most_lb: float = float("inf")


def likely_causes(
    design: Design, catalogue: Catalogue, rules: FirmRules, measured: Sequence[Measured], *, seasoned: bool = False
) -> tuple[Cause, ...]:
    """Causes that fit what was measured with nobody aboard, the likeliest first; one of kind unclear if none fits.

    At least three corners are needed to tell sides apart; with fewer it is unclear. Raises DidNotSettle. Source:
    ARCHIMEDES for how the dock would lie, COMMON_PRACTICE for what counts as near enough.
    """
    model = model_of(design, catalogue, rules)
    bench = _Bench(model, DockAfloat(model.assembly), tuple(measured), seasoned)
    off = bench.target - bench.reckoned
    if not len(off) or np.abs(off).max() <= AS_RECKONED_IN:
        return (Cause("as_reckoned", Sentence("The dock lies as reckoned, within {0}.", (_inches(AS_RECKONED_IN),))),)
    if len(off) < 3:
        return (_unclear("Three corners at least tell what it is; measure the others."),)
    tried = bench.fit(tuple(_suspects(model)))
    before = float(np.sqrt((off**2).mean()))
    fitting = [one for one in tried if one.left_in <= max(FITS_IN, 0.1 * before)]
    ranked = sorted(fitting, key=lambda cause: (round(cause.left_in / ALIKE_IN), _RANK[cause.kind], cause.left_in))
    if not ranked:
        return (_unclear("None of the usual causes fits. Measure again with nobody aboard, on flat water."),)
    return tuple(ranked[:4])


_RANK = {"lumber_wet": 0, "lumber_dry": 0, "float_water": 1, "side_load": 2}


@dataclass(frozen=True, slots=True)
class _Bench:
    """The dock with the corners that were measured."""

    model: Model
    dock: DockAfloat
    measured: tuple[Measured, ...]
    seasoned: bool

    @property
    def target(self) -> np.ndarray:
        return np.array([one.freeboard_in for one in self.measured])

    @property
    def reckoned(self) -> np.ndarray:
        return self.read(self.dock.solve([self._case(())]))[0]

    def fit(self, suspects: tuple[_Suspect, ...]) -> Iterator[Cause]:
        """Each suspect at the weight that explains most: a few steps of least squares, all suspects at once."""
        base, target = self.reckoned, self.target
        weights = np.full(len(suspects), TRY_LB)
        for _ in range(STEPS):
            found = self._at(suspects, weights)
            slopes = (found - base) / np.where(weights == 0, 1.0, weights)[:, None]
            size = (slopes**2).sum(1)
            best = (slopes * (target - base)).sum(1) / np.where(size > 1e-12, size, 1.0)
            weights = np.array([_bounded(s, w) for s, w in zip(suspects, best, strict=True)])
        found = self._at(suspects, weights)
        left = np.sqrt(((found - target) ** 2).mean(1))
        return (
            self._cause(suspect, float(weight), float(rest))
            for suspect, weight, rest in zip(suspects, weights, left, strict=True)
            if abs(weight) > 1.0 and np.isfinite(rest)
        )

    def _at(self, suspects: tuple[_Suspect, ...], weights: np.ndarray) -> np.ndarray:
        cases = [self._case(one.loads, float(weight)) for one, weight in zip(suspects, weights, strict=True)]
        return self.read(self.dock.solve(cases))

    def _case(self, loads: tuple[PointLoad, ...], weight_lb: float = 1.0) -> LoadCase:
        """The dock with so much more in these places; less than nothing is taken off the frames."""
        frames = list(self.model.seasoned if self.seasoned else self.model.wet)
        if weight_lb < 0:
            for load in loads:
                frames[load.body] = _less(frames[load.body], -weight_lb * load.weight_lb)
            loads = ()
        heavier = tuple(replace(load, weight_lb=load.weight_lb * weight_lb) for load in loads)
        return LoadCase("as measured", heavier, (), tuple(frames), self.model.water)

    def read(self, levels: Sequence[Equilibrium]) -> np.ndarray:
        """Freeboards at the measured corners, a row a case; not a number where the dock does not float."""
        places = [self._place(one) for one in self.measured]
        nowhere = [float("nan")] * len(places)
        return np.array(
            [
                [level.bodies[body].corners[at].freeboard_in for body, at in places] if level.bodies else nowhere
                for level in levels
            ]
        )

    def _place(self, one: Measured) -> tuple[int, int]:
        names = ("shore-right", "lake-right", "lake-left", "shore-left")
        deck = self.model.deck(one.section)
        own = [other.mark for other in self.model.decks_of(deck.body)]
        return deck.body, 4 * own.index(one.section) + names.index(one.corner)

    def _cause(self, suspect: _Suspect, weight_lb: float, left_in: float) -> Cause:
        if suspect.kind == "lumber":
            return _lumber(weight_lb, left_in)
        if suspect.float_index is None:
            words = Sentence("About {0} too much lies along {1}.", (_pounds(weight_lb), suspect.where))
            return Cause("side_load", words, weight_lb, None, suspect.where, left_in)
        number, section = suspect.float_index + 1, self.model.design.floats[suspect.float_index].section
        cuft = Amount(round(weight_lb / self.model.water.lb_per_ft3, 1), "cuft")
        words = Sentence("Float {0} on section {1} takes water: about {2} in it.", (str(number), section, cuft))
        return Cause("float_water", words, weight_lb, number, section, left_in)


def _lumber(weight_lb: float, left_in: float) -> Cause:
    if weight_lb > 0:
        text, kind = "The lumber is {0} heavier than reckoned: wetter, or more of it.", "lumber_wet"
    else:
        text, kind = "The lumber is {0} lighter than reckoned: drier, or less of it.", "lumber_dry"
    return Cause(kind, Sentence(text, (_pounds(weight_lb),)), weight_lb, left_in=left_in)


def _suspects(model: Model) -> Iterator[_Suspect]:
    total = sum(mass.weight_lb for mass in model.wet)
    lumber = tuple(
        PointLoad(body, mass.weight_lb / total, mass.x_in, mass.y_in, mass.z_in)
        for body, mass in enumerate(model.wet)
        if total
    )
    yield _Suspect("lumber", lumber)
    for body, numbers in enumerate(model.floats):
        for index in numbers:
            placed = model.design.floats[index]
            under = -model.deck(placed.section).frame_depth_in - 0.75 * placed.height_in
            holds = placed.volume_cuft * model.water.lb_per_ft3
            load = (PointLoad(body, 1.0, placed.x_in, placed.y_in, under),)
            yield _Suspect("float_water", load, index, "", holds)
    for edge in free_edges(model):
        yield _Suspect("side_load", (edge.deck.load(1.0, *edge.point(12.0)),), None, edge.words)


def _bounded(suspect: _Suspect, weight_lb: float) -> float:
    if not np.isfinite(weight_lb):
        return 0.0
    if suspect.kind == "lumber":
        return float(weight_lb)
    return float(min(max(weight_lb, 0.0), suspect.most_lb))


def _less(mass: Mass, weight_lb: float) -> Mass:
    return replace(mass, weight_lb=max(mass.weight_lb - weight_lb, 1.0))


def _unclear(words: str) -> Cause:
    return Cause("unclear", Sentence(words))


def _pounds(weight_lb: float) -> Amount:
    return Amount(round(abs(weight_lb)), "lb")


def _inches(value: float) -> Amount:
    return Amount(value, "in_small")
