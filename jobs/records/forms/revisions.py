"""A spec file read in, and the job a spec is copied to."""

import json
from typing import Any

from django import forms

from contractor.company.forms import FirmForm
from jobs.records.models import Job
from jobs.records.services.finding import find_jobs

LARGEST_FILE = 1024 * 1024


class SpecFileForm(FirmForm):
    file = forms.FileField(
        label="Spec file",
        help_text="As this app writes it, or written by hand",
        error_messages={"required": "Choose a file.", "empty": "This file is empty."},
    )

    def clean_file(self) -> Any:
        """The document in the file."""
        upload = self.cleaned_data["file"]
        if upload.size > LARGEST_FILE:
            raise forms.ValidationError("This file is larger than any spec. 1 MB is the most.")
        try:
            return json.loads(upload.read().decode("utf-8-sig"))
        except (UnicodeDecodeError, ValueError, RecursionError) as wrong:
            line = f" Look at line {wrong.lineno}." if isinstance(wrong, json.JSONDecodeError) else ""
            raise forms.ValidationError(f"This is not a spec file: it can’t be read as JSON.{line}") from wrong


class CopySpecForm(FirmForm):
    to = forms.CharField(
        label="To which job",
        max_length=20,
        help_text="Its number, like 26-031",
        error_messages={"required": "Type a job number, like 26-031."},
    )

    def clean_to(self) -> Job:
        typed = self.cleaned_data["to"]
        job = find_jobs(typed).exact
        if job is None:
            raise forms.ValidationError(f"There is no job {typed}. Type its number, like 26-031.")
        if not job.is_open:
            raise forms.ValidationError(f"Job {job.number} has ended. Open it again first.")
        return job
