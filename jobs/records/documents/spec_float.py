"""The flotation proof as the spec page says it: what each load does, whom the dock holds, what it weighs to lift."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from estimating.engine.drawing import Outline, corner_plan
from estimating.engine.drawing.figures import Speak
from estimating.engine.flotation.criteria import RULE_SETS
from estimating.engine.proof import CaseProof, CaseVerdict, CornerAfloat, FloatProof, PeopleCount
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.result import Design

HAPPENS = {
    "floats": "floats",
    "deck edge awash": "a deck edge goes under",
    "capsizes": "turns over",
    "sinks": "sinks",
}
LEVEL_WORDS = {"fine": "fine", "check": "Check", "stop": "Stop"}
CROWDS = {
    "spread": "Spread out",
    "section": "All on one section",
    "edge": "Along one edge",
    "end": "At one end",
    "ramp": "On the ramp",
}
CORNERS_PX = 222.0
WATERS = {"fresh": "Fresh water", "brackish": "Brackish water", "salt": "Salt water"}


@dataclass(frozen=True, slots=True)
class Asked:
    """One criterion and how the case meets it; `found` is empty where there is no figure to it."""

    words: str
    found: Sentence
    level: str
    source: str

    @property
    def word(self) -> str:
        return LEVEL_WORDS[self.level]


@dataclass(frozen=True, slots=True)
class Load:
    """A row of the table of loads: the case at its worst place, what it does, and why that is said of it."""

    case: CaseProof
    happens: Sentence
    tilt_deg: float | None
    steps: tuple[Step, ...]
    asked: tuple[Asked, ...]

    @property
    def level(self) -> str:
        return self.case.level

    @property
    def word(self) -> str:
        return LEVEL_WORDS[self.level]

    @property
    def where(self) -> str:
        return standing_at(self.case.kind, self.case.where)

    @property
    def under_in(self) -> float | None:
        """How far the lowest deck corner is under, where it is."""
        least = self.case.least_freeboard_in
        return -least if least is not None and least < 0 else None


@dataclass(frozen=True, slots=True)
class Loads:
    """The cases one authority asks for; the firm's own come first and need no name."""

    name: str
    rows: tuple[Load, ...]


@dataclass(frozen=True, slots=True)
class Crowd:
    """People of one sort: where they stand, and what the proof counted."""

    words: str
    count: PeopleCount

    @property
    def where(self) -> str:
        return standing_at(self.count.crowd, self.count.where)


@dataclass(frozen=True, slots=True)
class AtRest:
    """The wet dock with nobody aboard: how high its deck stands, or that it does not float."""

    case: CaseProof
    corners: str
    lowest: str
    reason: Reason | None
    seasoned_in: float | None

    @property
    def deck_in(self) -> float | None:
        """Water to the lowest corner of the deck."""
        return self.case.least_freeboard_in

    @property
    def happens(self) -> str:
        return HAPPENS[self.case.outcome]


@dataclass(frozen=True, slots=True)
class Flotation:
    """Everything the page says of how the dock floats. No crowds: nobody has counted them."""

    proof: FloatProof
    at_rest: AtRest
    crowds: tuple[Crowd, ...]
    loads: tuple[Loads, ...]

    @property
    def water(self) -> str:
        return WATERS[self.proof.water]

    @property
    def spread(self) -> PeopleCount | None:
        return self.proof.crowd("spread")


def flotation(design: Design, proof: FloatProof, speak: Speak, *, prefix: str) -> Flotation:
    """The proof in the page's words and pictures."""
    crowds = tuple(Crowd(CROWDS[count.crowd], count) for count in proof.people)
    outline = Outline(CORNERS_PX, speak, f"{prefix}-corners")
    return Flotation(proof, _at_rest(design, proof, outline), crowds, tuple(loads_of(proof)))


def standing_at(kind: str, where: str) -> str:
    """Where a load stands, as it stands behind the load's name."""
    return f"lands on {where}" if kind == "ramp" else where


# At rest


def _at_rest(design: Design, proof: FloatProof, outline: Outline) -> AtRest:
    wet, seasoned = proof.case("dead_wet"), proof.case("dead_seasoned")
    least = min(
        ((section.section, corner) for section in wet.sections for corner in section.corners),
        key=lambda pair: pair[1].freeboard_in,
        default=None,
    )
    return AtRest(
        wet,
        corner_plan(design, wet, outline),
        f"{least[0]}, {least[1].corner}" if least else "",
        _corner_reason(design, *least) if least else None,
        seasoned.least_freeboard_in,
    )


