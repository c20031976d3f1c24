"""A draft on the desk: its two forms and what they work out to, whether or not they were saved."""

from typing import Any

from django.http import QueryDict
from django.utils import timezone

from contractor.company.versions import ChangedMeanwhile
from estimating.catalogue.services import CatalogueNotReady, engine_catalogue, firm_rules
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import SpecFaults
from estimating.quotes import services
from estimating.quotes.documents.page import WorkedPage, choice_name, fault_lines, option_choices, worked_page
from estimating.quotes.forms import OptionFormSet, TermsForm, options_of, terms_of
from estimating.quotes.models import Quote, QuoteOption

DIALS = {"margin_percent", "rounding_step", "valid_until"}
TAX_BOXES = {"tax_mode", "tax_reason", "below_floor_by", "below_floor_reason"}


class Desk:
    """`page` is None while the quote cannot be worked out; then `faults` says why."""

    def __init__(self, quote: Quote, data: QueryDict | None = None) -> None:
        self.quote, self.on, self.faults = quote, timezone.localdate(), []
        self.seen_version = quote.version if data is None else seen(data)
        base = self._try(None)
        catalogue = base.worked.catalogue if base else self._catalogue()
        design = base.worked.estimate.design if base else None
        self.terms = TermsForm(
            data,
            initial=terms_of(quote),
            usual_tax=firm_rules(on=self.on).tax.mode,
            certificate=quote.job.quote_facts().tax_exempt_certificate,
        )
        rows = {"choices": option_choices(design, catalogue), "name_of": lambda choice: choice_name(choice, catalogue)}
        self.options = OptionFormSet(data, initial=options_of(quote), form_kwargs=rows, prefix="option")
        self.page = base
        if data is not None and self.is_valid():
            self.page = self._typed_page()

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

    def _typed_page(self) -> WorkedPage | None:
        for name, value in self.terms.cleaned_data.items():
            setattr(self.quote, name, value)
        facts = enumerate(self.options.facts(), start=1)
        return self._try([QuoteOption(quote=self.quote, position=place, **option) for place, option in facts])

    def _try(self, options: list[QuoteOption] | None) -> WorkedPage | None:
        self.faults = []
        try:
            return worked_page(services.work_out(self.quote, on=self.on, options=options))
        except SpecFaults as refused:
            self.faults = fault_lines(refused.faults)
        return None

    def _catalogue(self) -> Catalogue | None:
        try:
            return engine_catalogue(on=self.on)
        except CatalogueNotReady:
            return None


def seen(posted: QueryDict) -> int:
    """The version the form was filled from; 0, which is never current, if that is not a number."""
    typed = posted.get("version", "")
    return int(typed) if typed.isdecimal() else 0
