"""Fills an empty database with the made-up firm, through the same services as the pages use."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction

from contractor.company.models import Company, Staff
from contractor.company.services import hire, save_company, set_up_firm
from estimating.catalogue.models import Item, Price, Supplier
from estimating.catalogue.services import PriceFacts, load_starter, make_supplier
from estimating.catalogue.services.prices import add_prices
from estimating.quotes.models import Quote
from estimating.quotes.services import Acceptance, accept_quote, draft_quote, save_draft, send_quote
from jobs.board import demo_jobs
from jobs.board.demo_jobs import DEMO_JOBS, DemoJob
from jobs.fieldwork import demo as fieldwork
from jobs.records import demo as records
from jobs.records.models import Job
from jobs.records.services import (
    log_call,
    record_permit,
    save_depths,
    save_levels,
    start_spec,
    take_enquiry,
)
from jobs.schedule import demo as schedule
from jobs.supply import demo as supply


class NotForTheDemo(Exception):
    """This database belongs to a real firm; nothing was touched."""


def demo_is_loaded() -> bool:
    """Whether this database holds the demo. Raises NotForTheDemo when it holds another firm."""
    firm = Company.objects.the_firm()
    if firm is not None and firm.name != demo_jobs.FIRM["name"]:
        raise NotForTheDemo(firm.name)
    return firm is not None


@transaction.atomic
def load_demo(*, on: date) -> None:
    """Load the whole demo as of a day. Raises NotForTheDemo."""
    if demo_is_loaded():
        return
    owner = set_up_firm(**demo_jobs.FIRM, owner=demo_jobs.OWNER, password=demo_jobs.PASSWORD)
    firm = Company.objects.the_firm()
    save_company(firm, seen_version=firm.version, changes=demo_jobs.FIRM_FACTS, by=owner)
    office, *_ = [hire(**person, password=demo_jobs.PASSWORD, by=owner) for person in demo_jobs.PEOPLE]
    load_starter(by=owner)
    _price_catalogue(on=on, by=office)
    for job in DEMO_JOBS:
        _open(job, by=owner, on=on)
    records.load_demo(by=office, on=on)
    supply.load_demo(by=office, on=on)
    schedule.load_demo(by=owner, on=on)
    fieldwork.load_demo(by=owner, on=on)


def _price_catalogue(*, on: date, by: Staff) -> None:
    """Suppliers' own prices instead of the starter figures: last season's, and this month's a little dearer."""
    suppliers = [make_supplier(facts=facts, by=by) for facts in demo_jobs.SUPPLIERS]
    starters = list(Price.objects.select_related("item", "stick").filter(starter=True))
    for days_ago, factor in ((200, Decimal("0.94")), (9, Decimal("1.03"))):
        facts = on - timedelta(days=days_ago), factor
        add_prices([_repriced(price, suppliers, *facts) for price in starters], by=by)


def _repriced(price: Price, suppliers: list[Supplier], dated: date, factor: Decimal) -> tuple[Any, ...]:
    supplier = suppliers[demo_jobs.SUPPLIER_OF_KIND.get(price.item.kind, 2)]
    amount = (price.amount * factor).quantize(Decimal("0.05"))
    return price.item, price.stick, supplier, PriceFacts(amount, price.currency, dated)


def _open(wanted: DemoJob, *, by: Staff, on: date) -> None:
    facts = {**wanted.facts, "called_on": on - timedelta(days=wanted.called)}
    if wanted.state == "visit":
        facts["visit_on"] = on + timedelta(days=2)
    job = take_enquiry(client=wanted.client, site=wanted.site, facts=facts, by=by, on=on)
    if wanted.levels:
        save_levels(job.site, seen_version=0, changes=wanted.levels, by=by)
    if wanted.depths:
        save_depths(job.site, seen_version=job.site.version, rows=wanted.depths, by=by)
    for words in wanted.calls:
        log_call(job, words=words, by=by)
    if wanted.spec:
        _quote(Job.objects.get(pk=job.pk), wanted, by=by, on=on)


def _quote(job: Job, wanted: DemoJob, *, by: Staff, on: date) -> None:
    revision = start_spec(job, spec=wanted.spec, by=by)
    if wanted.state == "spec":
        return
    quote = draft_quote(job, spec_letter=revision.letter, spec_document=revision.document, by=by, on=on)
    if wanted.options:
        options = [_option(option, quote) for option in wanted.options]
        quote = save_draft(quote, seen_version=quote.version, changes={}, options=options, by=by)
    if wanted.state == "draft":
        return
    quote = send_quote(quote, seen_version=quote.version, by=by, on=on)
    if wanted.state == "run out":
        _age(quote, on=on)
    if wanted.state == "accepted":
        accept_quote(quote, Acceptance(wanted.client["names"].splitlines()[0], on, "paper"), by=by)
        _permit(job, wanted, by=by, on=on)


def _option(wanted: dict[str, Any], quote: Quote) -> dict[str, Any]:
    change: dict[str, Any] = {}
    if wanted["kind"] == "swap":
        boards = Item.objects.filter(kind="decking").order_by("code")
        standing = next(item.code for item in boards if "2x6" in item.code)
        change = {"from": standing, "to": next(item.code for item in boards if wanted["to"] in item.code)}
    return {
        "name": wanted["name"],
        "words": "",
        "kind": wanted["kind"],
        "change": change,
        "typed_amount": wanted.get("typed_amount"),
    }


def _age(quote: Quote, *, on: date) -> None:
    """A quote cannot be sent in the past; this one was, so that the demo has one that ran out."""
    Quote.objects.filter(pk=quote.pk).update(
        sent_at=quote.sent_at - demo_jobs.LONG_AGO, valid_until=on - timedelta(days=12)
    )


def _permit(job: Job, wanted: DemoJob, *, by: Staff, on: date) -> None:
    if wanted.permit is None:
        return
    facts = {name: value for name, value in wanted.permit.items() if name not in ("applied", "expected")}
    facts["applied_on"] = on - timedelta(days=wanted.permit["applied"])
    facts["expected_on"] = on - timedelta(days=wanted.permit["expected"])
    record_permit(job, facts=facts, by=by)
