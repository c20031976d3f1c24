"""Which of the measures are out of their tolerance, in words."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from .blanks import SQUARE_IN, Blank, Box
from .facts import cut, level, small, tolerance

SLIM = 1e-6
SAYINGS = {"length": cut, "small": small, "level": level}


@dataclass(frozen=True, slots=True)
class Trouble:
    """A measure that is out: which blank, where, and the sentence. `said` is what to do about it."""

    key: str
    place: str
    words: str
    cure: str


def troubles(blanks: Iterable[Blank], values: Mapping[str, float]) -> tuple[Trouble, ...]:
    """What is out of tolerance among these values, by key, in engine units. Source of the limits: COMMON_PRACTICE."""
    return tuple(trouble for blank in blanks for trouble in _of(blank, values))


def _of(blank: Blank, values: Mapping[str, float]) -> Iterator[Trouble]:
    diagonals = [box for box in blank.boxes if ".diagonal_" in box.key]
    if len(diagonals) == 2 and all(box.key in values for box in diagonals):
        apart = abs(values[diagonals[0].key] - values[diagonals[1].key])
        if apart > SQUARE_IN + SLIM:
            words = f"Section {blank.place} is out of square: its diagonals are {cut(apart)} apart."
            cure = f"Rack it square and measure again. {tolerance(SQUARE_IN)} is the limit."
            yield Trouble(f"{blank.place}.diagonals", blank.place, words, cure)
            return
    for box in blank.boxes:
        if box.key in values and _out(box, values[box.key]):
            yield _trouble(blank, box, values[box.key])


def _out(box: Box, value: float) -> bool:
    return (box.least is not None and value < box.least - SLIM) or (box.most is not None and value > box.most + SLIM)


def _trouble(blank: Blank, box: Box, value: float) -> Trouble:
    say = SAYINGS[box.kind]
    words = f"{blank.title}: {box.label.lower()} is {say(value)}, and should be {say(box.expected)}."
    cures = {
        "length": "Measure again; if it stays, put it right or say why it may stay.",
        "small": "Measure again with nobody aboard; then look for the cause.",
        "level": "Sound again; then the chain must be reckoned anew for that depth.",
    }
    return Trouble(box.key, blank.place, words, cures[box.kind])


def square_words(first: float, second: float) -> str:
    """The result beside two diagonals, its word before its figures."""
    apart = abs(first - second)
    if apart <= SQUARE_IN + SLIM:
        return f"Square. {cut(apart)} apart; {tolerance(SQUARE_IN)} is the limit."
    return f"Out of square. {cut(apart)} apart; {tolerance(SQUARE_IN)} is the limit."
