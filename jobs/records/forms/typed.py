"""Boxes where nobody may know the answer, and days of the year."""

import datetime
import re
from decimal import Decimal
from typing import Any

from django import forms

from contractor.company.days import DayNotUnderstood, parse_day
from contractor.company.fields import LengthField
from jobs.records.models.saying import month_day_said

MICRO = Decimal("0.000001")
DEGREES = re.compile(
    r"""\s*(?P<sign>[-+−]?)\s*(?P<deg>\d{1,3}(?:[.,]\d+)?)\s*°?
    (?:\s*(?P<min>\d{1,2}(?:[.,]\d+)?)\s*['′’](?:\s*(?P<sec>\d{1,2}(?:[.,]\d+)?)\s*(?:["″”]|''))?)?
    \s*(?P<side>[NSEW]?)\s*""",
    re.IGNORECASE | re.VERBOSE,
)
UNKNOWN = re.compile(r"\s*(u|unknown|\?+)\s*", re.IGNORECASE)


class _OrUnknown:
    """A plain number, or U."""

    def to_python(self, value: Any) -> Any:
        if isinstance(value, str) and UNKNOWN.fullmatch(value):
            return None
        return super().to_python(value)


class CountOrUnknown(_OrUnknown, forms.IntegerField):
    widget = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})
    default_error_messages = {
        "invalid": "Type a whole number, or U if nobody knows.",
        "min_value": "At least %(limit_value)s; type U if nobody knows.",
    }


class FigureOrUnknown(_OrUnknown, forms.FloatField):
    widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
    default_error_messages = {
        "invalid": "Type a number, or U if nobody knows.",
        "min_value": "At least %(limit_value)s; type U if nobody knows.",
        "max_value": "At most %(limit_value)s.",
    }

    def __init__(self, *, unit: str = "", **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.unit = unit

    def prepare_value(self, value: Any) -> Any:
        return f"{value:g}" if isinstance(value, float) else value


class QuietLength(LengthField):
    """A length that may be unknown, in a row that may stay empty: an empty box echoes nothing."""

    may_be_unknown = True

    def echo_of(self, typed: Any) -> str:
        return super().echo_of(typed) if str(typed or "").strip() else ""


class DegreesField(forms.CharField):
    """A latitude or longitude as a map gives it: 44.9731, 44.9731 N or 44° 58' 23" N; cleaned to a Decimal."""

    def __init__(self, *, most: int, sides: str, what: str, **kwargs: Any) -> None:
        self.most, self.sides, self.what = most, sides, what
        attrs = {"autocomplete": "off", "spellcheck": "false"}
        super().__init__(**{"required": False, "widget": forms.TextInput(attrs), **kwargs})

    def prepare_value(self, value: Any) -> Any:
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value

    def to_python(self, value: Any) -> Any:
        if isinstance(value, Decimal):
            return value
        text = super().to_python(value)
        if not text or UNKNOWN.fullmatch(text):
            return None
        found = DEGREES.fullmatch(text)
        side = found["side"].upper() if found else ""
        if not found or (side and (side not in self.sides or found["sign"])):
            raise forms.ValidationError(self.what)
        degrees, minutes, seconds = (Decimal((found[name] or "0").replace(",", ".")) for name in ("deg", "min", "sec"))
        whole = degrees + minutes / 60 + seconds / 3600
        if minutes >= 60 or seconds >= 60 or whole > self.most:
            raise forms.ValidationError(self.what)
        below = found["sign"] in ("-", "−") or side == self.sides[1]
        return (-whole if below else whole).quantize(MICRO)


class MonthDayField(forms.CharField):
    """A day of every year, typed like 15 March; cleaned to (month, day)."""

    widget = forms.TextInput(attrs={"autocomplete": "off", "size": 12})

    def prepare_value(self, value: Any) -> Any:
        return month_day_said(*value) if isinstance(value, tuple) else value

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if not text:
            return None
        try:
            day = parse_day(text, style="day_first", today=datetime.date(2024, 1, 1))
        except DayNotUnderstood as refused:
            raise forms.ValidationError("Type a day of the year, like 15 March.") from refused
        return day.month, day.day
