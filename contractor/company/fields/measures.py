"""Lengths, levels, weights, areas, pressures, distances."""

from typing import Any

from contractor.company.fields.typed import TypedField
from contractor.quantities import (
    echo,
    echo_amount,
    echo_level,
    edit_amount,
    edit_level,
    edit_text,
    format_amount,
    format_length,
    format_level,
    native_unit,
    parse_amount,
    parse_length,
    parse_level,
)


class LengthField(TypedField):
    """Cleaned to inches; `least` and `most` are inches too. A bare number is in `default_unit`, ft or in (m or mm)."""

    echo_kind = "length"

    def __init__(self, *, default_unit: str = "ft", **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.default_unit = default_unit

    @property
    def unit(self) -> str:
        return native_unit(self.default_unit, self.system)

    def echo_facts(self) -> dict[str, str]:
        return {"kind": self.echo_kind, "unit": self.default_unit}

    def missing(self) -> str:
        return "Type a length: 6, 6' 0\" or 1.83 m." if self.system == "imperial" else "Type a length: 1.83 or 1830 mm."

    def read(self, text: str) -> float:
        return parse_length(text, system=self.system, default_unit=self.unit)

    def write(self, value: float) -> str:
        return edit_text(value, self.system)

    def say(self, value: float) -> str:
        return format_length(value, self.system)

    def echo(self, value: float) -> str:
        return echo(value, self.system)


class LevelField(TypedField):
    """A water level or depth, cleaned to inches; `U` is unknown and cleans to None, as an empty box does."""

    echo_kind = "level"

    @property
    def unit(self) -> str:
        return native_unit("ft", self.system)

    def missing(self) -> str:
        return f"Type a height or depth in {self.unit}, like 5.9, or U if nobody knows."

    def read(self, text: str) -> float | None:
        return parse_level(text, system=self.system)

    def write(self, value: float | None) -> str:
        return edit_level(value, self.system)

    def say(self, value: float | None) -> str:
        return format_level(value, self.system)

    def echo(self, value: float | None) -> str:
        return echo_level(value, self.system)

    def validate(self, value: Any) -> None:
        """Unknown is an answer; only an empty box is missing, and `clean` has seen to that."""


class AmountField(TypedField):
    """A weight, area, volume, pressure or distance, cleaned to lb, sq ft, cu ft, psf or mi."""

    kind = ""

    @property
    def echo_kind(self) -> str:  # type: ignore[override]
        return self.kind

    @property
    def unit(self) -> str:
        return format_amount(0, self.kind, self.system).partition(" ")[2]

    def read(self, text: str) -> float:
        return parse_amount(text, self.kind, system=self.system)

    def write(self, value: float) -> str:
        return edit_amount(value, self.kind, self.system)

    def say(self, value: float) -> str:
        return format_amount(value, self.kind, self.system)

    def echo(self, value: float) -> str:
        return echo_amount(value, self.kind, self.system)


class WeightField(AmountField):
    kind = "weight"


class AreaField(AmountField):
    kind = "area"


class PressureField(AmountField):
    kind = "pressure"


class DistanceField(AmountField):
    kind = "distance"
