"""What must be true of the machine, asked once at every start."""

import tempfile
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register


@register(Tags.files)
def data_folder_is_writable(**kwargs: Any) -> list[CheckMessage]:
    """The data folder takes a file: database, uploads and the kept key live there."""
    return _folder_problem(Path(settings.DATA_DIR))


def _folder_problem(folder: Path) -> list[CheckMessage]:
    try:
        with tempfile.TemporaryFile(dir=folder):
            return []
    except OSError as reason:
        return [
            Error(
                f"The data folder {folder} cannot be written: {reason.strerror}.",
                hint="Give the folder to the user who runs the app, or set WHARFWRIGHT_DATA to another one.",
                id="contractor.E001",
            )
        ]
