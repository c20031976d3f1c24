"""A revision says what it changes and by how much: to the customer in their words, to the shop with the costs."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from estimating.catalogue.models import Price
from estimating.engine.spec import Section
from estimating.quotes import services
from estimating.quotes.documents.comparing import Changes
from estimating.quotes.models import Quote
from tests.quotes.making import BUMPER, COMPOSITE, OLD_DOCK, longer, revised, sent, straight, today, with_ramp

pytestmark = pytest.mark.usefixtures("quick_press")


def said(quote: Quote) -> Changes:
    return services.changes_so_far(services.work_out(quote, on=today()))


def plain(lines: list[str]) -> list[str]:
    return [line.replace("\u00a0", " ") for line in lines]


def test_it_says_nothing_of_the_first_quote(owner):
    quote = sent(owner)
    assert quote.what_changed == {"customer": [], "shop": []}


def test_it_says_that_the_price_stays(owner):
    second = revised(sent(owner), by=owner)
    changes = said(second)
    assert plain(changes.customer) == [f"The price stays {Quote.objects.get(letter='A').total:,.2f}."]
    assert changes.shop == changes.customer


def test_it_says_how_much_more_and_what_the_dock_has_become(owner):
    first = sent(owner)
    second = revised(first, by=owner, spec=longer(straight(), 240.0))
    worked = services.work_out(second, on=today())
    changes = services.changes_so_far(worked)
    more = worked.total - first.total
    assert plain(changes.customer)[:2] == [
        f"The price was {first.total:,.2f} and is {worked.total:,.2f}: {more:,.2f} more.",
        "Section A was 6 ft × 16 ft and is 6 ft × 20 ft.",
    ]


def test_it_says_which_sections_came_and_went(owner):
    first = sent(owner, spec=with_ramp())
    spec = replace(straight(), sections=(Section("A", 96.0, 72.0), Section("C", 120.0, 60.0, x_in=96.0)), joints=())
    changes = plain(said(revised(first, by=owner, spec=spec)).customer)
    assert {"Section B is left out.", "Section C is added, 5 ft × 10 ft."} <= set(changes)
    gone = next(line for line in changes if line.startswith("What you get, no longer:"))
    assert "swim ladder, four steps" in gone and "ramp 12 ft long and 4 ft wide, of timber" in gone


def test_it_says_what_was_added_to_the_words_and_the_options(owner):
    first = sent(owner, exclusions="Wiring\nRock", options=[COMPOSITE, OLD_DOCK])
    second = revised(first, by=owner)
    terms = {
        "exclusions": "Wiring\nOld posts",
        "timing": "In May.",
        "valid_until": second.valid_until + timedelta(days=9),
    }
    dearer = {**OLD_DOCK, "typed_amount": Decimal("420.00")}
    services.save_draft(second, seen_version=1, changes=terms, options=[dearer, BUMPER], by=owner)
    changes = plain(said(Quote.objects.get(pk=second.pk)).customer)
    assert "Not in the price, no longer: rock." in changes
    assert "Not in the price, new: old posts." in changes
    assert "Written anew: When." in changes
    assert "Option no longer offered: Composite boards." in changes
    assert "Option Take the old dock away: +380.00 before, +420.00 now." in changes
    assert any(line.startswith("New option: Bumper strip, +") for line in changes)
    assert any(line.startswith("The price now holds until ") for line in changes)


def test_it_tells_the_shop_what_it_costs_and_the_customer_not(owner):
    first = sent(owner)
    Price.objects.filter(item__code="float-24x48x16").update(amount=Decimal("150.00"))
    second = revised(first, by=owner)
    services.save_draft(second, seen_version=1, changes={"margin_percent": Decimal(20)}, options=None, by=owner)
    changes = said(Quote.objects.get(pk=second.pk))
    count = len(first.figures["floats"])
    only_shop = plain([line for line in changes.shop if line not in changes.customer])
    assert "Margin on price: 15% before, 20% now." in only_shop
    was, now = Decimal(140) * count, Decimal(150) * count
    assert f"Float 24 x 48 x 16 in was {was:,.2f} and is {now:,.2f}: {now - was:,.2f} more." in only_shop
    assert len(changes.customer) == 1


def test_it_freezes_what_it_said(owner):
    first = sent(owner)
    second = revised(first, by=owner, spec=longer(straight(), 240.0))
    sentences = said(second)
    second = services.send_quote(second, seen_version=second.version, by=owner, on=today())
    assert second.what_changed == {"customer": sentences.customer, "shop": sentences.shop}
    paper = bytes(second.customer_pdf).decode()
    assert all(sentence in paper for sentence in sentences.customer)
    assert not any(line in paper for line in sentences.shop if line not in sentences.customer)
