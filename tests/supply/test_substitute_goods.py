"""Another float in place of the drawn one: the deck is worked out again, and both names stay on record."""

from decimal import Decimal

import pytest

from contractor.company.models import LoadCase, Role
from estimating.catalogue.models import Item
from jobs.records import services as records
from jobs.supply import services
from jobs.supply.models import Need
from jobs.supply.services.substituting import Substitution, consequences, substitute
from tests.people import browser_of, person
from tests.quotes.making import straight, today
from tests.supply.making import signed

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("no_press")]


def lower_float(drawn: Item) -> Item:
    """The drawn float, four inches lower, lifting as much less as its height: common practice, no source."""
    lower = Item.objects.get(pk=drawn.pk)
    lower.pk, lower.code, lower.name = None, "float-lower", "Float, four inches lower"
    lower.height_in -= 4
    lower.rated_lift_lb *= lower.height_in / drawn.height_in
    lower.save()
    return lower


def test_it_shows_what_a_lower_float_does_to_the_deck_before_it_is_taken(owner):
    quote = signed(owner, spec=straight())
    need = Need.objects.in_full().get(stock__item__kind="float")
    other = services.stock_of(lower_float(need.stock.item))
    LoadCase.objects.create(kind="spread", name="Regatta day")
    told = consequences(need, instead=other, on=today())
    assert told.trouble == "" and {label for label, _, _ in told.facts} == {"Thing", "Height", "Rated lift"}
    dropped = [level.before_in - level.after_in for level in told.levels if level.after_in is not None]
    # The deck stands on the floats: four inches less float, and deeper still for the lift that went with it.
    assert len(dropped) >= 2 and all(2.0 < drop <= 5.0 for drop in dropped)
    assert Need.objects.standing().get(stock__item__kind="float").stock == need.stock

    browser = browser_of(person(Role.OWNER))
    page = browser.post(f"/needs/{need.pk}/instead/", {"item": other.item_id, "quantity": "8"}).content.decode()
    assert "Deck above the water, lowest corner. Regatta day, 30 psf" in page.replace("\u00a0", " ")
    assert "Not a substitute for an engineer" in page

    facts = Substitution(Decimal(2), "None to be had; Ilse agreed by letter", True)
    made = substitute(need, instead=other, facts=facts, by=owner)
    need.refresh_from_db()
    assert (made.quantity, made.instead_of) == (2, need.stock)
    assert need.quantity + made.quantity == len(quote.figures["floats"])
    revision = records.start_spec(quote.job, spec=straight(), by=owner)
    floats = [
        one for one in services.difference_to(quote.job, revision, on=today()).changes if one.item.kind == "float"
    ]
    assert floats == []  # the spec has not changed: what stands in for the float counts as the float
