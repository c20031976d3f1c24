"""Fields that read an item's facts: each kind of value has its box."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms

from contractor.company import fields
from contractor.company.fields import DayField, LengthField, TypedField, WeightField
from contractor.quantities import NotUnderstood, edit_text, format_length, native_unit, other_system, parse_length
from estimating.catalogue.facts import Fact, label_of, needed_of
from estimating.catalogue.models import Kind
from estimating.catalogue.values import (
    Choice,
    Day,
    Exact,
    Length,
    NotRead,
    Number,
    Text,
    Value,
    Weight,
    WeightPerFoot,
    Whole,
    short,
)

FEW = 4  # so many choices or fewer are shown as rows to press, more as a list to pull down


class FactField(forms.CharField):
    """A figure that is the same in every firm's units, read by its own value."""

    def __init__(self, *, value: Value, unit: str = "", **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.value = value
        self.unit = unit or getattr(value, "unit", "")
        self.widget.attrs.update({"autocomplete": "off", "inputmode": "decimal"})

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        try:
            return self.value.read(text)
        except NotRead as refused:
            raise forms.ValidationError(str(refused)) from refused

    def prepare_value(self, value: Any) -> Any:
        return value if value is None or isinstance(value, str) else self.value.write(value)


class SizeField(LengthField):
    """A length in inches, or millimetres."""

    def missing(self) -> str:
        return "Type a size in millimetres: 38." if self.system == "metric" else "Type a size in inches: 1.5, or 38 mm."


class WeightPerFootField(TypedField):
    """Pounds per running foot; kilograms per metre in a metric firm."""

    echo_kind = "weight_per_foot"
    value = WeightPerFoot()

    @property
    def unit(self) -> str:
        return "kg/m" if self.system == "metric" else "lb/ft"

    def read(self, text: str) -> float:
        return self.value.typed(text, self.system)

    def write(self, value: float) -> str:
        return self.value.edit(value, self.system)

    def say(self, value: float) -> str:
        return self.value.say(value, self.system)

    def echo(self, value: float) -> str:
        return f"{self.say(value)}, {self.value.say(value, other_system(self.system))}"


class SpeedField(TypedField):
    """Miles an hour, typed as kilometres an hour in a metric firm."""

    echo_kind = "speed"
    value = Exact(4, Decimal(1), Decimal(100))
    km_per_mile = Decimal("1.609344")

    @property
    def unit(self) -> str:
        return "km/h" if self.system == "metric" else "mph"

    def read(self, text: str) -> Decimal:
        typed = self.value.read(text)
        return round(typed / self.km_per_mile, 4) if self.system == "metric" else typed

    def write(self, value: Decimal) -> str:
        if self.system == "imperial":
            return short(value)
        tries = (short(round(value * self.km_per_mile, places)) for places in range(5))
        return next(text for text in tries if self.read(text) == value)

    def say(self, value: Decimal) -> str:
        return f"{self.write(value)} {self.unit}"

    def echo(self, value: Decimal) -> str:
        return ""


class StockLengthsField(TypedField):
    """Lengths parted by commas, cleaned to inches, each once and the shortest first."""

    echo_kind = "stock_lengths"
    most_in = 100 * 12

    @property
    def unit(self) -> str:
        return native_unit("ft", self.system)

    def read(self, text: str) -> list[float]:
        found = [self._one(part) for part in text.replace(";", ",").split(",") if part.strip()]
        if not found:
            raise NotUnderstood(self.missing())
        return sorted(set(found))

    def write(self, value: Sequence[float]) -> str:
        return ", ".join(edit_text(length_in, self.system) for length_in in value)

    def say(self, value: Sequence[float]) -> str:
        return ", ".join(format_length(length_in, self.system) for length_in in value)

    def missing(self) -> str:
        return "Type the lengths the yard sells, with commas: 8, 10, 12, 16."

    def _check_bounds(self, value: Any, typed: str) -> None:
        """Each length is looked at as it is read."""

    def _one(self, part: str) -> float:
        length_in = parse_length(part, system=self.system, default_unit=self.unit)
        if not 0 < length_in <= self.most_in:
            raise NotUnderstood(f"{part.strip()}: a stock length is above zero and at most 100 ft.")
        return length_in


# The echo below a box is asked for by the name of its field.
fields.ECHOED.update({"weight_per_foot": WeightPerFootField, "stock_lengths": StockLengthsField, "speed": SpeedField})


def field_for(fact: Fact, kind: str) -> forms.Field:
    """The box for a fact of an item of this kind."""
    needed = fact.key in needed_of(kind)
    about = {
        "label": label_of(kind, fact.key),
        "help_text": fact.hint,
        "required": needed,
        "error_messages": {"required": f"Needed for {Kind(kind).label.lower()}."},
    }
    return _measured_field(fact.value, about) or _worded_field(fact.value, about, needed)


def _measured_field(value: Value, about: dict[str, Any]) -> forms.Field | None:
    if isinstance(value, Length):
        return SizeField(default_unit=value.unit, above_zero=not value.zero, most=value.most_in, **about)
    if isinstance(value, Weight):
        return WeightField(above_zero=not value.zero, most=value.most_lb, **about)
    if isinstance(value, WeightPerFoot):
        return WeightPerFootField(**about)
    if isinstance(value, Day):
        return DayField(**about)
    if isinstance(value, Exact | Number | Whole):
        return FactField(value=value, **about)
    return None


def _worded_field(value: Value, about: dict[str, Any], needed: bool) -> forms.Field:
    if isinstance(value, Choice):
        choices = [(kept, said[:1].upper() + said[1:]) for kept, said in value.choices]
        widget = forms.RadioSelect if len(choices) <= FEW and needed else forms.Select
        return forms.ChoiceField(choices=choices, widget=widget, **about)
    if isinstance(value, Text) and value.lines:
        return forms.CharField(widget=forms.Textarea(attrs={"rows": 3}), max_length=value.longest, **about)
    return forms.CharField(max_length=value.longest, **about)
