"""Pages that come as a scan or a photograph, known by how the file begins and not by its name."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

LARGEST_SCAN = 10 * 1024 * 1024
SCANS = {b"%PDF-": "pdf", b"\x89PNG\r\n\x1a\n": "png", b"\xff\xd8\xff": "jpg"}


def scan_ending(scan: UploadedFile) -> str:
    """What it is: pdf, png or jpg. Raises ValidationError for anything else, and above 10 MB."""
    if scan.size > LARGEST_SCAN:
        raise forms.ValidationError("The file is larger than 10 MB. Scan it at a lower resolution.")
    start = scan.read(8)
    scan.seek(0)
    ending = next((ending for mark, ending in SCANS.items() if start.startswith(mark)), None)
    if ending is None:
        raise forms.ValidationError("This is not a PDF, PNG or JPEG. Scan or photograph the page.")
    return ending


class SignedPageField(forms.FileField):
    """The page a customer signed: a PDF, PNG or JPEG; cleans to None when there is none."""

    def __init__(self, **kwargs: Any) -> None:
        told = {"label": "The signed page", "required": False, "help_text": "PDF, PNG or JPEG, up to 10 MB."}
        super().__init__(**{**told, **kwargs})

    def clean(self, data: Any, initial: Any = None) -> Any:
        scan = super().clean(data, initial)
        if not scan:
            return None
        scan.name = f"signed.{scan_ending(scan)}"
        return scan
