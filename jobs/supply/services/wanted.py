"""An estimate's takeoff read as goods to have: sticks by their length, floats by section, the rest in units of use."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

WOOD_GROUPS = ("framing lumber", "decking")


@dataclass(frozen=True, slots=True)
class Wanted:
    """So many of a catalogue code for a stage; `length_in` above zero for sticks, `section` where it is known."""

    code: str
    length_in: float
    stage: str
    section: str
    quantity: Decimal


def wanted_from(figures: Mapping[str, Any] | None) -> tuple[Wanted, ...]:
    """Every line of the takeoff in an estimate as plain JSON; alike lines are put together. No figures: nothing."""
    together: dict[tuple[str, float, str, str], Decimal] = {}
    for one in _read(figures) if figures else ():
        key = (one.code, one.length_in, one.stage, one.section)
        together[key] = together.get(key, Decimal(0)) + one.quantity
    return tuple(Wanted(*key, quantity) for key, quantity in together.items() if quantity > 0)


def _read(figures: Mapping[str, Any]) -> Iterator[Wanted]:
    takeoff = figures["takeoff"]
    lengths: dict[str, set[float]] = {}
    for stick in takeoff["sticks"]:
        lengths.setdefault(stick["item"], set()).add(float(stick["stock_length_in"]))
    floats = Counter((placed["item"], placed["section"]) for placed in figures["floats"])
    for line in takeoff["lines"]:
        code, stage, wanted = line["code"], line["stage"], Decimal(str(line["with_waste"]))
        if line["group"] in WOOD_GROUPS:
            yield Wanted(code, _stick_in(line, sorted(lengths[code])), stage, "", Decimal(str(line["packs"])))
        elif line["group"] == "floats":
            yield from _floats(code, stage, wanted, [(s, n) for (item, s), n in floats.items() if item == code])
        else:
            yield Wanted(code, 0.0, stage, "", wanted)


def _stick_in(line: Mapping[str, Any], lengths: Sequence[float]) -> float:
    """The stock length of a line of sticks; the line says feet to a hundredth, the sticks their true length."""
    rough_in = float(Decimal(str(line["bought"])) / Decimal(str(line["packs"]))) * 12
    return min(lengths, key=lambda length: abs(length - rough_in))


def _floats(code: str, stage: str, wanted: Decimal, sections: Sequence[tuple[str, int]]) -> Iterator[Wanted]:
    for section, count in sections:
        yield Wanted(code, 0.0, stage, section, Decimal(count))
    yield Wanted(code, 0.0, stage, "", wanted - sum(count for _, count in sections))
