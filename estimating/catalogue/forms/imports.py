from django import forms

from contractor.company.forms import FirmForm


class UploadForm(FirmForm):
    file = forms.FileField(
        label="The file",
        help_text="CSV or XLSX, 4 MB at most. Nothing is taken in before you have seen what would change.",
        error_messages={"required": "Choose a file first.", "empty": "The file is empty."},
    )
