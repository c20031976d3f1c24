"""The shape of a dock and the few sizes that make it."""

from collections.abc import Iterator
from typing import Any

from django import forms
from django.forms import BoundField
from django.http import QueryDict

from contractor.company.fields import LengthField
from estimating.engine.spec import DockSpec
from jobs.records.documents.spec_shapes import FREE, Sizes, recognise

from .spec_fields import CountField, PartForm

LONGEST_RUN_IN = 12_000.0
SHAPES = [
    ("straight", "Straight run"),
    ("ell", "L, one leg"),
    ("tee", "T, a head across the end"),
    ("ewe", "U, two legs and a berth between"),
    ("fingers", "Fingers off a main walk"),
    ("platform", "Swim platform, free of the shore"),
    (FREE, "Placed section by section"),
]
_MAIN = {"width": "Width", "length": "Length, all sections", "count": "Sections"}
_LEG = {"leg_length": "Leg length", "leg_width": "Leg width"}
BOXES: dict[str, dict[str, str]] = {
    "straight": _MAIN,
    "ell": {**_MAIN, **_LEG, "leg_side": "Leg goes off to the"},
    "tee": {**_MAIN, "head_length": "Head, across", "head_width": "Head width"},
    "ewe": {"width": "Width of the back", "length": "Back, end to end", "count": "Sections in the back", **_LEG},
    "fingers": {
        **_MAIN,
        "fingers": "Fingers a side",
        "finger_length": "Finger length",
        "finger_width": "Finger width",
        "finger_sides": "Fingers on the",
    },
    "platform": {"width": "Width", "length": "Length", "from_shore": "From shore to platform"},
    FREE: {},
}


def _size(**more: Any) -> LengthField:
    return LengthField(required=False, above_zero=True, most=LONGEST_RUN_IN, **more)


class ShapeForm(PartForm):
    shape = forms.ChoiceField(label="Shape", choices=SHAPES)
    width = _size()
    length = _size()
    count = CountField(max_value=60, help_text="Empty: as few as can still be moved")
    leg_length = _size()
    leg_width = _size()
    leg_side = forms.ChoiceField(choices=[("right", "right"), ("left", "left")], required=False)
    head_length = _size()
    head_width = _size()
    fingers = CountField(max_value=40)
    finger_length = _size()
    finger_width = _size()
    finger_sides = forms.ChoiceField(
        choices=[("both", "both sides"), ("left", "left side"), ("right", "right side")], required=False
    )
    from_shore = _size()

    @property
    def shape_name(self) -> str:
        named = self.data.get("shape", "")
        return named if named in BOXES else "straight"

    def __init__(self, data: QueryDict) -> None:
        super().__init__(data)
        for name, label in BOXES[self.shape_name].items():
            self.fields[name].label = label

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for name in BOXES[self.shape_name]:
            if name not in self.errors and given.get(name) in (None, "") and name != "count":
                field = self.fields[name]
                self.add_error(name, field.missing() if isinstance(field, LengthField) else "Fill this in.")
        for name in set(self.errors) - {"shape", *BOXES[self.shape_name]}:
            del self.errors[name]
        return given

    def boxes(self) -> Iterator[BoundField]:
        """The sizes this shape asks for."""
        self.is_valid()
        for name in BOXES[self.shape_name]:
            yield self[name]

    def shown(self) -> set[str]:
        return {"shape", *BOXES[self.shape_name]}

    def sizes(self) -> Sizes | None:
        """None while a size is missing or cannot be read, and for a dock placed section by section."""
        if not self.is_valid() or self.shape_name == FREE:
            return None
        given = {name: self.given[name] for name in BOXES[self.shape_name]}
        plain = ("count", "leg_side", "fingers", "finger_sides")
        named = {name if name in plain else f"{name}_in": value for name, value in given.items()}
        return Sizes(shape=self.shape_name, **named)

    @classmethod
    def typed(cls, spec: DockSpec) -> dict[str, str]:
        sizes = recognise(spec)
        if sizes is None:
            return {"shape": FREE}
        return {"shape": sizes.shape, **cls.typed_sizes(sizes, BOXES[sizes.shape])}

    @classmethod
    def typed_sizes(cls, sizes: Sizes, names: Any) -> dict[str, str]:
        return {
            name: cls.typed_value(name, getattr(sizes, name if hasattr(sizes, name) else f"{name}_in"))
            for name in names
        }
