"""What came of the saw, as counted: as many lines as the cut list has offcuts."""

from collections.abc import Iterable
from math import inf
from typing import Any

from django import forms

from contractor.company.current import units
from contractor.company.forms import FirmForm
from contractor.quantities import format_length
from estimating.catalogue.models import Item
from jobs.supply.services.sawing import OFFCUTS, SawnLine

from .fields import QuantityField, ShelfField

WAYS = {"taken": "Taken from the offcuts", "back": "Back to the yard"}


def posted_lines(values: Iterable[str]) -> list[SawnLine]:
    """The lines a form was shown with: way, item and length, whatever the plan says by now."""
    lines = []
    for value in values:
        way, _, rest = value.partition("|")
        item_id, _, length = rest.partition("|")
        item = Item.objects.filter(pk=item_id).first() if item_id.isdecimal() else None
        if way in WAYS and item and _inches(length):
            lines.append(SawnLine(way, item, _inches(length), 0))
    return lines


def _inches(text: str) -> float:
    try:
        length_in = float(text)
    except ValueError:
        return 0.0
    return length_in if 0 < length_in < inf else 0.0


class SawnForm(FirmForm):
    shelf = ShelfField(initial=OFFCUTS)

    def __init__(self, *args: Any, lines: list[SawnLine], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lines = lines
        for place, line in enumerate(lines):
            length = format_length(line.length_in, units())
            label = f"{WAYS[line.way]}: {line.item} {length}"
            self.fields[f"count-{place}"] = QuantityField(label=label, initial=line.count, required=False)
        self.order_fields([*(f"count-{place}" for place in range(len(lines))), "shelf"])

    @property
    def keys(self) -> list[str]:
        return [f"{line.way}|{line.item.pk}|{line.length_in!r}" for line in self.lines]

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for place in range(len(self.lines)):
            count = given.get(f"count-{place}")
            if count is not None and count % 1:
                self.add_error(f"count-{place}", forms.ValidationError("Sticks are counted whole."))
        return given

    def sawn(self) -> list[SawnLine]:
        counted = enumerate(self.lines)
        return [
            SawnLine(one.way, one.item, one.length_in, int(self.cleaned_data[f"count-{place}"] or 0))
            for place, one in counted
        ]
