"""A draft on the desk: its two forms and what they work out to, whether or not they were saved."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.http import QueryDict
from django.utils import timezone

from contractor.company.versions import ChangedMeanwhile
from estimating.engine.reasons import SpecFaults
from estimating.quotes import services
from estimating.quotes.documents.page import WorkedPage, choice_name, fault_lines, option_choices, worked_page
from estimating.quotes.forms import OptionFormSet, TermsForm, options_of, terms_of
from estimating.quotes.models import Quote, QuoteOption

T = TypeVar("T")
DIALS = {"margin_percent", "rounding_step", "valid_until"}
TAX_BOXES = {"tax_mode", "tax_reason", "below_floor_by", "below_floor_reason"}


class Desk:
    """`page` is None while the quote cannot be worked out; then `faults` says why."""

    def __init__(self, quote: Quote, data: QueryDict | None = None) -> None:
        self.quote, self.on, self.faults = quote, timezone.localdate(), []
        self.seen_version = quote.version if data is None else seen(data)
        self.books = self._try(lambda: services.open_books(quote, on=self.on))
        design = self._try(lambda: services.design_of(quote, self.books)) if self.books else None
        catalogue = self.books.catalogue if self.books else None
        facts = self.books.facts if self.books else quote.job.quote_facts()
        self.terms = TermsForm(
            data,
            initial=terms_of(quote),
            usual_tax=self.books.rules.tax.mode if self.books else "",
            certificate=facts.tax_exempt_certificate,
        )
        rows = {"choices": option_choices(design, catalogue), "name_of": lambda choice: choice_name(choice, catalogue)}
        self.options = OptionFormSet(data, initial=options_of(quote), form_kwargs=rows, prefix="option")
        typed = self._type() if data is not None and self.is_valid() else None
        self.page: WorkedPage | None = self._try(lambda: self._work(typed)) if design else None

    def is_valid(self) -> bool:
        return all([self.terms.is_valid(), self.options.is_valid()])

    @property
    def troubles(self) -> int:
        """How many boxes need another look."""
        return len(self.terms.errors) + sum(len(row.errors) for row in self.options)

    def take_theirs(self, conflict: ChangedMeanwhile) -> None:
        """After a stale save, the boxes that were left alone show what the other person put there."""
        self.terms.take_theirs(conflict)
        self.seen_version = conflict.version

    def context(self, **more: Any) -> dict[str, Any]:
        return {
            "quote": self.quote,
            "form": self.terms,
            "options": self.options,
            "page": self.page,
            "faults": self.faults,
            "troubles": self.troubles if self.terms.is_bound else 0,
            "seen_version": self.seen_version,
            "open": self._open(more),
            "changes": services.changes_so_far(self.page.worked) if self.page else None,
            **more,
        }

    def _open(self, more: dict[str, Any]) -> dict[str, bool]:
        """Which of the folded parts stand open: where something is wrong, or has to be answered."""
        wrong = set(self.terms.errors) if self.terms.is_bound else set()
        below_floor = self.page is not None and self.page.below_floor
        return {
            "tax": bool(wrong & TAX_BOXES) or below_floor or bool(more.get("not_sent")),
            "options": self.options.is_bound and self.options.total_error_count() > 0,
            "words": bool(wrong - TAX_BOXES - DIALS),
        }

    def _type(self) -> list[QuoteOption]:
        """Put what is typed on the quote in hand; nothing is saved. Returns the options as typed."""
        for name, value in self.terms.cleaned_data.items():
            setattr(self.quote, name, value)
        facts = enumerate(self.options.facts(), start=1)
        return [QuoteOption(quote=self.quote, position=place, **option) for place, option in facts]

    def _work(self, options: list[QuoteOption] | None) -> WorkedPage:
        return worked_page(services.work_out(self.quote, on=self.on, options=options, books=self.books))

    def _try(self, act: Callable[[], T]) -> T | None:
        try:
            return act()
        except SpecFaults as refused:
            self.faults = fault_lines(refused.faults)
            return None


def seen(posted: QueryDict) -> int:
    """The version the form was filled from; 0, which is never current, if that is not a number."""
    typed = posted.get("version", "")
    return int(typed) if typed.isdecimal() else 0
