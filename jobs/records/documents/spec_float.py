"""The flotation proof as the spec page says it: what each load does, whom the dock holds, what it weighs to lift."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from estimating.engine.flotation.criteria import RULE_SETS
from estimating.engine.proof import CaseProof, CaseVerdict, FloatProof
from estimating.engine.reasons import Amount, Sentence, Step

HAPPENS = {
    "floats": "floats",
    "deck edge awash": "a deck edge goes under",
    "capsizes": "turns over",
    "sinks": "sinks",
}
LEVEL_WORDS = {"fine": "fine", "check": "Check", "stop": "Stop"}
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
class Flotation:
    """Everything the page says of how the dock floats."""

    proof: FloatProof
    loads: tuple[Loads, ...]

    @property
    def water(self) -> str:
        return WATERS[self.proof.water]

    @property
    def most_rows(self) -> int:
        return sum(len(group.rows) for group in self.loads)


def flotation(proof: FloatProof) -> Flotation:
    """The proof in the page's words."""
    return Flotation(proof, tuple(_loads(proof)))


# Loads


def _loads(proof: FloatProof) -> Iterator[Loads]:
    for rule_set, cases in groupby(proof.cases, key=lambda case: case.rule_set):
        name = "" if rule_set == "firm" else RULE_SETS[rule_set].name
        yield Loads(name, tuple(_load(case, proof) for case in cases))


def _load(case: CaseProof, proof: FloatProof) -> Load:
    tilts = [v.value for v in case.verdicts if v.unit == "deg" and v.value is not None]
    own = case.most_tilt_deg
    return Load(
        case,
        _happens(case, proof.person_lb),
        max([own, *tilts]) if own is not None else None,
        tuple(_steps(case, proof)),
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


def _steps(case: CaseProof, proof: FloatProof) -> Iterator[Step]:
    """What lies on the water and what would push it up; whole pounds that add."""
    live, whole, reserve = round(case.live_lb), round(case.weight_lb), round(case.reserve_lb)
    dock = Sentence(f"Dock with its floats, {'seasoned' if case.kind == 'dead_seasoned' else 'wet'}")
    if live:
        yield Step(dock, Amount(whole - live, "lb"))
        yield Step(_load_words(case, proof.person_lb), Amount(live, "lb"))
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
