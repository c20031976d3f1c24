"""The boxes of a sheet's page: three for a length, a number keypad wherever figures go."""

import re
from fractions import Fraction
from typing import Any

from django import forms

from contractor.company import current

PARTS = ("ft", "in", "16ths")


class LengthBoxesWidget(forms.MultiWidget):
    """Feet, inches and sixteenths, or millimetres: what was typed stays in its own box."""

    template_name = "jobs/fieldwork/length_boxes.html"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        self.metric = current.units() == "metric"
        self.labels = ("mm",) if self.metric else PARTS
        box = {"inputmode": "numeric", "autocomplete": "off", "maxlength": "6"}
        super().__init__([forms.TextInput(box) for _ in self.labels], attrs)

    def decompress(self, value: Any) -> list[str]:
        return [""] * len(self.labels)

    def get_context(self, name: str, value: Any, attrs: dict[str, Any] | None) -> dict[str, Any]:
        context = super().get_context(name, value, attrs)
        for label, part in zip(self.labels, context["widget"]["subwidgets"], strict=True):
            part["label"] = label
        return context


class LengthBoxesField(forms.Field):
    """Cleaned to inches; all boxes empty cleans to None."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=LengthBoxesWidget(), required=False, **kwargs)

    def clean(self, value: Any) -> float | None:
        parts = [str(part or "").strip().replace(",", ".") for part in value or []]
        if not any(parts):
            return None
        for part in parts:
            if part and not re.fullmatch(r"\d{1,5}(\.\d{1,3})?", part):
                raise forms.ValidationError(f"“{part}” is not a number. Type figures only.", code="not_understood")
        numbers = [Fraction(part) if part else Fraction(0) for part in parts]
        if len(numbers) == 1:
            return float(numbers[0] * 10 / 254)
        return self._feet(*numbers)

    def _feet(self, feet: Fraction, inches: Fraction, sixteenths: Fraction) -> float:
        if feet and inches >= 12:
            raise forms.ValidationError("Inches run up to 11 after the feet.", code="inches")
        if sixteenths >= 16:
            raise forms.ValidationError("Sixteenths run up to 15.", code="sixteenths")
        return float(feet * 12 + inches + sixteenths / 16)


class CountField(forms.Field):
    """A whole number, cleaned to int."""

    def __init__(self, **kwargs: Any) -> None:
        box = forms.TextInput({"inputmode": "numeric", "autocomplete": "off", "maxlength": "6"})
        super().__init__(widget=box, required=False, **kwargs)

    def clean(self, value: Any) -> int | None:
        typed = str(value or "").strip()
        if not typed:
            return None
        if not re.fullmatch(r"\d{1,6}", typed):
            raise forms.ValidationError(f"“{typed}” is not a count. Type whole figures.", code="not_understood")
        return int(typed)


class HoursField(forms.Field):
    """Hours of a day, in quarters."""

    is_hours = True

    def __init__(self, **kwargs: Any) -> None:
        box = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "maxlength": "5"})
        super().__init__(widget=box, required=False, **kwargs)

    def clean(self, value: Any) -> float | None:
        typed = str(value or "").strip().replace(",", ".")
        if not typed:
            return None
        if not re.fullmatch(r"\d{1,2}(\.\d{1,2})?", typed):
            raise forms.ValidationError(f"“{typed}” is not hours. Type like 7.5.", code="not_understood")
        hours = float(typed)
        if hours > 24:
            raise forms.ValidationError("A day has 24 hours.", code="too_many")
        if round(hours * 4) != hours * 4:
            raise forms.ValidationError("In quarters of an hour: 7.25, 7.5, 7.75.", code="quarters")
        return hours
