"""Jobs signed, goods on hand and orders out, for these tests. All invented."""

from datetime import date
from decimal import Decimal
from typing import Any

from contractor.company.models import Staff
from estimating.catalogue.models import Item, Supplier
from estimating.catalogue.services import make_supplier
from estimating.quotes import services as quotes
from estimating.quotes.models import Quote
from jobs.records.models import Job
from jobs.supply import services
from jobs.supply.models import Need, Stock
from tests.quotes.making import a_job, sent, today


def signed(by: Staff, *, name: str = "Quarrington", taken: tuple[str, ...] = (), **facts: Any) -> Quote:
    """An accepted quote, with the options of these names taken."""
    job = a_job(by, client={"names": name, "filed_under": name})
    quote = sent(by, job=job, **facts)
    ids = frozenset(option.pk for option in quote.options.all() if option.name in taken)
    return quotes.accept_quote(quote, quotes.Acceptance(name, today(), "paper", ids), by=by)


def a_float() -> Stock:
    return services.stock_of(Item.objects.filter(kind="float").order_by("pk").first())


def a_supplier(by: Staff, name: str = "Fernleigh Float Supply", **facts: Any) -> Supplier:
    known = Supplier.objects.filter(name=name).first()
    return known or make_supplier(facts={"name": name, "lead_days": 10, **facts}, by=by)


def on_shelf(stock: Stock, quantity: int, *, by: Staff) -> Stock:
    """So many found in the yard."""
    shelf = services.shelf_called("Yard")
    services.adjust_stock(stock, shelf=shelf, quantity=Decimal(quantity), reason="Found behind the shed", by=by)
    return Stock.objects.get(pk=stock.pk)


def a_need(by: Staff, stock: Stock, quantity: int, *, job: Job | None = None, needed_by: date | None = None) -> Need:
    facts = {"quantity": Decimal(quantity), "stage": "flotation", "needed_by": needed_by or today(), "reason": "Test"}
    return services.add_need(job or a_job(by), stock=stock, facts=facts, by=by)
