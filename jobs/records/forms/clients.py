"""Who signs, how to reach them, and how tax stands."""

from typing import Any

from django import forms

from contractor.company.fields import DayField
from contractor.company.forms import FirmModelForm
from jobs.records.models import Client, TaxStatus


class ClientForm(FirmModelForm):
    exemption_expires = DayField(label="Certificate expires", required=False)

    class Meta:
        model = Client
        fields = [
            "names",
            "filed_under",
            "company_name",
            "phones",
            "email",
            "billing_address",
            "prefers",
            "tax_status",
            "exemption_number",
            "exemption_expires",
            "notes",
        ]
        widgets = {
            "names": forms.Textarea(attrs={"rows": 2}),
            "phones": forms.Textarea(attrs={"rows": 2}),
            "billing_address": forms.Textarea(attrs={"rows": 3}),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }
        labels = {"names": "Everyone who must sign"}
        help_texts = {
            "names": "One to a line",
            "filed_under": "How we say it: Quarrington",
            "phones": "One to a line, the first is dialled first",
        }
        error_messages = {"names": {"required": "Write at least one name."}}

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("tax_status") == TaxStatus.EXEMPT and not given.get("exemption_number"):
            self.add_error("exemption_number", "An exempt client needs the number of the certificate.")
        return given
