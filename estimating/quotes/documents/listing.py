"""The list of quotes: what is out, what is being written, what was answered."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q, QuerySet

from estimating.quotes.models import Quote, QuoteState

MOST = 50
HEAVY = ("figures", "paper_words", "what_changed", "customer_pdf", "shop_pdf", "spec_document")


@dataclass(frozen=True, slots=True)
class QuoteGroup:
    title: str
    empty: str
    quotes: list[Quote]
    run_out: bool = False


def quote_list(*, on: date) -> list[QuoteGroup]:
    """Quotes in the order in which somebody acts on them; the answered ones newest first, 50 at most."""
    light = Quote.objects.select_related("job__client", "job__site").defer(*HEAVY)
    answered = Q(state__in=[QuoteState.ACCEPTED, QuoteState.REFUSED])
    waiting = light.waiting_for_signature(on=on).order_by("valid_until")
    return [
        QuoteGroup("Run out, not answered", "", _first(light.run_out(on=on).order_by("valid_until")), run_out=True),
        QuoteGroup("Waiting for a signature", "No quote is out.", _first(waiting)),
        QuoteGroup("Not sent yet", "No quote is being written.", _first(light.drafts().newest_first())),
        QuoteGroup("Answered", "No quote has been answered yet.", _first(light.filter(answered).newest_first())),
    ]


def _first(quotes: QuerySet) -> list[Quote]:
    return list(quotes[:MOST])
