"""Dated prices: added, struck out, and which of them counts on a day."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from contractor.company.current import firm
from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.models import Item, Price, StandingChoices, Stick, Supplier
from estimating.catalogue.values import say_day

from .refusals import FactsRefused

Place = tuple[int, int | None]  # item, stock length
FURTHEST_AHEAD = timedelta(days=366)


@dataclass(frozen=True)
class PriceFacts:
    """A price as it is typed or read from a file."""

    amount: Decimal
    currency: str
    dated: date
    valid_until: date | None = None
    note: str = ""
    starter: bool = False


@dataclass(frozen=True)
class PriceNow:
    """The price that counts on a day, and whether to trust it."""

    price: Price
    on: date
    stale_after_days: int

    @property
    def age_days(self) -> int:
        return (self.on - self.price.dated).days

    @property
    def is_expired(self) -> bool:
        return self.price.valid_until is not None and self.price.valid_until < self.on

    @property
    def is_stale(self) -> bool:
        return self.age_days > self.stale_after_days

    @property
    def doubts(self) -> list[str]:
        """Why to look at the price again, in a few words each; empty if there is no reason."""
        found = []
        if self.price.starter:
            found.append("starter figure")
        if self.is_expired:
            found.append(f"ended {say_day(self.price.valid_until)}")
        if self.is_stale:
            found.append(f"{self.age_days} days old")
        return found


@transaction.atomic
def add_price(
    item: Item, facts: PriceFacts, *, stick: Stick | None = None, supplier: Supplier | None = None, by: Staff | None
) -> Price:
    """Add a dated price; nothing is overwritten. The very same price again returns the one that stands.

    Raises FactsRefused for another currency than the firm’s, a day too far ahead, an end before the start, or a
    length that is missing, not asked for, or of another item.
    """
    faults = price_faults(facts, on=timezone.localdate()) | _stick_faults(item, stick)
    if faults:
        raise FactsRefused(faults)
    given = {"item": item, "stick": stick, "supplier": supplier, **facts.__dict__}
    last = (
        Price.objects.standing()
        .filter(item=item, stick=stick, supplier=supplier, dated=facts.dated)
        .newest_first()
        .first()
    )
    if last and all(getattr(last, key) == value for key, value in given.items()):
        return last
    price = Price.objects.create(**given, entered_by=by)
    log_change(item, did="priced", by=by, after=_logged(price))
    return price


@transaction.atomic
def add_prices(given: Iterable[tuple[Item, Stick | None, Supplier | None, PriceFacts]], *, by: Staff | None) -> int:
    """Add many prices at once, as from a price list; how many. Raises FactsRefused at the first that is wrong."""
    rows = []
    for item, stick, supplier, facts in given:
        faults = price_faults(facts, on=timezone.localdate()) | _stick_faults(item, stick)
        if faults:
            raise FactsRefused(faults)
        rows.append(Price(item=item, stick=stick, supplier=supplier, **facts.__dict__, entered_by=by))
    return len(Price.objects.bulk_create(rows))


@transaction.atomic
def strike_price(price: Price, *, reason: str, by: Staff | None) -> Price:
    """Strike out a wrong price: it stays readable and counts no more. Raises FactsRefused without a reason."""
    reason = " ".join(reason.split())
    if not reason:
        raise FactsRefused({"reason": "Say why: a typing slip, another item’s price."})
    now = timezone.now()
    struck = Price.objects.standing().filter(pk=price.pk).update(struck_at=now, struck_by=by, struck_reason=reason)
    price.refresh_from_db()
    if struck:
        log_change(price.item, did="struck out a price", by=by, before=_logged(price), after={"reason": reason})
    return price


def current_prices(*, on: date, items: Iterable[Item] | None = None) -> dict[Place, Price]:
    """The price that counts on a day, by item and stock length.

    Struck-out prices and those dated after the day are left aside; of each supplier only the latest is looked at.
    Then a figure of the firm’s own goes before a starter figure, the usual supplier before others, the latest date
    before earlier ones, and the last entered of one day before the others.
    """
    prices = Price.objects.standing().known_on(on).newest_of_each_source().with_usual_supplier()
    if items is not None:
        prices = prices.filter(item__in=items)
    best: dict[Place, Price] = {}
    for price in prices:
        place = (price.item_id, price.stick_id)
        if place not in best or _rank(price) > _rank(best[place]):
            best[place] = price
    return best


def prices_now(*, on: date, items: Iterable[Item] | None = None) -> dict[Place, PriceNow]:
    """The same with their age: stale after the firm’s number of days."""
    stale_after = stale_after_days()
    return {place: PriceNow(price, on, stale_after) for place, price in current_prices(on=on, items=items).items()}


def stale_after_days() -> int:
    return StandingChoices.objects.values_list("stale_after_days", flat=True).first() or 60


def firm_currency() -> str:
    named = firm()
    return named.currency if named else "USD"


def price_faults(facts: PriceFacts, *, on: date) -> dict[str, str]:
    """What is wrong with a price by itself, by field."""
    faults = {}
    ours = firm_currency()
    if facts.currency != ours:
        faults["currency"] = (
            f"This price is in {facts.currency}; the firm works in {ours}. Turn it into {ours} first, or leave it out."
        )
    if facts.amount <= 0:
        faults["amount"] = "A price is above zero: at zero it would be free on every quote."
    if facts.dated > on + FURTHEST_AHEAD:
        faults["dated"] = f"{say_day(facts.dated)} is more than a year ahead. Look at the year."
    if facts.valid_until is not None and facts.valid_until < facts.dated:
        faults["valid_until"] = "The price can’t end before the day it is dated."
    return faults


def _stick_faults(item: Item, stick: Stick | None) -> dict[str, str]:
    if item.is_wood and stick is None:
        return {"stick": "Say for which stock length."}
    if stick is not None and stick.item_id != item.pk:
        return {"stick": f"That length is not one of {item.name}’s."}
    return {}


def _rank(price: Price) -> tuple[bool, bool, date, int]:
    usual = price.supplier_id is not None and price.supplier_id == price.usual_supplier_id
    return not price.starter, usual, price.dated, price.pk


def _logged(price: Price) -> dict[str, object]:
    return {
        "amount": price.amount,
        "currency": price.currency,
        "dated": price.dated,
        "supplier": price.supplier.name if price.supplier else "",
        "stock_length_in": price.stick.length_in if price.stick else None,
    }
