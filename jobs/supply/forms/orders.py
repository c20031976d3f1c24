"""An order while it is a draft, and what the supplier promises afterwards."""

from typing import Any

from django import forms

from contractor.company.fields import DayField, MoneyField
from contractor.company.forms import FirmForm, FirmModelForm
from jobs.supply.models import Order, OrderLine

from .fields import QuantityField


class OrderForm(FirmModelForm):
    needed_by = DayField(label="Needed by")

    class Meta:
        model = Order
        fields = ["needed_by", "ship_to", "notes"]
        widgets = {"ship_to": forms.Textarea(attrs={"rows": 3}), "notes": forms.Textarea(attrs={"rows": 3})}
        help_texts = {"ship_to": "Address, unloading limits, who to call", "notes": "Stands on the order"}


class LineForm(FirmForm):
    packs = forms.IntegerField(
        label="Packs",
        min_value=0,
        max_value=99999,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        error_messages={"invalid": "Whole packs only. 0 takes the line off.", "min_value": "Zero or more."},
    )
    unit_price = MoneyField(label="Price of a pack", required=False, least=0)

    def __init__(self, *args: Any, line: OrderLine, **kwargs: Any) -> None:
        initial = {"packs": int(line.packs), "unit_price": line.unit_price}
        super().__init__(*args, prefix=f"line-{line.pk}", initial=initial, **kwargs)
        self.line = line


class PromiseForm(FirmForm):
    expected_on = DayField(label="Promised for")
    note = forms.CharField(label="What they said", max_length=200, required=False)


class CancelForm(FirmForm):
    quantity = QuantityField(label="How many will not come", least=0)
    reason = forms.CharField(label="Why", max_length=200)
