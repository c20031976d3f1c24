"""A price that is missing, ended, old or in another currency: from the page where it is written to those it worries."""

import re
from datetime import timedelta
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from contractor.company.models import Company
from contractor.company.once import new_key
from estimating.catalogue.models import Item, Price
from estimating.quotes.models import Quote
from jobs.records.models import SpecRevision
from tests.spec_page.test_show_spec import keep, look

FLOAT = "float-24x48x16"


@pytest.fixture
def floats(boss) -> Item:
    return Item.objects.get(code=FLOAT)


def read(answer) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", answer.content.decode()))).replace("\u00a0", " ")


def new_price(office: Client, item: Item, days_ago: int, **typed: str) -> None:
    dated = timezone.localdate() - timedelta(days=days_ago)
    data = {"once": new_key(), "amount": "140", "dated": dated.isoformat(), **typed}
    assert office.post(reverse("catalogue:add_price", args=[item.pk]), data).status_code == 303


def strike_all(office: Client, item: Item) -> None:
    for price in item.prices.all():
        answer = office.post(reverse("catalogue:strike_price", args=[price.pk]), {"reason": "no longer sold"})
        assert answer.status_code == 303


def draft(office: Client, revision: SpecRevision) -> Quote:
    assert keep(office, revision, do="quote").status_code == 303
    return Quote.objects.get(job=revision.job)


def test_it_stops_the_quote_for_want_of_a_price(office: Client, revision: SpecRevision, floats: Item) -> None:
    quote = draft(office, revision)
    strike_all(office, floats)
    said = f"Stop. {floats.name} has no price. Put a price on it in the catalogue, or choose another item."
    assert said in read(look(office, revision))
    assert said in read(office.get(quote.get_absolute_url()))
    new_price(office, floats, 0)
    assert "has no price" not in read(look(office, revision))


def test_it_asks_for_a_new_price_when_one_has_ended(office: Client, revision: SpecRevision, floats: Item) -> None:
    ended = timezone.localdate() - timedelta(days=1)
    new_price(office, floats, 3, valid_until=ended.isoformat())
    said = f"Check. The price of {floats.name} ran out on {ended.day} {ended:%B} {ended.year}. Ask for a new one."
    assert said in read(look(office, revision))
    assert said in read(office.get(draft(office, revision).get_absolute_url()))


def test_it_says_how_old_a_price_has_become(office: Client, revision: SpecRevision, floats: Item) -> None:
    new_price(office, floats, 200)
    assert f"The price of {floats.name} is 200 days old." in read(look(office, revision))


def test_it_converts_no_price_when_the_firm_changes_its_currency(
    office: Client, revision: SpecRevision, floats
) -> None:
    measures = {"units": "imperial", "currency": "CAD", "date_style": "day_first", "paper": "letter"}
    version = Company.objects.get().version
    assert office.post("/company/block/measures/", {**measures, "version": version}).status_code == 303
    said = f"Stop. {floats.name} is priced in USD; this quote is in CAD. Enter its price in CAD. Nothing is converted."
    assert said in read(look(office, revision))
    assert said in read(office.get(draft(office, revision).get_absolute_url()))


def test_it_takes_in_no_price_list_in_another_currency(office: Client, floats: Item) -> None:
    before = Price.objects.count()
    table = f"code,price,currency,dated\n{FLOAT},139.00,CAD,2026-04-06\n".encode()
    sent = office.post(reverse("catalogue:imports"), {"file": SimpleUploadedFile("spring.csv", table)})
    assert sent.status_code == 303
    shown = read(office.get(sent["Location"]))
    assert "in CAD; the firm works in USD" in shown and "currency" in shown
    assert "Take it in" not in shown and Price.objects.count() == before
