"""A sheet's page as a form: the same numbered blocks in the same order as on the paper."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils import timezone

from contractor.company.fields import DayField, LengthField, LevelField
from jobs.fieldwork.documents.blanks import OTHERS_HOURS, OTHERS_NAME, Blank, Box
from jobs.fieldwork.models import Source

from .boxes import CountField, HoursField, LengthBoxesField


@dataclass(frozen=True, slots=True)
class Block:
    """One numbered block: its blank and its fields."""

    blank: Blank
    fields: tuple[forms.BoundField, ...]


class KeyInForm(forms.Form):
    """Every box may stay empty: what is keyed in now is added to what was before."""

    def __init__(self, *args: Any, blanks: Sequence[Blank], signer: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.blanks, self.keys = blanks, {}
        for blank in blanks:
            for box in blank.boxes:
                name = self._name(box.key)
                self.keys[name] = box
                self.fields[name] = _field(box)
        if signer and "signed" in self.fields:
            self.initial["signed"] = signer
        self.fields["day"] = DayField(label="Day of the work", required=True)
        self.initial.setdefault("day", timezone.localdate())
        self.fields["source"] = forms.ChoiceField(label="Keyed in", choices=Source.choices)

    def blocks(self) -> list[Block]:
        names = {box.key: name for name, box in self.keys.items()}
        return [Block(blank, tuple(self[names[box.key]] for box in blank.boxes)) for blank in self.blanks]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        day = cleaned.get("day")
        if day and day > timezone.localdate():
            self.add_error("day", "That day has not come yet.")
        if self._hours_of_nobody(cleaned):
            self.add_error(self._name_of(OTHERS_NAME), "Type whose hours these are.")
        if not self.errors and not self.figures() and not self.words(but_signed=True):
            raise forms.ValidationError("Nothing is written yet. Fill in one box at least.")
        return cleaned

    def figures(self) -> dict[str, float]:
        """Figures and ticks by the keys of their boxes, in engine units; a tick is 1."""
        found: dict[str, float] = {}
        for name, box in self.keys.items():
            value = self.cleaned_data.get(name)
            if box.kind == "tick" and value:
                found[box.key] = 1.0
            elif box.kind not in ("tick", "words") and value is not None:
                found[box.key] = float(value)
        return found

    def words(self, *, but_signed: bool = False) -> dict[str, str]:
        return {
            box.key: self.cleaned_data[name]
            for name, box in self.keys.items()
            if box.kind == "words" and self.cleaned_data.get(name) and not (but_signed and box.key == "signed")
        }

    def _hours_of_nobody(self, cleaned: dict[str, Any]) -> bool:
        hours, name = (cleaned.get(self._name_of(key)) for key in (OTHERS_HOURS, OTHERS_NAME))
        return hours is not None and not name

    def _name_of(self, key: str) -> str:
        return next((name for name, box in self.keys.items() if box.key == key), key)

    def _name(self, key: str) -> str:
        name = re.sub(r"[^A-Za-z0-9_]", "_", key)
        while name in self.keys:
            name += "_"
        return name


def _field(box: Box) -> forms.Field:
    return FIELDS[box.kind](box)


def _words(box: Box) -> forms.Field:
    long = box.key in ("not_done", "ran_out", "defect")
    widget = forms.Textarea({"rows": 2}) if long else forms.TextInput({"autocomplete": "off"})
    return forms.CharField(label=box.label, required=False, max_length=300, widget=widget)


FIELDS = {
    "length": lambda box: LengthBoxesField(label=box.label, help_text=box.should),
    "small": lambda box: LengthField(label=box.label, help_text=box.should, default_unit="in", required=False),
    "level": lambda box: LevelField(label=box.label, help_text=box.should, required=False),
    "count": lambda box: CountField(label=box.label, help_text=box.should),
    "tick": lambda box: forms.BooleanField(label=box.label, required=False),
    "words": _words,
    "hours": lambda box: HoursField(label=box.label),
}
