"""Frame, deck and floats: for all sections alike, and for the sections that differ."""

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import reduce
from typing import Any

from django import forms
from django.forms import BoundField
from django.http import QueryDict

from contractor.company.fields import LengthField, WeightField
from contractor.quantities import LengthNotUnderstood
from estimating.engine.sizes import FLOAT_SHAPES
from estimating.engine.spec import DockSpec, FloatPlace, Section

from .spec_fields import CountField, OffsetField, PartForm, Stock, pick

# each box, and where it stands in a section
FACTS: dict[str, str] = {
    "stringer": "framing.stringer",
    "stringer_count": "framing.stringer_count",
    "header": "framing.header",
    "cross_member": "framing.cross_member",
    "cross_spacing": "framing.cross_spacing_in",
    "board": "decking.board",
    "direction": "decking.direction",
    "gap": "decking.gap_in",
    "overhang": "decking.overhang_in",
    "float_item": "flotation.item",
    "rows": "flotation.rows",
    "columns": "flotation.columns",
}
NEVER_OPEN = {"direction": "across", "overhang": 0.0}
# What a float put by hand may have of its own, and the word it is typed behind
OWN_WORDS = {
    "long": "length_in",
    "wide": "width_in",
    "high": "height_in",
    "weighs": "weight_lb",
    "lifts": "lift_lb",
}
DIRECTIONS = [("across", "across the width"), ("along", "along the length")]


def _inches(label: str, **more: Any) -> LengthField:
    return LengthField(label=label, required=False, default_unit="in", **more)


class FrameForm(PartForm):
    """What all sections have, unless a section says otherwise."""

    stringer = pick("Stringers")
    stringer_count = CountField(label="Stringers, number", max_value=60)
    header = pick("End frames")
    cross_member = pick("Cross members")
    cross_spacing = _inches("Cross members apart")
    board = pick("Deck boards")
    direction = pick("Boards run", DIRECTIONS)
    gap = _inches("Gap")
    overhang = _inches("Overhang")
    float_item = pick("Float")
    rows = CountField(label="Rows across", max_value=60)
    columns = CountField(label="Rows along", max_value=60)

    def __init__(self, data: QueryDict, *, stock: Stock, prefix: str | None = None) -> None:
        super().__init__(data, prefix=prefix)
        self.offer(
            stringer=stock.or_usual("stringer", stock.framing),
            header=[("", "like the stringers"), *stock.framing],
            cross_member=[("", "like the stringers"), *stock.framing],
            board=stock.or_usual("board", stock.boards),
            float_item=stock.or_usual("float_item", stock.floats),
        )

    def values(self) -> dict[str, Any]:
        """By path in a section; what was left open is left out."""
        given = {name: self.given.get(name) for name in FACTS}
        return {FACTS[name]: value for name, value in given.items() if value not in (None, "")}

    @classmethod
    def typed(cls, values: Mapping[str, Any]) -> dict[str, str]:
        return {name: cls.typed_value(name, values.get(path)) for name, path in FACTS.items()}

    @classmethod
    def box_of(cls, path: str) -> str | None:
        """The box a path inside a section belongs to, such as `decking.gap_in`."""
        return next((name for name, inside in FACTS.items() if inside == path), None)


class OwnFrameForm(FrameForm):
    """What one section has of its own; an empty box is as the rest."""

    placed = forms.CharField(
        label="Floats placed by hand",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false"}),
        help_text="One a line: middle of the float along the section; across it; then turned, if it lies across. "
        "Of its own, where it has it: long 4'; wide 2'; high 12; weighs 40; lifts 300; cylinder",
    )

    def __init__(self, data: QueryDict, *, stock: Stock, prefix: str) -> None:
        super().__init__(data, stock=stock, prefix=prefix)
        rest = [("", "as the rest")]
        for name in ("stringer", "header", "cross_member", "board", "direction", "float_item"):
            offered = [choice for choice in self.fields[name].choices if choice[0]]
            self.fields[name].choices = rest + offered

    def clean_placed(self) -> tuple[FloatPlace, ...]:
        lines = [line for line in self.cleaned_data["placed"].splitlines() if line.strip()]
        return tuple(_read_float(line) for line in lines)

    def values(self) -> dict[str, Any]:
        placed = self.given.get("placed") or ()
        return {**super().values(), **({"flotation.placed": placed} if placed else {})}

    @classmethod
    def typed(cls, values: Mapping[str, Any]) -> dict[str, str]:
        placed = values.get("flotation.placed") or ()
        return {**super().typed(values), "placed": "\n".join(_typed_float(spot) for spot in placed)}

    def first_boxes(self) -> list[BoundField]:
        return [self[name] for name in (*FACTS, "placed")]


