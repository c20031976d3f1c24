"""Which field reads a text that is echoed while a page is open."""

from collections.abc import Callable
from typing import Any

from contractor.company.fields.figures import DayField, MarginField, MileageField, MoneyField
from contractor.company.fields.measures import (
    AreaField,
    DistanceField,
    LengthField,
    LevelField,
    PressureField,
    WeightField,
)
from contractor.company.fields.typed import TypedField

ECHOED: dict[str, Callable[..., TypedField]] = {
    "length": LengthField,
    "level": LevelField,
    "weight": WeightField,
    "area": AreaField,
    "pressure": PressureField,
    "distance": DistanceField,
    "money": MoneyField,
    "day": DayField,
    "margin": MarginField,
    "mileage": MileageField,
}


def field_to_echo(kind: str, *, unit: str = "", places: str = "", unknown: str = "") -> TypedField | None:
    """The field that reads text of this kind, from the facts in an echo address; None for a kind that is not ours."""
    if kind not in ECHOED:
        return None
    facts: dict[str, Any] = {}
    if kind == "length" and unit in ("ft", "in", "m", "mm", "cm"):
        facts["default_unit"] = unit
    if kind == "money" and places.isdigit():
        facts["places"] = min(int(places), 6)
    if unknown:
        facts["may_be_unknown"] = True
    return ECHOED[kind](**facts)
