"""A quote with its figures, as services hand it to the papers and pages."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.result import Estimate
from estimating.quotes.facts import JobFacts
from estimating.quotes.models import Quote, QuoteOption


@dataclass(frozen=True, slots=True)
class OptionWorked:
    """One option with what it adds to the total; `estimate` is there when the engine priced it."""

    option: QuoteOption
    amount: Decimal
    estimate: Estimate | None = None


@dataclass(frozen=True, slots=True)
class WorkedQuote:
    quote: Quote
    facts: JobFacts
    on: date
    rules: FirmRules
    catalogue: Catalogue
    estimate: Estimate
    options: tuple[OptionWorked, ...]

    @property
    def total(self) -> Decimal:
        return self.estimate.price.total