def _read_float(line: str) -> FloatPlace:
    terms = [term.strip() for term in re.split(r";|,\s+", line) if term.strip()]
    try:
        u, v = (OffsetField(default_unit="in").read(term) for term in terms[:2])
    except LengthNotUnderstood as refused:
        raise forms.ValidationError(f"{line.strip()}: {refused}") from refused
    except ValueError as wrong:
        say = f"“{line.strip()}” needs two lengths, like 18; 12 or 4' 6\"; 12; turned."
        raise forms.ValidationError(say) from wrong
    own = {OWN_WORDS[term.split()[0].lower()]: term for term in terms[2:] if term.split()[0].lower() in OWN_WORDS}
    rest = [term for term in terms[2:] if term not in own.values()]
    shape = next((term.lower() for term in rest if term.lower() in FLOAT_SHAPES), None)
    rest = [term for term in rest if term.lower() not in FLOAT_SHAPES]
    named = [term for term in rest if term.lower() != "turned"]
    if len(named) > 1:
        raise forms.ValidationError(f"“{line.strip()}” has too much in it. Give two lengths, turned, and a float.")
    facts = {name: _read_own(name, term) for name, term in own.items()}
    return FloatPlace(u, v, len(named) < len(rest), named[0] if named else None, shape=shape, **facts)


def _read_own(name: str, term: str) -> float:
    """A size, weight or lift of a float's own: `long 4'`, `weighs 40 lb`."""
    try:
        return _own_box(name).to_python(term.split(maxsplit=1)[1] if " " in term else "")
    except forms.ValidationError as refused:
        raise forms.ValidationError(f"{term}: {refused.messages[0]}") from refused


def _own_box(name: str) -> LengthField | WeightField:
    return LengthField(default_unit="in") if name.endswith("_in") else WeightField()


def _typed_float(spot: FloatPlace) -> str:
    box = OffsetField(default_unit="in")
    words = [box.write(float(spot.u_in)), box.write(float(spot.v_in)), "turned" if spot.turned else ""]
    words += [spot.item or "", spot.shape or ""]
    own = ((word, name, getattr(spot, name)) for word, name in OWN_WORDS.items())
    words += [f"{word} {_own_box(name).write(value)}" for word, name, value in own if value is not None]
    return "; ".join(word for word in words if word)


def values_of(section: Section) -> dict[str, Any]:
    """Everything a section says about its frame, deck and floats, by path."""
    return {path: reduce(getattr, path.split("."), section) for path in (*FACTS.values(), "flotation.placed")}


def with_values(section: Section, values: Mapping[str, Any]) -> Section:
    parts: dict[str, dict[str, Any]] = {"framing": {}, "decking": {}, "flotation": {}}
    for path, value in values.items():
        part, name = path.split(".")
        parts[part][name] = value
    return replace(section, **{part: replace(getattr(section, part), **facts) for part, facts in parts.items()})


def common_values(spec: DockSpec) -> dict[str, Any]:
    """What to write into the boxes for all sections: the value most have; open where any section leaves it open."""
    common = {}
    for name, path in FACTS.items():
        found = [values_of(section)[path] for section in spec.sections]
        open_one = None in found and name not in NEVER_OPEN
        common[path] = None if open_one else max(found, key=lambda value, found=found: (found.count(value), value))
    return common


def own_values(section: Section, common: Mapping[str, Any]) -> dict[str, Any]:
    """What a section says otherwise than the rest."""
    return {path: value for path, value in values_of(section).items() if value != common.get(path) and value != ()}
