"""A quote with its figures, as services hand it to the papers and pages."""

import hashlib
import json
from dataclasses import asdict, dataclass, replace
from datetime import date
from decimal import Decimal

from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.reasons import Fault
from estimating.engine.result import Estimate
from estimating.quotes.facts import JobFacts, nothing
from estimating.quotes.models import Quote, QuoteOption


@dataclass(frozen=True, slots=True)
class OptionWorked:
    """One option with what it adds to the total.

    `estimate` is there when the engine priced it, `faults` when it could not be: then the amount is worth nothing.
    """

    option: QuoteOption
    amount: Decimal
    special_order: Decimal = Decimal(0)
    estimate: Estimate | None = None
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class OptionGroup:
    """Options that stand together: alternatives to what is priced (`instead_of` names it), or one on its own."""

    instead_of: str
    options: tuple[OptionWorked, ...]


@dataclass(frozen=True, slots=True)
class WorkedQuote:
    quote: Quote
    facts: JobFacts
    on: date
    rules: FirmRules
    catalogue: Catalogue
    estimate: Estimate
    options: tuple[OptionWorked, ...]
    special_order: Decimal = Decimal(0)  # cost of the goods ordered for this job alone

    @property
    def total(self) -> Decimal:
        return self.estimate.price.total

    @property
    def groups(self) -> tuple[OptionGroup, ...]:
        """The options in order, alternatives to one material together where the first of them stands."""
        together: dict[str, list[OptionWorked]] = {}
        for index, worked in enumerate(self.options):
            together.setdefault(worked.option.instead_of or f"#{index}", []).append(worked)
        return tuple(OptionGroup(self._item_name(code), tuple(options)) for code, options in together.items())

    @property
    def mark(self) -> str:
        """Changes whenever the spec, a figure or a fact of the job does: what somebody saw before they press send."""
        seen = [
            self.quote.spec_document,
            self.total,
            [payment.amount for payment in self.estimate.price.payments],
            [(worked.option.name, worked.amount) for worked in self.options],
            {name: fact for name, fact in asdict(replace(self.facts, against=nothing)).items() if name != "against"},
            [finding.key for finding in self.facts.against(self.estimate.design)],
        ]
        return hashlib.sha256(json.dumps(seen, default=str, sort_keys=True).encode()).hexdigest()[:24]

    def _item_name(self, code: str) -> str:
        items = {**self.catalogue.lumber, **self.catalogue.floats}
        return items[code].name if code in items else ""
