"""Sending: the quote's figures, words and papers are fixed, once, and stay."""

import hashlib
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile
from estimating.engine.result_file import estimate_as_dict
from estimating.quotes.documents.checks import findings_of, is_below_floor, limits_not_kept
from estimating.quotes.documents.comparing import Changes, what_changed
from estimating.quotes.documents.customer_words import paper_words
from estimating.quotes.documents.paper import customer_paper
from estimating.quotes.documents.payments import rule_as_dict, said_payments
from estimating.quotes.documents.shop_paper import shop_paper
from estimating.quotes.documents.speech import say
from estimating.quotes.documents.worked import WorkedQuote
from estimating.quotes.models import Quote, QuoteState

from .drafting import JobIsSigned
from .holding import held_quote
from .working import work_out


@dataclass(frozen=True, slots=True)
class Papers:
    """The two PDFs of a quote, and what it says it changed."""

    customer: bytes
    shop: bytes
    changes: Changes


class NotReadyToSend(Exception):
    """Something must be settled first. `sentences` say what; `fields` say what at a box of the quote itself."""

    def __init__(self, sentences: list[str], fields: dict[str, str]):
        super().__init__(" ".join([*sentences, *fields.values()]))
        self.sentences = sentences
        self.fields = fields


class NotAsSeen(Exception):
    """The figures are no longer those that were looked at; nothing was sent. `worked` is how they stand."""

    def __init__(self, worked: WorkedQuote):
        super().__init__(str(worked.quote))
        self.worked = worked


def send_quote(quote: Quote, *, seen_version: int, by: Staff, on: date, seen_mark: str | None = None) -> Quote:
    """Freeze the quote: figures, words and PDF bytes. A second press finds it sent and changes nothing.

    The papers are made before the transaction, so that nobody waits for them; if the draft changed meanwhile nothing
    is sent. `seen_mark` is the mark of the figures somebody looked at. Raises NotReadyToSend, NotAsSeen,
    ChangedMeanwhile, JobIsSigned, SpecFaults.
    """
    quote = Quote.objects.select_related("job").get(pk=quote.pk)
    if not quote.is_draft:
        return quote
    if quote.version != seen_version:
        raise ChangedMeanwhile(quote, seen_version, {})
    worked = work_out(quote, on=on)
    if seen_mark is not None and seen_mark != worked.mark:
        raise NotAsSeen(worked)
    _refuse_unready(worked)
    changes = changes_so_far(worked)
    papers = Papers(
        customer=customer_paper(worked, changes=changes.customer, by=by),
        shop=shop_paper(worked, changes=changes.shop, by=by),
        changes=changes,
    )
    return _freeze(worked, papers, by=by)


def changes_so_far(worked: WorkedQuote) -> Changes:
    """What this draft changes against the quote sent before it; nothing for the first."""
    before = Quote.objects.sent().filter(job=worked.quote.job).order_by("pk").last()
    return what_changed(before, worked) if before else Changes()


@transaction.atomic
def _freeze(worked: WorkedQuote, papers: Papers, *, by: Staff) -> Quote:
    seen = worked.quote
    held = held_quote(seen)
    if not held.is_draft:
        return held
    signed = Quote.objects.filter(job=held.job, state=QuoteState.ACCEPTED).first()
    if signed:
        raise JobIsSigned(signed)
    # First the job: its spec is frozen before the quote is, the way a spec is saved before its quote follows it.
    held.job.quote_was_sent(held, by=by)
    unchanged = Quote.objects.drafts().filter(pk=held.pk, version=seen.version, spec_version=seen.spec_version)
    if not unchanged.update(**_fixed(worked, papers, by=by)):
        raise ChangedMeanwhile(Quote.objects.get(pk=held.pk), seen.version, {})
    for option in worked.options:
        option.option.amount, option.option.special_order = option.amount, option.special_order
        option.option.save(update_fields=["amount", "special_order"])
    held.refresh_from_db()
    earlier = Quote.objects.filter(job=held.job, state=QuoteState.SENT).exclude(pk=held.pk)
    earlier.update(state=QuoteState.REPLACED)
    log_change(held, did="sent", by=by, after={"total": held.total, "version": held.version, **_floor(worked)})
    return held


def _fixed(worked: WorkedQuote, papers: Papers, *, by: Staff) -> dict[str, Any]:
    return {
        "state": QuoteState.SENT,
        "version": worked.quote.version + 1,
        "sent_at": timezone.now(),
        "sent_by": by,
        "figures": estimate_as_dict(worked.estimate),
        "paper_words": paper_words(worked),
        "payment_rule": rule_as_dict(worked),
        "payments": said_payments(worked.estimate.price.payments),
        "total": worked.total,
        "customer_pdf": papers.customer,
        "shop_pdf": papers.shop,
        "customer_pdf_sha256": hashlib.sha256(papers.customer).hexdigest(),
        "shop_pdf_sha256": hashlib.sha256(papers.shop).hexdigest(),
        "what_changed": {"customer": papers.changes.customer, "shop": papers.changes.shop},
    }


def _floor(worked: WorkedQuote) -> dict[str, Any]:
    """Who agreed to a price below the floor, for the log."""
    if not is_below_floor(worked):
        return {}
    price, quote = worked.estimate.price, worked.quote
    return {
        "below_floor": {
            "price": str(price.price),
            "floor": str(price.floor_price),
            "agreed_by": quote.below_floor_by.name,
            "reason": quote.below_floor_reason,
        }
    }


def _refuse_unready(worked: WorkedQuote) -> None:
    sentences = [say(finding.headline) for finding in findings_of(worked) if finding.level == "stop"]
    for finding in limits_not_kept(worked):
        sentences.append(f"{say(finding.headline)} Change the spec, or keep the Check there and say why.")
    fields = {}
    if is_below_floor(worked) and not worked.quote.below_floor_by:
        fields["below_floor_by"] = "The price is below this shop’s floor. Raise the margin, or name who agreed."
    if is_below_floor(worked) and not worked.quote.below_floor_reason:
        fields["below_floor_reason"] = "Say why this price is below the floor."
    if worked.quote.valid_until < worked.on:
        fields["valid_until"] = "The price would hold until a day gone by. Choose a later day."
    if sentences or fields:
        raise NotReadyToSend(sentences, fields)
