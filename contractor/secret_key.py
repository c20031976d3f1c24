"""The key that signs sessions, where the owner has given none: made once and kept beside the data."""

import contextlib
import os
import secrets
import tempfile
from pathlib import Path


def kept_secret_key(folder: Path) -> str:
    """The key kept in `folder`, made at the first call; only the owner of the files may read it.

    Raises OSError if the folder cannot be written.
    """
    kept = folder / "secret.key"
    if not kept.exists():
        number, fresh = tempfile.mkstemp(dir=folder)
        with open(number, "w", encoding="ascii") as file:
            file.write(secrets.token_urlsafe(64))
        # Two processes may start at once: the first link wins and both read the same key.
        with contextlib.suppress(FileExistsError):
            os.link(fresh, kept)
        os.unlink(fresh)
    return kept.read_text(encoding="ascii")
