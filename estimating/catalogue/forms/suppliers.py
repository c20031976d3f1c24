from typing import Any

from django import forms

from contractor.company.forms import FirmForm
from estimating.catalogue.models import Supplier


class SupplierForm(FirmForm):
    name = forms.CharField(label="Name", max_length=120)
    contact = forms.CharField(label="Who to ask for", max_length=120, required=False)
    phone = forms.CharField(label="Phone", max_length=40, required=False)
    email = forms.EmailField(label="Email", required=False)
    account = forms.CharField(label="Our account number", max_length=60, required=False)
    lead_days = forms.IntegerField(
        label="Usual lead", min_value=0, max_value=1000, required=False, help_text="Working days"
    )
    notes = forms.CharField(label="Notes", required=False, widget=forms.Textarea(attrs={"rows": 3}), max_length=2000)

    def __init__(self, data: Any = None, *, supplier: Supplier | None = None) -> None:
        first = {name: getattr(supplier, name) for name in self.base_fields} if supplier else None
        super().__init__(data, initial=first)

    def blame_faults(self, faults: dict[str, str]) -> None:
        for name, sentence in faults.items():
            self.add_error(name if name in self.fields else None, sentence)
