"""Weights, areas, volumes, pressures and distances: kept in one unit, typed and read in either system."""

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Literal

from contractor.quantities.systems import NotUnderstood, System, other_system

if TYPE_CHECKING:
    from pint import UnitRegistry

Kind = Literal["weight", "area", "volume", "pressure", "distance"]


class AmountNotUnderstood(NotUnderstood):
    """Typed text that is no such amount; the message says what to type."""


@dataclass(frozen=True)
class _Measure:
    """One unit: pint's name for it, how it is printed and typed, and decimals when read."""

    unit: str
    label: str
    spellings: str
    places: int


@dataclass(frozen=True)
class _Kind:
    noun: str
    imperial: _Measure
    metric: _Measure

    def measure(self, system: System) -> _Measure:
        return self.imperial if system == "imperial" else self.metric


_KINDS: dict[Kind, _Kind] = {
    "weight": _Kind(
        "weight",
        _Measure("pound", "lb", r"lbs?|pounds?|#", 0),
        _Measure("kilogram", "kg", r"kgs?|kilos?|kilograms?", 0),
    ),
    "area": _Kind(
        "area",
        _Measure("foot ** 2", "sq ft", r"sq\.? ?ft|square feet|square foot|ft2|ft²|sf", 0),
        _Measure("meter ** 2", "m²", r"m2|m²|sq\.? ?m|square met(?:re|er)s?", 1),
    ),
    "volume": _Kind(
        "volume",
        _Measure("foot ** 3", "cu ft", r"cu\.? ?ft|cubic feet|cubic foot|ft3|ft³", 1),
        _Measure("meter ** 3", "m³", r"m3|m³|cu\.? ?m|cubic met(?:re|er)s?", 2),
    ),
    "pressure": _Kind(
        "load",
        _Measure("force_pound / foot ** 2", "psf", r"psf|lbs? ?/ ?sq\.? ?ft|lbs? ?/ ?ft2", 0),
        _Measure("kilopascal", "kPa", r"kpa|kn ?/ ?m2|kn ?/ ?m²", 2),
    ),
    "distance": _Kind(
        "distance",
        _Measure("mile", "mi", r"mi|miles?", 1),
        _Measure("kilometer", "km", r"km|kms|kilomet(?:re|er)s?", 1),
    ),
}


def parse_amount(text: str, kind: Kind, *, system: System = "imperial") -> float:
    """The amount in pounds, square feet, cubic feet, psf or miles; a bare number is in the firm's own unit.

    Below zero is refused. Raises AmountNotUnderstood, with a sentence that says what to type.

    >>> parse_amount("450", "weight"), parse_amount("1,200 lb", "weight"), round(parse_amount("200 kg", "weight"), 2)
    (450.0, 1200.0, 440.92)
    """
    about = _KINDS[kind]
    own = about.measure(system)
    example = f"Type a {about.noun} like 450 {own.label} or 450 {about.measure(other_system(system)).label}."
    found = re.fullmatch(r"(-?)([\d.,\u00a0\u202f ]*\d\.?) ?([^\d.,]*[23]?)", text.strip().lower())
    if not found:
        raise AmountNotUnderstood(f"“{text.strip()}” is not a {about.noun}. {example}" if text.strip() else example)
    minus, number, unit = found.groups()
    value = _number(number, example)
    if minus and value:
        raise AmountNotUnderstood(f"A {about.noun} can’t be below zero. {example}")
    return _to_kept_unit(value, unit.strip(), about, system, example)


def format_amount(value: float | None, kind: Kind, system: System, *, places: int | None = None) -> str:
    """The amount with the firm's unit; "unknown" for None.

    >>> format_amount(850, "weight", "imperial"), format_amount(850, "weight", "metric")
    ('850 lb', '386 kg')
    >>> format_amount(20, "pressure", "metric"), format_amount(96, "area", "metric")
    ('0.96 kPa', '8.9 m²')
    """
    if value is None:
        return "unknown"
    own = _KINDS[kind].measure(system)
    shown = value if system == "imperial" else value * _metric_per_kept(kind)
    decimals = own.places if places is None else places
    return f"{round(shown, decimals) or 0:,.{decimals}f} {own.label}"


def edit_amount(value: float, kind: Kind, system: System) -> str:
    """The amount as plain text for a box; it parses back to exactly the same float.

    >>> edit_amount(450.0, "weight", "imperial"), edit_amount(parse_amount("200 kg", "weight"), "weight", "imperial")
    ('450 lb', '200 kg')
    """
    own, other = _KINDS[kind].measure(system), _KINDS[kind].measure(other_system(system))
    for measure in (own, other):
        per_kept = _metric_per_kept(kind) if measure is _KINDS[kind].metric else 1.0
        text = f"{round(value * per_kept, 4):.4f}".rstrip("0").rstrip(".") + f" {measure.label}"
        if parse_amount(text, kind, system=system) == value:
            return text
    return f"{value!r} {_KINDS[kind].imperial.label}"


def echo_amount(value: float | None, kind: Kind, system: System) -> str:
    """What was understood, in the firm's unit and then in the other; "unknown" for None."""
    if value is None:
        return "unknown"
    return f"{format_amount(value, kind, system)}, {format_amount(value, kind, other_system(system))}"


def _number(number: str, example: str) -> float:
    tight = re.sub(r"[\u00a0\u202f ]", "", number)
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d*)?", tight):
        tight = tight.replace(",", "")
    tight = tight.replace(",", ".")
    if not re.fullmatch(r"(\d+\.?\d*|\.\d+)", tight) or len(tight) > 15:
        raise AmountNotUnderstood(f"“{number}” is not a number. {example}")
    return float(tight)


def _to_kept_unit(value: float, unit: str, about: _Kind, system: System, example: str) -> float:
    for measure in (about.imperial, about.metric):
        if re.fullmatch(measure.spellings, unit) or (not unit and measure is about.measure(system)):
            return value if measure is about.imperial else value / _per_unit(about.imperial.unit, about.metric.unit)
    raise AmountNotUnderstood(f"“{unit}” is not a unit of {about.noun}. {example}")


def _metric_per_kept(kind: Kind) -> float:
    return _per_unit(_KINDS[kind].imperial.unit, _KINDS[kind].metric.unit)


@cache
def _per_unit(unit: str, other: str) -> float:
    return _registry().Quantity(1.0, unit).to(other).magnitude


@cache
def _registry() -> "UnitRegistry":
    from pint import UnitRegistry  # takes longer to load than all of ours; most commands need none of it

    return UnitRegistry(cache_folder=None)
