"""Boxes where nobody may know the answer, and days of the year."""

import datetime
import re
from typing import Any

from django import forms

from contractor.company.days import DayNotUnderstood, parse_day
from contractor.company.fields import LengthField
from jobs.records.models.saying import month_day_said

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
