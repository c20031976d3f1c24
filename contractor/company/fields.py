"""Form fields for lengths, levels, weights, money and days: what was typed stays, what was understood is echoed."""

import datetime
import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from django import forms
from django.utils import timezone

from contractor.company import current
from contractor.company.days import DayNotUnderstood, format_day, parse_day
from contractor.money import MoneyNotUnderstood, format_money, parse_money, to_cents
from contractor.quantities import (
    NotUnderstood,
    System,
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

UNKNOWN = re.compile(r"\s*(u|unknown|\?+)\s*", re.IGNORECASE)
REFUSALS = (NotUnderstood, MoneyNotUnderstood, DayNotUnderstood)


class TypedInput(forms.TextInput):
    """A box for text that is read as a quantity; no browser guesses in it."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"autocomplete": "off", "spellcheck": "false", **(attrs or {})})


class TypedField(forms.Field):
    """A quantity typed as text. `units` is taken from the firm unless the form sets it.

    Where it `may_be_unknown`, `U` and an empty box clean to None, and the echo says so: unknown is not zero.
    """

    widget = TypedInput
    echo_kind = ""
    units: System | None = None
    may_be_unknown = False
    default_error_messages = {"required": "Fill this in."}

    def __init__(self, *, least: Any = None, most: Any = None, above_zero: bool = False, **kwargs: Any) -> None:
        self.may_be_unknown = kwargs.pop("may_be_unknown", self.may_be_unknown)
        super().__init__(**kwargs)
        self.least, self.most, self.above_zero = least, most, above_zero

    @property
    def system(self) -> System:
        return self.units or current.units()

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return ""

    def echo_facts(self) -> dict[str, str]:
        """What the echo address must be told, beside the text, to read it as this field would."""
        return {"kind": self.echo_kind}

    def read(self, text: str) -> Any:
        raise NotImplementedError

    def write(self, value: Any) -> str:
        raise NotImplementedError

    def say(self, value: Any) -> str:
        raise NotImplementedError

    def echo(self, value: Any) -> str:
        return self.say(value)

    def to_python(self, value: Any) -> Any:
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        if not isinstance(value, str):
            return value
        if self.may_be_unknown and UNKNOWN.fullmatch(value):
            return None
        try:
            return self.read(value)
        except REFUSALS as refused:
            raise forms.ValidationError(str(refused), code="not_understood") from refused

    def clean(self, value: Any) -> Any:
        if self.required and not str(value if value is not None else "").strip():
            raise forms.ValidationError(self.missing(), code="required")
        cleaned = super().clean(value)
        if cleaned is not None:
            self._check_bounds(cleaned, str(value).strip())
        return cleaned

    def missing(self) -> str:
        return self.error_messages["required"]

    def prepare_value(self, value: Any) -> Any:
        return value if value is None or isinstance(value, str) else self.write(value)

    def has_changed(self, initial: Any, data: Any) -> bool:
        try:
            return self.to_python(initial) != self.to_python(data)
        except forms.ValidationError:
            return True

    def echo_of(self, typed: Any) -> str:
        """The echo below the box; nothing for an empty box, the refusal if it can't be read."""
        if typed is None or str(typed).strip() == "":
            return "unknown" if self.may_be_unknown else ""
        if self.may_be_unknown and UNKNOWN.fullmatch(str(typed)):
            return "unknown"
        try:
            return self.echo(self.read(str(typed)))
        except REFUSALS as refused:
            return str(refused)

    def _check_bounds(self, value: Any, typed: str) -> None:
        if self.above_zero and value <= 0:
            raise forms.ValidationError(f"This must be more than zero; you typed {typed}.", code="zero")
        low = self.least is not None and value < self.least
        high = self.most is not None and value > self.most
        if not low and not high:
            return
        if self.least is not None and self.most is not None:
            bounds = f"Between {self.say(self.least)} and {self.say(self.most)}"
        else:
            bounds = f"At least {self.say(self.least)}" if low else f"At most {self.say(self.most)}"
        raise forms.ValidationError(f"{bounds}; you typed {typed}.", code="out_of_bounds")


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


class MoneyField(TypedField):
    """An amount in the firm's currency, cleaned to Decimal."""

    echo_kind = "money"

    def __init__(self, *, places: int = 2, per: str = "", **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.places, self.per = places, per
        self.widget.attrs.setdefault("inputmode", "decimal")

    @property
    def unit(self) -> str:
        named = current.firm()
        return f"{named.currency if named else ''} {self.per}".strip()

    def echo_facts(self) -> dict[str, str]:
        return {"kind": self.echo_kind, "places": str(self.places)}

    def read(self, text: str) -> Decimal:
        return parse_money(text, places=self.places)

    def write(self, value: Decimal) -> str:
        text = format_money(value, places=self.places)
        return re.sub(r"(\.\d\d\d*?)0+$", r"\1", text)

    def say(self, value: Decimal) -> str:
        return format_money(value, places=self.places)

    def echo_of(self, typed: Any) -> str:
        """Money is echoed only where reading it was more than reading a number."""
        said = super().echo_of(typed)
        return "" if said == str(typed or "").strip() else said


class FigureField(MoneyField):
    """A figure read like money whose unit depends on another field."""

    unit = ""


class DayField(TypedField):
    """A day, typed with the month as a word or as the firm writes dates; echoed with its weekday."""

    echo_kind = "day"

    @property
    def style(self) -> str:
        named = current.firm()
        return named.date_style if named else "day_first"

    def missing(self) -> str:
        return f"Type a day, like {self.write(timezone.localdate())}."

    def read(self, text: str) -> datetime.date:
        return parse_day(text, style=self.style, today=timezone.localdate())

    def write(self, value: datetime.date) -> str:
        return format_day(value, self.style, weekday=False)

    def say(self, value: datetime.date) -> str:
        return format_day(value, self.style)


class PercentField(TypedField):
    """A percentage, cleaned to Decimal with at most two decimals; `12`, `12%` and `12,5` are all understood."""

    unit = "%"

    def __init__(self, *, least: int = 0, most: int = 100, **kwargs: Any) -> None:
        super().__init__(least=least, most=most, **kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def missing(self) -> str:
        return "Type a percentage, like 12 or 12.5."

    def read(self, text: str) -> Decimal:
        try:
            return parse_money(text.strip().removesuffix("%"))
        except MoneyNotUnderstood as refused:
            raise NotUnderstood(f"“{text.strip()}” is not a percentage. Type one like 12 or 12.5.") from refused

    def write(self, value: Decimal) -> str:
        return f"{Decimal(value).normalize():f}"

    def say(self, value: Decimal) -> str:
        return f"{self.write(value)}%"

    def echo(self, value: Decimal) -> str:
        return ""


class MarginField(PercentField):
    """A margin on price; the echo says what markup on cost that is, because the two are mixed up."""

    echo_kind = "margin"

    def echo(self, value: Decimal) -> str:
        if not 0 <= value < 100:
            return ""
        return f"{self.say(to_cents(value * 100 / (100 - value)))} markup on cost"


class MileageField(MoneyField):
    """Money per mile, or typed per kilometre in a metric firm; cleaned to money per mile with four decimals."""

    echo_kind = "mileage"
    KM_PER_MILE = Decimal("1.609344")

    @property
    def unit(self) -> str:
        return f"{super().unit} {'a mile' if self.system == 'imperial' else 'a km'}"

    def read(self, text: str) -> Decimal:
        typed = super().read(text)
        return typed if self.system == "imperial" else round(typed * self.KM_PER_MILE, 4)

    def write(self, value: Decimal) -> str:
        return super().write(value if self.system == "imperial" else value / self.KM_PER_MILE)

    def say(self, value: Decimal) -> str:
        return self.write(value)


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
