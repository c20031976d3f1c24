"""Sending: the quote's figures, words and papers are fixed, once, and stay."""

import hashlib
from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile
from estimating.engine.reasons import Finding
from estimating.engine.result_file import estimate_as_dict
from estimating.quotes.documents.comparing import what_changed
from estimating.quotes.documents.paper import customer_paper, shop_paper
from estimating.quotes.documents.speech import say
from estimating.quotes.documents.worked import WorkedQuote
from estimating.quotes.models import Quote, QuoteState

from .working import work_out


@dataclass(frozen=True, slots=True)
class Papers:
    """The two PDFs of a quote, and what it says it changed."""

    customer: bytes
    shop: bytes
    changes: list[str]


class NotReadyToSend(Exception):
    """Something must be settled first: the engine's stops, a price below the floor without a reason, a date gone by."""

    def __init__(self, sentences: list[str], findings: tuple[Finding, ...] = ()):
        super().__init__(" ".join(sentences))
        self.sentences = sentences
        self.findings = findings


def send_quote(quote: Quote, *, seen_version: int, by: Staff, on: date) -> Quote:
    """Freeze the quote: figures, words and PDF bytes. A second press finds it sent and changes nothing.

    The papers are made before the transaction, so that nobody waits for them; if the draft changed meanwhile nothing
    is sent. Raises NotReadyToSend, ChangedMeanwhile, SpecFaults.
    """
    quote.refresh_from_db()
    if not quote.is_draft:
        return quote
    if quote.version != seen_version:
        raise ChangedMeanwhile(quote, seen_version, {})
    worked = work_out(quote, on=on)
    _refuse_unready(worked)
    changes = changes_so_far(worked)
    papers = Papers(
        customer=customer_paper(worked, changes=changes, by=by),
        shop=shop_paper(worked, changes=changes, by=by),
        changes=changes,
    )
    return _freeze(worked, papers, seen_version=seen_version, by=by)


def changes_so_far(worked: WorkedQuote) -> list[str]:
    """What this draft changes against the quote sent before it; nothing for the first."""
    before = Quote.objects.sent().filter(job=worked.quote.job).order_by("pk").last()
    return what_changed(before, worked) if before else []


@transaction.atomic
def _freeze(worked: WorkedQuote, papers: Papers, *, seen_version: int, by: Staff) -> Quote:
    quote = worked.quote
    fixed = {
        "state": QuoteState.SENT,
        "version": seen_version + 1,
        "sent_at": timezone.now(),
        "sent_by": by,
        "figures": estimate_as_dict(worked.estimate),
        "total": worked.total,
        "customer_pdf": papers.customer,
        "shop_pdf": papers.shop,
        "customer_pdf_sha256": hashlib.sha256(papers.customer).hexdigest(),
        "shop_pdf_sha256": hashlib.sha256(papers.shop).hexdigest(),
        "what_changed": papers.changes,
    }
    if not Quote.objects.drafts().filter(pk=quote.pk, version=seen_version).update(**fixed):
        current = Quote.objects.get(pk=quote.pk)
        if current.is_draft:
            raise ChangedMeanwhile(current, seen_version, {})
        return current
    for option in worked.options:
        option.option.amount = option.amount
        option.option.save(update_fields=["amount"])
    earlier = Quote.objects.filter(job=quote.job, state=QuoteState.SENT).exclude(pk=quote.pk)
    earlier.update(state=QuoteState.REPLACED)
    quote.refresh_from_db()
    log_change(quote, did="sent", by=by, after={"total": quote.total, "version": quote.version})
    quote.job.quote_was_sent(quote, by=by)
    return quote


def _refuse_unready(worked: WorkedQuote) -> None:
    stops = tuple(finding for finding in worked.estimate.findings if finding.level == "stop")
    sentences = [say(finding.headline) for finding in stops]
    price = worked.estimate.price
    if price.price < price.floor_price and not worked.quote.below_floor_reason:
        sentences.append("The price is below this shop’s floor. Raise the margin, or say who agreed and why.")
    if worked.quote.valid_until < worked.on:
        sentences.append("The price would hold until a day gone by. Choose a later day.")
    if sentences:
        raise NotReadyToSend(sentences, stops)
