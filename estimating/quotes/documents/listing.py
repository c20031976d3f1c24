"""The list of quotes: what is out, what is being written, what was answered."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q, QuerySet

from estimating.quotes.models import Quote, QuoteState

MOST = 50
HEAVY = ("figures", "customer_pdf", "shop_pdf", "spec_document")


@dataclass(frozen=True, slots=True)
class QuoteGroup:
    title: str
    empty: str
    quotes: list[Quote]


def quote_list(*, on: date) -> list[QuoteGroup]:
    """Quotes in the order in which somebody acts on them; the answered ones newest first, 50 at most."""
    light = Quote.objects.select_related("job__client", "job__site").defer(*HEAVY)
    answered = Q(state__in=[QuoteState.ACCEPTED, QuoteState.REFUSED])
    return [
        _group("Run out, not answered", "", light.run_out(on=on).order_by("valid_until")),
        _group(
            "Waiting for a signature", "No quote is out.", light.waiting_for_signature(on=on).order_by("valid_until")
        ),
        _group("Not sent yet", "No quote is being written.", light.drafts().newest_first()),
        _group("Answered", "No quote has been answered yet.", light.filter(answered).newest_first()),
    ]


def _group(title: str, empty: str, quotes: QuerySet) -> QuoteGroup:
    return QuoteGroup(title, empty, list(quotes[:MOST]))
