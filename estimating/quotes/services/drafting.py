"""A quote before it is sent: drafted from a spec, brought along when the spec changes, its terms and options set."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from django.db import IntegrityError, transaction

from contractor.company.current import firm
from contractor.company.journal import log_change, log_made
from contractor.company.letters import revision_letter
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from estimating.catalogue.services import firm_rules
from estimating.quotes.documents.words import starting_words
from estimating.quotes.facts import QuotedJob
from estimating.quotes.models import Quote, QuoteOption, QuoteState

CARRIED = (
    "margin_percent",
    "rounding_step",
    "tax_mode",
    "tax_reason",
    "title",
    "exclusions",
    "timing",
    "changes_text",
    "cancellation",
)
OPTION_FACTS = ("name", "words", "kind", "change", "typed_amount")


class QuoteFrozen(Exception):
    """The quote was sent and stays as it is; a change makes the next revision."""


class DraftExists(Exception):
    """The job already has a quote that was not sent; `quote` is that one."""

    def __init__(self, quote: Quote):
        super().__init__(str(quote))
        self.quote = quote


@transaction.atomic
def draft_quote(job: QuotedJob, *, spec_letter: str, spec_document: Mapping[str, Any], by: Staff, on: date) -> Quote:
    """The job's next quote, not sent yet, with the firm's own terms or those of the quote before.

    Raises DraftExists when one is being written already (also when two people press at once).
    """
    standing = list(Quote.objects.select_for_update().filter(job=job).order_by("pk"))
    draft = next((quote for quote in standing if quote.is_draft), None)
    if draft:
        raise DraftExists(draft)
    quote = Quote(
        job=job,
        letter=revision_letter(len(standing) + 1),
        spec_letter=spec_letter,
        spec_document=spec_document,
        created_by=by,
        **_terms(job, standing[-1] if standing else None, spec_document, on=on),
    )
    quote.full_clean()
    try:
        with transaction.atomic():
            quote.save()
    except IntegrityError as twice:
        raise DraftExists(Quote.objects.drafts().get(job=job)) from twice
    if standing:
        _carry_options(standing[-1], quote)
    log_made(quote, by=by, facts={"letter": quote.letter, "spec": spec_letter})
    return quote


@transaction.atomic
def follow_spec(
    job: QuotedJob, *, spec_letter: str, spec_document: Mapping[str, Any], by: Staff | None
) -> Quote | None:
    """Bring the job's unsent quote to the spec as it is now. None when there is no unsent quote."""
    quote = Quote.objects.select_for_update().drafts().filter(job=job).first()
    if quote is None or (quote.spec_letter, quote.spec_document) == (spec_letter, spec_document):
        return quote
    quote.spec_letter, quote.spec_document = spec_letter, dict(spec_document)
    quote.version += 1
    quote.save(update_fields=["spec_letter", "spec_document", "version"])
    log_change(quote, did="followed the spec", by=by, after={"spec": spec_letter, "version": quote.version})
    return quote


@transaction.atomic
def save_draft(
    quote: Quote, *, seen_version: int, changes: Mapping[str, Any], options: Sequence[Mapping[str, Any]], by: Staff
) -> Quote:
    """Change a draft's terms and words, and replace its options by these, in order.

    Raises QuoteFrozen, ChangedMeanwhile, ValidationError.
    """
    _refuse_frozen(quote)
    saved = save_if_unchanged(quote, seen_version, changes, by=by)
    return _replace_options(saved, options, by=by)


@transaction.atomic
def drop_draft(quote: Quote, *, seen_version: int, by: Staff) -> None:
    """Throw away a quote nobody has been sent. Its letter is free for the next one. Raises QuoteFrozen."""
    _refuse_frozen(quote)
    log_change(quote, did="dropped", by=by, before={"letter": quote.letter})
    gone, _ = Quote.objects.drafts().filter(pk=quote.pk, version=seen_version).delete()
    if not gone:
        raise ChangedMeanwhile(Quote.objects.get(pk=quote.pk), seen_version, {})


def _refuse_frozen(quote: Quote) -> None:
    state = Quote.objects.select_for_update().values_list("state", flat=True).get(pk=quote.pk)
    if state != QuoteState.DRAFT:
        raise QuoteFrozen(str(quote))


def _replace_options(quote: Quote, options: Sequence[Mapping[str, Any]], *, by: Staff) -> Quote:
    before = [{name: getattr(option, name) for name in OPTION_FACTS} for option in quote.options.all()]
    after = [{name: facts.get(name) for name in OPTION_FACTS} for facts in options]
    if before == after:
        return quote
    quote.options.all().delete()
    for position, facts in enumerate(after, start=1):
        option = QuoteOption(quote=quote, position=position, **facts)
        option.full_clean()
        option.save()
    quote.version += 1
    quote.save(update_fields=["version"])
    names = {"options": [option["name"] for option in after], "version": quote.version}
    log_change(quote, did="changed", by=by, before={"options": [option["name"] for option in before]}, after=names)
    return quote


def _terms(job: QuotedJob, last: Quote | None, document: Mapping[str, Any], *, on: date) -> dict[str, Any]:
    company, rules = firm(), firm_rules(on=on)
    terms = {
        "margin_percent": rules.margin_percent,
        "rounding_step": rules.rounding_step,
        "tax_mode": "exempt" if job.quote_facts().tax_exempt_certificate else rules.tax.mode,
        "valid_until": on + timedelta(days=company.quote_valid_days),
        **starting_words(job.quote_facts(), company, document),
    }
    if last:
        terms |= {name: getattr(last, name) for name in CARRIED}
    return terms


def _carry_options(last: Quote, quote: Quote) -> None:
    for option in last.options.all():
        kept = {name: getattr(option, name) for name in OPTION_FACTS}
        QuoteOption.objects.create(quote=quote, position=option.position, **kept)
