"""One authority's permit: its days, its limits as numbers, its paper."""

import secrets
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from contractor.company.fields import DayField, MoneyField, scan_ending
from contractor.company.forms import FirmModelForm
from jobs.records.forms.sites import LimitFields
from jobs.records.models import Job, Permit
from jobs.records.models.limits import LIMIT_FIELDS

AFTER = (
    ("applied_on", "issued_on", "It can’t be issued before it was applied for."),
    ("starts_on", "expires_on", "It can’t expire before it starts."),
    ("issued_on", "expires_on", "It can’t expire before it was issued."),
)


class PermitForm(LimitFields, FirmModelForm):
    applied_on = DayField(label="Applied", required=False)
    expected_on = DayField(label="Answer expected", required=False)
    issued_on = DayField(label="Issued", required=False)
    starts_on = DayField(label="In force from", required=False)
    expires_on = DayField(label="Expires", required=False)
    fee = MoneyField(label="Fee", required=False, least=0)
    file = forms.FileField(label="The permit as issued", required=False, help_text="PDF, PNG or JPEG, 10 MB at most")

    class Meta:
        model = Permit
        fields = [
            "authority",
            "kind",
            "needed",
            "who_applies",
            "fee",
            "applied_on",
            "expected_on",
            "number",
            "issued_on",
            "starts_on",
            "expires_on",
            "approved_revision",
            "posting_required",
            "conditions",
            *LIMIT_FIELDS,
            "file",
        ]
        widgets = {"conditions": forms.Textarea(attrs={"rows": 4})}
        labels = {"needed": "This job needs it", "approved_revision": "The spec they approved"}
        help_texts = {
            "authority": "Town, state or province, power company, park",
            "kind": "Dock permit, shoreline permit",
            "conditions": "Word for word",
        }
        error_messages = {"authority": {"required": "Name the authority: the town, the state, the power company."}}

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        revisions = self.fields["approved_revision"]
        revisions.queryset = job.spec_revisions.newest_first()
        revisions.empty_label = "not known"
        revisions.label_from_instance = lambda revision: f"Spec {revision.letter}"
        self.fields["posting_required"].widget.choices = [("unknown", "unknown"), ("true", "yes"), ("false", "no")]

    def clean_file(self) -> Any:
        upload = self.cleaned_data["file"]
        if not isinstance(upload, UploadedFile):
            return upload
        upload.name = f"{secrets.token_hex(8)}.{scan_ending(upload)}"
        return upload

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for earlier, later, sentence in AFTER:
            if given.get(earlier) and given.get(later) and given[later] < given[earlier]:
                self.add_error(later, sentence)
        return given

    def changes(self) -> dict[str, Any]:
        changes = super().changes()
        if not isinstance(changes["file"], UploadedFile):
            del changes["file"]
        return changes
