"""A logo is looked at, drawn anew and kept small: nothing but the picture itself is stored."""

import io
import secrets
import warnings

from django.core.files.base import ContentFile, File
from PIL import Image, UnidentifiedImageError

FORMATS = ("PNG", "JPEG", "WEBP")
LARGEST_FILE = 4 * 1024 * 1024
LARGEST_SIDE = 6000
KEPT_SIZE = (1200, 480)
UNREADABLE = (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError, Warning)


class LogoRefused(ValueError):
    """The upload is no picture we keep; the message says why."""


def redrawn(upload: File) -> ContentFile:
    """The uploaded picture as a fresh PNG under a name of ours. Raises LogoRefused."""
    if upload.size > LARGEST_FILE:
        raise LogoRefused(f"This file has {upload.size / 1048576:.0f} MB. 4 MB is the most; save it smaller.")
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            picture = _opened(upload)
        except LogoRefused:
            raise
        except UNREADABLE as wrong:
            raise LogoRefused("This is not a picture we can read. Use a PNG, JPEG or WebP file.") from wrong
    fresh = io.BytesIO()
    picture.save(fresh, "PNG", optimize=True)
    return ContentFile(fresh.getvalue(), name=f"{secrets.token_hex(8)}.png")


def _opened(upload: File) -> Image.Image:
    upload.seek(0)
    picture = Image.open(upload, formats=FORMATS)
    if max(picture.size) > LARGEST_SIDE:
        width, height = picture.size
        raise LogoRefused(f"This picture is {width} by {height} dots. {LARGEST_SIDE} each way is the most.")
    picture.load()
    plain = picture.convert("RGBA" if "A" in picture.getbands() or "transparency" in picture.info else "RGB")
    plain.thumbnail(KEPT_SIZE)
    return plain
