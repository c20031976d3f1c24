"""Quantities as they are counted."""

from decimal import Decimal
from typing import Any

from django import forms

from jobs.supply.models import Shelf


class QuantityField(forms.DecimalField):
    """So many: whole for most things, parts of a foot for chain. Says what is wrong in our words."""

    default_error_messages = {
        "required": "Type a number; none is 0.",
        "invalid": "That is no number. Type 12 or 2.5.",
        "min_value": "A count is zero or more.",
        "max_decimal_places": "Three places after the point at most.",
    }

    def __init__(self, *, least: int = 0, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
        super().__init__(min_value=least, max_digits=9, decimal_places=3, widget=widget, **kwargs)

    def prepare_value(self, value: Any) -> Any:
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value

    def to_python(self, value: Any) -> Decimal | None:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class ShelfField(forms.CharField):
    """A shelf by name; a new name makes a new shelf."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(label="Shelf", max_length=40, **kwargs)

    @staticmethod
    def names() -> list[str]:
        return list(Shelf.objects.values_list("name", flat=True))
