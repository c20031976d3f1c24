"""A draft's figures, worked out afresh each time: the engine's estimate, and each option as a difference from it."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimating.catalogue.services import CatalogueNotReady, engine_catalogue, firm_rules
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Estimate
from estimating.engine.spec import Accessory, DockSpec, Section
from estimating.engine.spec_file import load_spec
from estimating.quotes.documents.worked import OptionWorked, WorkedQuote
from estimating.quotes.models import OptionKind, Quote, QuoteOption

CANNOT_WORK_OUT = (SpecFaults, CatalogueNotReady)
PLACES_OF_A_CODE = {
    "framing": ("stringer", "header", "cross_member"),
    "decking": ("board",),
    "flotation": ("item",),
}


def work_out(quote: Quote, *, on: date, options: Iterable[QuoteOption] | None = None) -> WorkedQuote:
    """The quote's figures at the prices of a day. `options` overrides the stored ones, for a page being typed.

    Raises SpecFaults when the spec cannot be worked out, CatalogueNotReady when the firm has no catalogue yet.
    """
    catalogue = engine_catalogue(on=on)
    rules = quote_rules(quote, on=on)
    spec = load_spec(quote.spec_document)
    base = estimate(spec, catalogue, rules)
    listed = quote.options.all() if options is None else options
    worked = tuple(_option(option, base, catalogue, rules) for option in listed)
    return WorkedQuote(quote, quote.job.quote_facts(), on, rules, catalogue, base, worked)


def quote_rules(quote: Quote, *, on: date) -> FirmRules:
    """The firm's rules with this quote's own margin, rounding and tax."""
    rules = firm_rules(on=on)
    facts = quote.job.quote_facts()
    tax = replace(rules.tax, mode=quote.tax_mode, exemption=facts.tax_exempt_certificate)
    return replace(rules, margin_percent=quote.margin_percent, rounding_step=quote.rounding_step, tax=tax)


def _option(option: QuoteOption, base: Estimate, catalogue: Catalogue, rules: FirmRules) -> OptionWorked:
    if option.kind == OptionKind.SUM:
        return OptionWorked(option, option.typed_amount or Decimal(0))
    # The filled-in spec, so that only what the option names differs: defaults may not move with it.
    other = estimate(_changed(base.design.spec, option), catalogue, rules)
    return OptionWorked(option, other.price.total - base.price.total, other)


def _changed(spec: DockSpec, option: QuoteOption) -> DockSpec:
    change = option.change
    if option.kind == OptionKind.ADD:
        extra = Accessory(item=change["item"], quantity=int(change.get("quantity", 1)))
        return replace(spec, accessories=(*spec.accessories, extra))
    sections = tuple(_swapped(section, change["from"], change["to"]) for section in spec.sections)
    return replace(spec, sections=sections)


def _swapped(section: Section, old: str, new: str) -> Section:
    changes = {}
    for part, names in PLACES_OF_A_CODE.items():
        record = getattr(section, part)
        hits = {name: new for name in names if getattr(record, name) == old}
        changes[part] = replace(record, **hits) if hits else record
    return replace(section, **changes)
