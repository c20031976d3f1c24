"""A draft on the desk: its two forms and what they work out to, whether or not they were saved."""

from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.http import QueryDict
from django.utils import timezone

from estimating.catalogue.services import CatalogueNotReady, engine_catalogue, firm_rules
from estimating.engine.reasons import SpecFaults
from estimating.quotes import services
from estimating.quotes.documents.page import WorkedPage, fault_lines, option_choices, worked_page
from estimating.quotes.forms import OptionFormSet, TermsForm, options_of, terms_of
from estimating.quotes.models import Quote, QuoteOption


class Desk:
    """`page` is None while the quote cannot be worked out; then `faults` says why."""

    def __init__(self, quote: Quote, data: QueryDict | None = None) -> None:
        self.quote = quote
        self.faults: list[str] = []
        self.on = timezone.localdate()
        base = self._try(quote, None)
        usual = firm_rules(on=self.on).tax.mode
        choices = option_choices(base.worked.estimate.design, base.worked.catalogue) if base else self._no_choices()
        self.terms = TermsForm(data, initial=terms_of(quote), usual_tax=usual)
        self.options = OptionFormSet(data, initial=options_of(quote), form_kwargs={"choices": choices}, prefix="option")
        self.page = self._typed_page() if data is not None and self.is_valid() else base

    def is_valid(self) -> bool:
        return all([self.terms.is_valid(), self.options.is_valid()])

    def blame(self, refused: ValidationError) -> None:
        for field, errors in refused.message_dict.items():
            self.terms.add_error(field if field in self.terms.fields else None, errors)

    def context(self, **more: Any) -> dict[str, Any]:
        return {
            "quote": self.quote,
            "form": self.terms,
            "options": self.options,
            "page": self.page,
            "faults": self.faults,
            "changes": services.changes_so_far(self.page.worked) if self.page else [],
            NON_FIELD_ERRORS: self.terms.non_field_errors() if self.terms.is_bound else [],
            **more,
        }

    def _typed_page(self) -> WorkedPage | None:
        for name, value in self.terms.cleaned_data.items():
            setattr(self.quote, name, value)
        typed = [
            QuoteOption(quote=self.quote, position=place, **facts)
            for place, facts in enumerate(self.options.facts(), start=1)
        ]
        self.faults = []
        return self._try(self.quote, typed)

    def _try(self, quote: Quote, options: list[QuoteOption] | None) -> WorkedPage | None:
        try:
            return worked_page(services.work_out(quote, on=self.on, options=options))
        except SpecFaults as refused:
            self.faults = fault_lines(refused.faults)
        except CatalogueNotReady as refused:
            self.faults = [str(refused)]
        return None

    def _no_choices(self) -> list[tuple[str, Any]]:
        try:
            return option_choices(None, engine_catalogue(on=self.on))
        except CatalogueNotReady:
            return [("sum", "the amount I type")]
