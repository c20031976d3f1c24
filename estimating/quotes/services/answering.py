"""The customer's answer: accepted by name, date and method, or refused with a reason."""

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.core.files.base import File
from django.db import transaction

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.quotes.documents.payments import payments_with, total_with
from estimating.quotes.models import Quote, QuoteOption, QuoteState

from .holding import held_quote


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Who said yes, when and how; `taken` are the ids of the options they chose, `scan` the signed page."""

    name: str
    on: date
    how: str
    taken: frozenset[int] = frozenset()
    scan: File | None = None


class AlreadyAnswered(Exception):
    """The quote is not waiting for an answer; `quote` says what it is."""

    def __init__(self, quote: Quote):
        super().__init__(str(quote))
        self.quote = quote


@transaction.atomic
def accept_quote(quote: Quote, acceptance: Acceptance, *, by: Staff) -> Quote:
    """Enter that the customer accepted, with the options they took, and work the payments out for what they accepted.

    Raises AlreadyAnswered; ValidationError when two options were taken of which only one can be had.
    """
    held = _waiting(quote)
    taken = _take(held, acceptance.taken)
    held.state = QuoteState.ACCEPTED
    held.accepted_on, held.accepted_how = acceptance.on, acceptance.how
    held.accepted_by_name = acceptance.name.strip()
    held.accepted_total = total_with(held, taken)
    held.payments = payments_with(held, taken)
    if acceptance.scan:
        held.scan = acceptance.scan
    held.version += 1
    held.full_clean()
    held.save()
    after = {
        "by": held.accepted_by_name,
        "on": acceptance.on,
        "total": held.accepted_total,
        "options": [option.name for option in taken],
        "payments": held.payments,
        "version": held.version,
    }
    log_change(held, did="accepted", by=by, after=after)
    held.job.quote_was_accepted(held, by=by)
    return held


@transaction.atomic
def refuse_quote(quote: Quote, *, reason: str, on: date, by: Staff) -> Quote:
    """Enter that the customer said no, and why. Raises AlreadyAnswered, ValidationError."""
    held = _waiting(quote)
    held.state = QuoteState.REFUSED
    held.refused_on, held.refused_reason = on, reason.strip()
    held.version += 1
    held.full_clean()
    held.save()
    log_change(held, did="refused", by=by, after={"reason": held.refused_reason, "version": held.version})
    held.job.quote_was_refused(held, by=by)
    return held


def _waiting(quote: Quote) -> Quote:
    held = held_quote(quote)
    if held.state != QuoteState.SENT:
        raise AlreadyAnswered(held)
    return held


def _take(quote: Quote, chosen: Collection[int]) -> list[QuoteOption]:
    """Note on every option whether it was taken; returns those that were."""
    options = list(quote.options.all())
    taken = [option for option in options if option.pk in chosen]
    twice = [code for code, count in Counter(o.instead_of for o in taken if o.instead_of).items() if count > 1]
    if twice:
        names = " and ".join(option.name for option in taken if option.instead_of == twice[0])
        raise ValidationError(f"Only one of these can be taken: {names}.")
    for option in options:
        option.taken = option.pk in chosen
        option.save(update_fields=["taken"])
    return taken
