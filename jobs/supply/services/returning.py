"""Goods that go back to the supplier, and the money that comes for them."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from estimating.catalogue.models import Supplier
from jobs.supply.models import MovementKind, Return, Stock

from .ledger import Why, average_cost, hold_stocks, take_off_shelves


@transaction.atomic
def send_back(stock: Stock, *, supplier: Supplier, quantity: Decimal, facts: Mapping[str, Any], by: Staff) -> Return:
    """Sound goods leave the yard for the supplier; `facts`: reason, went_on, restock_fee, credit_expected.

    Raises NotOnHand, ValidationError.
    """
    held = hold_stocks([stock.pk])[stock.pk]
    back = Return(supplier=supplier, stock=held, quantity=quantity, by_name=by.name, **facts)
    back.full_clean()
    back.save()
    why = Why(MovementKind.SENT_BACK, f"{supplier}: {back.reason}", unit_cost=average_cost(held))
    take_off_shelves(held, quantity, why, by=by)
    log_made(back, by=by, facts=facts)
    return back


@transaction.atomic
def follow_return(back: Return, *, seen_version: int, changes: Mapping[str, Any], by: Staff) -> Return:
    """Note that it went, what credit is expected, what came. Raises ChangedMeanwhile, ValidationError."""
    day: date | None = changes.get("credit_received_on")
    if (changes.get("credit_received") is None) != (day is None):
        raise ValidationError({"credit_received_on": "A credit that came has an amount and a day."})
    return save_if_unchanged(back, seen_version, changes, by=by)


def returns_open() -> list[Return]:
    """What is to go back, or went and was neither replaced nor paid for."""
    waiting = Return.objects.filter(voided=False, credit_received=None).select_related("supplier", "stock__item")
    return [back for back in waiting if back.went_on is None or not back.replaced]
