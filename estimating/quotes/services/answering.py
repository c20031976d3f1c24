"""The customer's answer: accepted by name, date and method, or refused with a reason."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.core.files.base import File
from django.db import transaction

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.quotes.models import Quote, QuoteState


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
    """Enter that the customer accepted, with the options they took. Raises AlreadyAnswered, ValidationError."""
    locked = _waiting(quote)
    locked.state = QuoteState.ACCEPTED
    locked.accepted_on, locked.accepted_how = acceptance.on, acceptance.how
    locked.accepted_by_name = acceptance.name.strip()
    locked.accepted_total = (locked.total or Decimal(0)) + _choose(locked, acceptance.taken)
    if acceptance.scan:
        locked.scan = acceptance.scan
    locked.version += 1
    locked.full_clean()
    locked.save()
    after = {"by": locked.accepted_by_name, "on": acceptance.on, "total": locked.accepted_total}
    log_change(locked, did="accepted", by=by, after={**after, "version": locked.version})
    locked.job.quote_was_accepted(locked, by=by)
    return locked


@transaction.atomic
def refuse_quote(quote: Quote, *, reason: str, on: date, by: Staff) -> Quote:
    """Enter that the customer said no, and why. Raises AlreadyAnswered."""
    locked = _waiting(quote)
    locked.state = QuoteState.REFUSED
    locked.refused_on, locked.refused_reason = on, reason.strip()
    locked.version += 1
    locked.full_clean()
    locked.save()
    log_change(locked, did="refused", by=by, after={"reason": locked.refused_reason, "version": locked.version})
    locked.job.quote_was_refused(locked, by=by)
    return locked


def _waiting(quote: Quote) -> Quote:
    locked = Quote.objects.select_for_update().get(pk=quote.pk)
    if locked.state != QuoteState.SENT:
        raise AlreadyAnswered(locked)
    return locked


def _choose(quote: Quote, taken: Collection[int]) -> Decimal:
    added = Decimal(0)
    for option in quote.options.all():
        option.taken = option.pk in taken
        option.save(update_fields=["taken"])
        added += (option.amount or Decimal(0)) if option.taken else Decimal(0)
    return added
