"""Photos: what comes in as a picture is drawn anew; what is no picture does not come in."""

import io
import struct
import zlib

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from contractor.company.models import Role, Staff
from jobs.fieldwork.models import Photo
from jobs.records.models import Job
from tests.people import browser_of, person

from .conftest import sheet

GPS_IFD, MAKE, ORIENTATION = 0x8825, 0x010F, 0x0112


def jpeg(size: tuple[int, int] = (320, 200), **more) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (40, 90, 140)).save(out, "JPEG", **more)
    return out.getvalue()


def with_place() -> bytes:
    """A picture that says where, with what and how it was held."""
    exif = Image.Exif()
    exif[MAKE], exif[ORIENTATION] = "A camera of somebody", 6
    exif[GPS_IFD] = {1: "N", 2: (45.0, 30.0, 12.0), 3: "W", 4: (76.0, 10.0, 4.0)}
    return jpeg(exif=exif, comment=b"<script>alert(1)</script>")


def claims_to_be_huge() -> bytes:
    """A few bytes of PNG that say they are 60,000 dots wide and high."""
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    parts = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 64)), (b"IEND", b"")]
    chunks = (
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in parts
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><rect width="9" height="9"/></svg>'
HTML = b"<!doctype html><script>alert(1)</script>"


def send(browser: Client, order, data: bytes, name: str = "IMG_1.jpg", kind: str = "image/jpeg"):
    upload = SimpleUploadedFile(name, data, content_type=kind)
    return browser.post(f"{order.get_absolute_url()}photos/", {"file": upload, "caption": "underside of A"})


def test_it_keeps_the_picture_and_nothing_else(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "flotation", lead)
    assert send(truck, order, with_place()).status_code == 303
    photo = Photo.objects.get()
    kept = Image.open(photo.file)
    assert kept.format == "JPEG" and kept.size == (200, 320)  # held upright
    assert not kept.getexif() and not kept.info.get("comment")
    raw = photo.file.open().read()
    assert b"script" not in raw and b"camera" not in raw and b"GPS" not in raw
    assert "IMG_1" not in photo.file.name and (photo.stage, photo.caption) == ("flotation", "underside of A")
    send(truck, order, with_place())
    assert Photo.objects.count() == 1


def test_it_draws_a_file_that_is_two_things_as_the_picture_alone(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "flotation", lead)
    send(truck, order, jpeg() + HTML, name="x.html", kind="text/html")
    raw = Photo.objects.get().file.open().read()
    assert raw.startswith(b"\xff\xd8") and b"script" not in raw and Photo.objects.get().file.name.endswith(".jpg")


def test_it_refuses_what_is_no_photo_and_says_what_to_send(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "flotation", lead)
    gif = io.BytesIO()
    Image.new("P", (9, 9)).save(gif, "GIF")
    for data in (SVG, HTML, b"%PDF-1.7", gif.getvalue(), jpeg()[:200], b"\xff\xd8\xff"):
        answer = send(truck, order, data)
        assert answer.status_code == 422 and "Send a JPEG, PNG or WebP." in answer.content.decode()
    huge = send(truck, order, claims_to_be_huge(), name="x.png", kind="image/png")
    assert huge.status_code == 422
    heavy = send(truck, order, jpeg() + b"\0" * (16 * 1024 * 1024))
    assert heavy.status_code == 422 and "16 MB is the most" in heavy.content.decode()
    assert send(truck, order, b"").status_code == 422
    assert Photo.objects.count() == 0


def test_it_hands_a_photo_out_as_a_file_that_does_nothing(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "flotation", lead)
    send(truck, order, jpeg())
    address = Photo.objects.get().get_absolute_url()
    answer = truck.get(address)
    assert answer["Content-Type"] == "image/jpeg" and answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"].startswith("attachment") and "sandbox" in answer["Content-Security-Policy"]
    assert answer["Cache-Control"] == "private, no-store"
    assert browser_of(None).get(address).status_code == 303
    assert browser_of(person(Role.CREW)).get(address).status_code == 200