def _corner_reason(design: Design, mark: str, corner: CornerAfloat) -> Reason:
    """From the bottom of the floats to the lowest corner: lying level first, then tilted."""
    level = next(group for group in design.level if mark in group.sections)
    low, flat, draft = (round(v, 1) for v in (corner.freeboard_in, level.freeboard_wet_in, level.draft_wet_in))
    steps = (
        Step(Sentence("Bottom of floats to top of deck"), Amount(round(flat + draft, 1), "in_small")),
        Step(Sentence("Less the draft, lying level"), Amount(-draft, "in_small")),
        Step(Sentence("Freeboard, lying level"), Amount(flat, "in_small"), total=True),
        Step(Sentence("Tilt, and what hangs on its hinges"), Amount(round(low - flat, 1), "in_small")),
        Step(Sentence("Lowest corner, {0}", (f"{mark}, {corner.corner}",)), Amount(low, "in_small"), total=True),
    )
    rule = Sentence(
        "Lumber wet, ramp and fittings on, nobody aboard. The dock is turned until the floats push straight under its "
        "weight; hinged sections share the height of their hinge."
    )
    return Reason(rule, "ARCHIMEDES", steps)


# Loads


def loads_of(proof: FloatProof) -> Iterator[Loads]:
    """The cases by who asks for them."""
    for rule_set, cases in groupby(proof.cases, key=lambda case: case.rule_set):
        name = "" if rule_set == "firm" else RULE_SETS[rule_set].name
        yield Loads(name, tuple(load_of(case, proof.person_lb) for case in cases))


def load_of(case: CaseProof, person_lb: float) -> Load:
    """A case as a row of the table."""
    tilts = [v.value for v in case.verdicts if v.unit == "deg" and v.value is not None]
    own = case.most_tilt_deg
    return Load(
        case,
        _happens(case, person_lb),
        max([own, *tilts]) if own is not None else None,
        tuple(_steps(case, person_lb)),
        tuple(_asked(verdict) for verdict in case.verdicts),
    )


def _happens(case: CaseProof, person_lb: float) -> Sentence:
    """What the dock does, each state it passes with the load that brings it."""
    if case.outcome == "floats" or not case.turns:
        return Sentence(HAPPENS[case.outcome])
    text, values = [], []
    for turn in case.turns:
        if turn.live_lb <= 0:
            text.append(f"{HAPPENS[turn.outcome]} with nobody aboard" if case.live_lb else HAPPENS[turn.outcome])
            continue
        place = len(values)
        people = f" ({{{place + 1}}} people)" if case.people else ""
        text.append(f"{HAPPENS[turn.outcome]} from {{{place}}} on{people}")
        values.append(Amount(ceil(turn.live_lb), "lb"))
        if case.people:
            values.append(Amount(ceil(turn.live_lb / person_lb - 1e-9), "count"))
    return Sentence(", ".join(text), tuple(values))


def _steps(case: CaseProof, person_lb: float) -> Iterator[Step]:
    """What lies on the water and what would push it up; whole pounds that add."""
    live, whole, reserve = round(case.live_lb), round(case.weight_lb), round(case.reserve_lb)
    dock = Sentence(f"Dock with its floats, {'seasoned' if case.kind == 'dead_seasoned' else 'wet'}")
    if live:
        yield Step(dock, Amount(whole - live, "lb"))
        yield Step(_load_words(case, person_lb), Amount(live, "lb"))
        yield Step(Sentence("On the water"), Amount(whole, "lb"), total=True)
    yield Step(Sentence("All floats, pushed under, push up"), Amount(whole + reserve, "lb"))
    yield Step(Sentence("Less what is on the water") if live else dock, Amount(-whole, "lb"))
    yield Step(Sentence("Lift to spare"), Amount(reserve, "lb"), total=True)
    if case.floats:
        share = max(each.immersed_share for each in case.floats)
        yield Step(Sentence("The deepest float is under by"), Amount(round(share * 100), "percent"))
        yield Step(Sentence("Water to the nearest float top"), Amount(round(case.least_top_in, 1), "in_small"))


def _load_words(case: CaseProof, person_lb: float) -> Sentence:
    if case.people:
        text = "{1} people of {0}" if case.people > 1 else "One person of {0}"
        return Sentence(text, (Amount(person_lb, "lb"), Amount(case.people, "count")))
    return Sentence("Half of what is on the ramp" if case.kind == "ramp" else "Load")


def _asked(verdict: CaseVerdict) -> Asked:
    found = Sentence("")
    if verdict.value is None:
        found = Sentence("not afloat")
    elif verdict.unit:
        found = Sentence("{0}", (Amount(round(verdict.value, 1), verdict.unit),))
    return Asked(verdict.words, found, verdict.level, verdict.source)
