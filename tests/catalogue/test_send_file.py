"""Files sent to the page, looked at, taken in, and handed out."""

from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from estimating.catalogue import services
from estimating.catalogue.models import Import, Price
from estimating.catalogue.services import ItemDraft

from .pages import page, text_of

pytestmark = pytest.mark.django_db


def send(browser, content: bytes, name: str = "list.csv"):
    return browser.post(reverse("catalogue:imports"), {"file": SimpleUploadedFile(name, content)})


def test_it_takes_a_price_list_in_after_a_look(plate, office):
    content = b"code;supplier;price;currency;dated\r\ninside-corner;B\xf6rje & Co;19,50;USD;6 Apr 2026\r\n"
    address = send(office, content).headers["Location"]
    shown = office.get(address)
    said = text_of(shown.content.decode())
    assert "1 price added, 1 new supplier." in said
    assert "Börje &amp; Co" in said
    assert not Price.objects.exists()
    upload = Import.objects.get()
    for _ in range(2):
        office.post(reverse("catalogue:take_in", args=[upload.pk]), {"seen": shown.context["seen"]})
    assert Price.objects.get().amount == Decimal("19.50")
    assert "1 price added" in page(office, "import", upload.pk)


def test_it_lists_the_bad_cells_and_offers_no_button(plate, office):
    address = send(office, b"code,price,currency,dated\ninside-corner,free,USD,2026-04-06\n").headers["Location"]
    html = office.get(address).content.decode()
    said = text_of(html)
    assert "1 cell can’t be taken in" in said
    assert "2 B price free" in said.replace("Row ", "")
    assert "Take it in" not in said


def test_it_shows_the_file_again_when_the_catalogue_changed_meanwhile(plate, owner, office):
    address = send(office, b"code,price,currency,dated\ninside-corner,19,USD,2026-04-06\n").headers["Location"]
    seen = office.get(address).context["seen"]
    services.change_item(plate, ItemDraft("hardware", {"shelf": "B3"}), seen_version=1, by=owner)
    answer = office.post(reverse("catalogue:take_in", args=[Import.objects.get().pk]), {"seen": seen})
    assert answer.status_code == 409
    assert "Somebody changed the catalogue" in answer.content.decode()
    assert "Take it in" in answer.content.decode()
    assert not Price.objects.exists()


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [(b"", "a.csv", "empty"), (b"PK\x03\x04", "a.xlsx", "damaged"), (b"x\x00", "a.csv", "not a text")],
)
def test_it_says_at_the_box_why_a_file_is_no_table(office, content, name, said):
    answer = send(office, content, name)
    assert answer.status_code == 422
    assert said in answer.context["form"].errors["file"][0]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_it_hands_out_a_template_that_reads_as_headings_only(owner, office, ending):
    answer = office.get(reverse("catalogue:template", args=[ending]))
    assert f'filename="catalogue-template.{ending}"' in answer.headers["Content-Disposition"]
    upload = services.keep_upload(file_name=f"a.{ending}", content=answer.content, by=owner)
    assert [cell.sentence for cell in services.plan_of(upload).bad_cells] == [
        "There are headings, but no rows below them."
    ]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_it_hands_out_the_catalogue_which_comes_back_unchanged(starter, owner, office, ending):
    content = office.get(reverse("catalogue:export", args=[ending]), {"history": "yes"}).content
    upload = services.keep_upload(file_name=f"a.{ending}", content=content, by=owner)
    assert "Nothing changes: 43 items and 80 prices" in text_of(page(office, "import", upload.pk))
