"""A supplier's price of an item on a day; for lumber, of each stock length."""

from typing import Any

from django import forms
from django.utils import timezone

from contractor.company.current import units
from contractor.company.fields import DayField, MoneyField
from contractor.company.forms import FirmForm
from contractor.quantities import format_length
from estimating.catalogue.models import Item, Stick, Supplier
from estimating.catalogue.services import PriceFacts
from estimating.catalogue.services.prices import firm_currency
from estimating.catalogue.values import short

MOST = 9_999_999


class PriceForm(FirmForm):
    supplier = forms.ModelChoiceField(
        Supplier.objects.offered(), label="Supplier", required=False, empty_label="nobody in particular"
    )
    dated = DayField(label="Price of", help_text="The day on the price list or invoice")
    valid_until = DayField(label="Holds until", required=False, help_text="Empty if the supplier names no day")
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(self, data: Any = None, *, item: Item) -> None:
        first = {"dated": timezone.localdate(), "supplier": item.preferred_supplier_id}
        super().__init__(data, initial=first, auto_id="price_%s")
        self.item = item
        self.sticks: dict[str, Stick | None] = {"amount": None}
        if item.is_wood:
            self.sticks = {f"amount_{stick.pk}": stick for stick in item.sticks.all() if stick.offered}
        for name, stick in self.sticks.items():
            self.fields[name] = MoneyField(label=_label(item, stick), required=False, above_zero=True, most=MOST)

    @property
    def amounts(self) -> list[forms.BoundField]:
        return [self[name] for name in self.sticks]

    def clean(self) -> None:
        amounts = [self.cleaned_data.get(name) for name in self.sticks]
        if not any(amounts) and not any(name in self.errors for name in self.sticks):
            self.add_error(next(iter(self.sticks)), "Type a price. An empty box adds none.")

    def prices(self) -> list[tuple[Stick | None, Supplier | None, PriceFacts]]:
        """What to add, a price for each filled box."""
        given = self.cleaned_data
        return [
            (
                stick,
                given["supplier"],
                PriceFacts(given[name], firm_currency(), given["dated"], given["valid_until"], given["note"]),
            )
            for name, stick in self.sticks.items()
            if given[name] is not None
        ]


class StrikeForm(FirmForm):
    reason = forms.CharField(label="Why", max_length=200, help_text="A typing slip, another item’s price")


def _label(item: Item, stick: Stick | None) -> str:
    if stick is not None:
        return format_length(stick.length_in, units())
    if item.pack_size == 1:
        return f"Price of one, counted in {item.use_unit}" if item.use_unit != "each" else "Price of one"
    unit = "" if item.use_unit == "each" else f" {item.use_unit}"
    return f"Price of a pack of {short(item.pack_size)}{unit}"
