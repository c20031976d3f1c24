"""A defect written down, handed to somebody, signed off."""

from typing import Any

from django import forms

from contractor.company.fields import DayField
from contractor.company.forms import FirmForm
from contractor.company.models import Staff
from jobs.fieldwork.models import Severity, WorkStage


class DefectForm(FirmForm):
    words = forms.CharField(label="What is not right", max_length=300, widget=forms.Textarea({"rows": 2}))
    place = forms.CharField(label="Where", max_length=120, required=False)
    stage = forms.ChoiceField(label="Found in", choices=WorkStage.choices)
    severity = forms.ChoiceField(label="How bad", choices=Severity.choices, initial=Severity.MUST)
    owner = forms.ModelChoiceField(
        Staff.objects.filter(active=True), label="Who puts it right", required=False, empty_label="nobody yet"
    )
    due_on = DayField(label="By", required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["owner"].queryset = Staff.objects.filter(active=True).order_by("name")


class SignOffForm(FirmForm):
    reason = forms.CharField(
        label="How it was put right, or why it may stay",
        max_length=300,
        widget=forms.Textarea({"rows": 2}),
        error_messages={"required": "Say how it was put right, or why it may stay."},
    )


class PhotoForm(FirmForm):
    file = forms.FileField(
        label="Photo",
        help_text="JPEG, PNG or WebP, 16 MB at most.",
        error_messages={"required": "Choose a photo.", "empty": "This file is empty. Choose a photo."},
        widget=forms.FileInput({"accept": "image/jpeg,image/png,image/webp"}),
    )
    caption = forms.CharField(label="What it shows", max_length=200, required=False)


class FindSheetForm(FirmForm):
    number = forms.CharField(label="Sheet number, as printed at the top", max_length=16)
