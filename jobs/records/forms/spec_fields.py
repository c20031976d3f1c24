"""Boxes of the spec page, and what may be picked in them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django import forms
from django.http import QueryDict

from contractor.company.fields import LengthField, TypedField
from contractor.company.forms import FirmForm
from contractor.company.rendering import FieldRenderer
from contractor.quantities import parse_length
from estimating.engine.parts import Catalogue

Choices = list[tuple[str, str]]
LONGEST_CODE = 60
EDGES: Choices = [("shore", "shore"), ("lake", "lake"), ("left", "left"), ("right", "right")]
CORNERS: Choices = [
    ("lake-left", "lake, left"),
    ("lake-right", "lake, right"),
    ("shore-left", "shore, left"),
    ("shore-right", "shore, right"),
]


class OffsetField(LengthField):
    """A length that may run the other way: below zero is towards the shore, or to the right."""

    def read(self, text: str) -> float:
        return parse_length(text, system=self.system, default_unit=self.unit, signed=True)


class CountField(forms.IntegerField):
    widget = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})
    default_error_messages = {
        "invalid": "Type a whole number.",
        "min_value": "At least %(limit_value)s.",
        "max_value": "At most %(limit_value)s.",
    }

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**{"required": False, "min_value": 1, "max_value": 999, **kwargs})


class HoursField(forms.DecimalField):
    widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
    unit = "h"
    default_error_messages = {
        "invalid": "Type hours, like 6 or 7.5.",
        "min_value": "Hours can’t be below zero.",
        "max_value": "That is more hours than a crew has.",
        "max_decimal_places": "At most two decimals.",
    }

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**{"required": False, "min_value": 0, "max_value": 9999, "decimal_places": 2, **kwargs})


def pick(label: str, choices: Choices | None = None, **more: Any) -> forms.ChoiceField:
    """A choice that may be left open. What is not on the list is refused by name."""
    messages = {"invalid_choice": "“%(value)s” is not on the list any more. Pick one."}
    return forms.ChoiceField(label=label, choices=choices or [], required=False, error_messages=messages, **more)


class SlotRenderer(FieldRenderer):
    """Draws every box with a place under it where the engine's sentence can be put without touching the box."""

    field_template_name = "components/slot_field.html"


class PartForm(FirmForm):
    """One part of the spec page: always filled from what was typed, or from what the saved spec would have typed."""

    default_renderer = SlotRenderer

    def __init__(self, data: QueryDict, *, prefix: str | None = None) -> None:
        super().__init__(data, prefix=prefix)

    @cached_property
    def given(self) -> dict[str, Any]:
        """What was understood; a box that could not be read is missing."""
        self.is_valid()
        return self.cleaned_data

    def offer(self, **choices: Choices) -> None:
        """Give the lists to pick from. What was picked before and is gone stays picked, for the engine to name."""
        for name, offered in choices.items():
            picked = self.data.get(self.add_prefix(name), "")[:LONGEST_CODE]
            gone = picked and picked not in {code for code, _ in offered}
            self.fields[name].choices = [*offered, (picked, f"{picked}, not on the list")] if gone else offered

    def put_aside(self) -> list[tuple[str, str]]:
        """What was typed in boxes that do not show now: carried along, so that it is there when they show again."""
        keys = [self.add_prefix(name) for name in self.base_fields if name not in self.shown()]
        return [(key, self.data[key]) for key in keys if self.data.get(key)]

    def shown(self) -> set[str]:
        """The boxes that always show."""
        return set()

    @classmethod
    def typed_value(cls, name: str, value: Any) -> str:
        """The text that reads back as this value."""
        if value is None or value == "":
            return ""
        if value is True:
            return "on"
        field = cls.base_fields[name]
        if isinstance(field, TypedField) and isinstance(value, int):
            value = float(value)
        shown = field.prepare_value(value)
        return "" if shown is False else str(shown)


def prefixed(prefix: str, values: Mapping[str, str]) -> dict[str, str]:
    return {f"{prefix}-{name}": value for name, value in values.items()}


@dataclass(frozen=True)
class Stock:
    """The catalogue as lists to pick from, the firm's usual choice first."""

    catalogue: Catalogue

    @cached_property
    def framing(self) -> Choices:
        return self._of(self.catalogue.lumber.values(), lambda item: not item.decking)

    @cached_property
    def boards(self) -> Choices:
        return self._of(self.catalogue.lumber.values(), lambda item: item.decking)

    @cached_property
    def floats(self) -> Choices:
        return self._of(self.catalogue.floats.values(), lambda item: True)

    def goods(self, kind: str) -> Choices:
        return self._of(self.catalogue.goods.values(), lambda item: item.kind == kind)

    def usual(self, name: str) -> str:
        """What a spec that says nothing gets, in words."""
        code = getattr(self.catalogue.standing, name)
        known = {**self.catalogue.lumber, **self.catalogue.floats, **self.catalogue.goods}
        return known[code].name if code in known else code

    def or_usual(self, name: str, choices: Choices) -> Choices:
        return [("", f"{self.usual(name)}, our usual"), *choices]

    @staticmethod
    def _of(items: Iterable[Any], wanted: Callable[[Any], bool]) -> Choices:
        return [(item.code, item.name) for item in items if wanted(item)]
