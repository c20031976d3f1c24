"""Suppliers: kept, changed, no longer bought from."""

from typing import Any

from django.db import transaction

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from estimating.catalogue.models import Supplier

from .refusals import FactsRefused

FACTS = ("name", "contact", "phone", "email", "account", "lead_days", "notes")


@transaction.atomic
def make_supplier(*, facts: dict[str, Any], by: Staff | None) -> Supplier:
    """A new supplier. Raises FactsRefused if the name is empty or taken."""
    facts = _tidy(facts)
    _check_name(facts["name"], but=None)
    supplier = Supplier.objects.create(**facts)
    log_made(supplier, by=by, facts=facts)
    return supplier


@transaction.atomic
def change_supplier(supplier: Supplier, *, facts: dict[str, Any], seen_version: int, by: Staff | None) -> Supplier:
    """Raises FactsRefused for a bad name and ChangedMeanwhile for a stale save."""
    facts = _tidy(facts)
    if "name" in facts:
        _check_name(facts["name"], but=supplier)
    return save_if_unchanged(supplier, seen_version, facts, by=by)


@transaction.atomic
def set_supplier_active(supplier: Supplier, *, active: bool, seen_version: int, by: Staff | None) -> Supplier:
    """Stop offering a supplier in the lists, or offer it again; its prices stay."""
    did = "taken back" if active else "put aside"
    return save_if_unchanged(supplier, seen_version, {"active": active}, by=by, did=did)


def _tidy(facts: dict[str, Any]) -> dict[str, Any]:
    kept = {key: value for key, value in facts.items() if key in FACTS}
    if "name" in kept:
        kept["name"] = " ".join(kept["name"].split())
    return kept


def _check_name(name: str, *, but: Supplier | None) -> None:
    if not name:
        raise FactsRefused({"name": "Name the supplier."})
    if Supplier.objects.called(name).exclude(pk=but.pk if but else None).exists():
        raise FactsRefused({"name": f"There is a supplier called {name} already. Change that one, or add the town."})
