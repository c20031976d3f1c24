"""The page a customer signed, as it was scanned or photographed."""

from typing import Any

from django import forms

LARGEST_SCAN = 10 * 1024 * 1024
SCANS = {b"%PDF-": "pdf", b"\x89PNG\r\n\x1a\n": "png", b"\xff\xd8\xff": "jpg"}


class SignedPageField(forms.FileField):
    """A PDF, PNG or JPEG, known by how it begins and not by its name; cleans to None when there is none."""

    def __init__(self, **kwargs: Any) -> None:
        told = {"label": "The signed page", "required": False, "help_text": "PDF, PNG or JPEG, up to 10 MB."}
        super().__init__(**{**told, **kwargs})

    def clean(self, data: Any, initial: Any = None) -> Any:
        scan = super().clean(data, initial)
        if not scan:
            return None
        if scan.size > LARGEST_SCAN:
            raise forms.ValidationError("The file is larger than 10 MB. Scan it at a lower resolution.")
        start = scan.read(8)
        scan.seek(0)
        ending = next((ending for mark, ending in SCANS.items() if start.startswith(mark)), None)
        if ending is None:
            raise forms.ValidationError("This is not a PDF, PNG or JPEG. Scan or photograph the signed page.")
        scan.name = f"signed.{ending}"
        return scan
