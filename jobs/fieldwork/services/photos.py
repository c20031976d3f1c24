"""Photos: looked at, drawn anew, kept without a trace of where and with what they were taken."""

import hashlib
import io
import secrets
import warnings

from django.core.files.base import ContentFile, File
from django.db import transaction
from PIL import Image, ImageOps, UnidentifiedImageError

from contractor.company.journal import log_made
from contractor.company.models import Staff
from jobs.fieldwork.models import Defect, Photo, WorkOrder

FORMATS = ("JPEG", "PNG", "WEBP")
LARGEST_FILE = 16 * 1024 * 1024
MOST_DOTS = 60_000_000
KEPT_SIDE = 2000
UNREADABLE = (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError, Warning)


class PhotoRefused(ValueError):
    """The upload is no photo we keep; the message says why and what to do."""


@transaction.atomic
def keep_photo(order: WorkOrder, upload: File, *, by: Staff, caption: str = "", defect: Defect | None = None) -> Photo:
    """The photo as our own JPEG. The same photo of a job sent twice is kept once. Raises PhotoRefused."""
    fresh, size = redrawn(upload)
    digest = hashlib.sha256(fresh).hexdigest()
    known = Photo.objects.filter(job_id=order.job_id, sha256=digest).first()
    if known is not None:
        return known
    photo = Photo(
        job=order.job,
        stage=order.stage,
        order=order,
        defect=defect,
        file=ContentFile(fresh, name=f"{secrets.token_hex(10)}.jpg"),
        width_px=size[0],
        height_px=size[1],
        caption=caption.strip()[:200],
        sha256=digest,
        by=by,
        by_name=by.name,
    )
    photo.full_clean()
    photo.save()
    log_made(photo, by=by, facts={"stage": order.stage, "caption": photo.caption})
    return photo


def redrawn(upload: File) -> tuple[bytes, tuple[int, int]]:
    """A fresh JPEG of the picture, upright, no wider or higher than we keep, and its size. Raises PhotoRefused."""
    if upload.size > LARGEST_FILE:
        raise PhotoRefused(f"This file has {upload.size / 1048576:.0f} MB. 16 MB is the most; send it smaller.")
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            picture = _opened(upload)
        except PhotoRefused:
            raise
        except UNREADABLE as wrong:
            raise PhotoRefused("This is not a photo we can read. Send a JPEG, PNG or WebP.") from wrong
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue(), picture.size


def _opened(upload: File) -> Image.Image:
    upload.seek(0)
    picture = Image.open(upload, formats=FORMATS)
    width, height = picture.size
    if width * height > MOST_DOTS:
        raise PhotoRefused(f"This picture is {width} by {height} dots, too many. Send it smaller.")
    picture.draft("RGB", (KEPT_SIDE, KEPT_SIDE))
    picture.load()
    upright = ImageOps.exif_transpose(picture).convert("RGB")
    upright.thumbnail((KEPT_SIDE, KEPT_SIDE))
    # A picture made of the dots alone: nothing that came along in the file is in it.
    plain = Image.new("RGB", upright.size)
    plain.paste(upright)
    return plain
