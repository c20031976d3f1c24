"""A draft's figures, worked out afresh each time: the engine's estimate, and each option as a difference from it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from contractor.company.models import TaxRate
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.design import design
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.pipeline import estimate
from estimating.engine.price import special_order_cost
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design, Estimate
from estimating.engine.spec import Accessory, DockSpec, Section
from estimating.engine.spec_file import load_spec
from estimating.quotes.documents.worked import OptionWorked, WorkedQuote
from estimating.quotes.facts import JobFacts
from estimating.quotes.models import OptionKind, Quote, QuoteOption, TaxMode

PLACES_OF_A_CODE = {
    "framing": ("stringer", "header", "cross_member"),
    "decking": ("board",),
    "flotation": ("item",),
}


@dataclass(frozen=True, slots=True)
class Books:
    """What a quote is worked out from besides its own words: the catalogue and the rules of a day, the job's facts."""

    on: date
    catalogue: Catalogue
    rules: FirmRules
    facts: JobFacts


def open_books(quote: Quote, *, on: date) -> Books:
    """Everything to work a quote out with, read once. Raises CatalogueNotReady, a SpecFaults.

    The tax rates are read here: where the firm's own mode knows no tax line, its rules carry none.
    """
    rules = firm_rules(on=on)
    rates = tuple((rate.name, rate.percent) for rate in TaxRate.objects.in_force(on))
    rules = replace(rules, tax=replace(rules.tax, sales_taxes=rates))
    return Books(on, engine_catalogue(on=on), rules, quote.job.quote_facts())


def design_of(quote: Quote, books: Books) -> Design:
    """The dock of the quote's spec, before any money. Raises SpecFaults."""
    return design(load_spec(quote.spec_document), books.catalogue, books.rules)


def work_out(
    quote: Quote, *, on: date, options: Iterable[QuoteOption] | None = None, books: Books | None = None
) -> WorkedQuote:
    """The quote's figures at the prices of a day. `options` overrides the stored ones, for a page being typed.

    Raises SpecFaults when the spec cannot be worked out or the catalogue is not ready. An option that cannot be
    worked out carries its own faults.
    """
    books = books or open_books(quote, on=on)
    catalogue, rules = books.catalogue, _rules(quote, books)
    base = estimate(load_spec(quote.spec_document), catalogue, rules)
    listed = quote.options.all() if options is None else options
    return WorkedQuote(
        quote=quote,
        facts=books.facts,
        on=on,
        rules=rules,
        catalogue=catalogue,
        estimate=base,
        options=tuple(_option(option, base, catalogue, rules) for option in listed),
        special_order=special_order_cost(base.takeoff),
    )


def spec_as_accepted(quote: Quote) -> DockSpec | None:
    """The dock with the materials and additions the customer took; None if that is the dock as priced."""
    taken = [option for option in quote.options.all() if option.taken and option.kind != OptionKind.SUM]
    if not taken:
        return None
    spec = load_spec(quote.figures["spec"])
    for option in taken:
        spec = _changed(spec, option)
    return spec


def _rules(quote: Quote, books: Books) -> FirmRules:
    """The firm's rules with this quote's own margin, rounding and tax."""
    exemption = books.facts.tax_exempt_certificate if quote.tax_mode == TaxMode.EXEMPT else ""
    tax = replace(books.rules.tax, mode=quote.tax_mode, exemption=exemption)
    return replace(books.rules, margin_percent=quote.margin_percent, rounding_step=quote.rounding_step, tax=tax)


def _option(option: QuoteOption, base: Estimate, catalogue: Catalogue, rules: FirmRules) -> OptionWorked:
    if option.kind == OptionKind.SUM:
        return OptionWorked(option, option.typed_amount or Decimal(0))
    try:
        # From the filled-in spec, so that only what the option names differs: defaults may not move with it.
        other = estimate(_changed(base.design.spec, option), catalogue, rules)
    except SpecFaults as refused:
        return OptionWorked(option, Decimal(0), faults=refused.faults)
    return OptionWorked(
        option,
        other.price.total - base.price.total,
        special_order=special_order_cost(other.takeoff) - special_order_cost(base.takeoff),
        estimate=other,
    )


def _changed(spec: DockSpec, option: QuoteOption) -> DockSpec:
    change = option.change
    if option.kind == OptionKind.ADD:
        extra = Accessory(item=change["item"], quantity=int(change.get("quantity", 1)))
        return replace(spec, accessories=(*spec.accessories, extra))
    return spec_swapped(spec, change["from"], change["to"])


def spec_swapped(spec: DockSpec, old: str, new: str) -> DockSpec:
    """The dock with one material in place of another wherever a section names it; the same if none does."""
    return replace(spec, sections=tuple(_swapped(section, old, new) for section in spec.sections))


def _swapped(section: Section, old: str, new: str) -> Section:
    changes = {}
    for part, names in PLACES_OF_A_CODE.items():
        record = getattr(section, part)
        hits = {name: new for name in names if getattr(record, name) == old}
        changes[part] = replace(record, **hits) if hits else record
    by_hand = tuple(replace(p, item=new) if p.item == old else p for p in changes["flotation"].placed)
    changes["flotation"] = replace(changes["flotation"], placed=by_hand)
    return replace(section, **changes)
