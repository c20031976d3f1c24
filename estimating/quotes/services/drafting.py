"""A quote before it is sent: drafted from a spec, brought along when the spec changes, its terms and options set."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from contractor.company.current import firm
from contractor.company.journal import log_change, log_made
from contractor.company.letters import revision_letter
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from estimating.catalogue.services import firm_rules
from estimating.quotes.documents.words import starting_words
from estimating.quotes.facts import QuotedJob
from estimating.quotes.models import Quote, QuoteOption, QuoteState, TaxMode, offered_words

from .holding import held_quote, hold_job

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
# Typed over what the spec says: carried on only while the spec is the same.
ABOUT_THE_DOCK = ("scope", "inclusions", "assumptions")
OPTION_FACTS = ("name", "words", "kind", "change", "typed_amount")


class QuoteFrozen(Exception):
    """The quote was sent and stays as it is; a change makes the next revision."""


class DraftExists(Exception):
    """The job already has a quote to go on with: one that was not sent; `quote` is that one."""

    def __init__(self, quote: Quote):
        super().__init__(str(quote))
        self.quote = quote


class JobIsSigned(DraftExists):
    """The job's quote was accepted: from there on a change is a change order. `quote` is the accepted one."""


@transaction.atomic
def draft_quote(job: QuotedJob, *, spec_letter: str, spec_document: Mapping[str, Any], by: Staff, on: date) -> Quote:
    """The job's next quote, not sent yet, with the firm's own terms or those of the quote before.

    Raises DraftExists when one is being written already (also when two people press at once), JobIsSigned when one
    was accepted.
    """
    hold_job(job)
    standing = list(Quote.objects.filter(job=job).order_by("pk"))
    _refuse_another(standing)
    last = standing[-1] if standing else None
    quote = Quote(
        job=job,
        letter=revision_letter(len(standing) + 1),
        spec_letter=spec_letter,
        spec_document=spec_document,
        created_by=by,
        **_terms(job, last, spec_document, on=on),
    )
    quote.full_clean()
    quote.save()
    if last:
        _carry_options(last, quote)
    log_made(quote, by=by, facts={"letter": quote.letter, "spec": spec_letter})
    return quote


@transaction.atomic
def follow_spec(
    job: QuotedJob, *, spec_letter: str, spec_document: Mapping[str, Any], by: Staff | None
) -> Quote | None:
    """Bring the job's unsent quote to the spec as it is now. None when there is no unsent quote.

    What is typed on the quote keeps its version: whoever is typing is not overtaken, and sends only what they saw.
    """
    quote = Quote.objects.select_for_update().drafts().filter(job=job).first()
    if quote is None or (quote.spec_letter, quote.spec_document) == (spec_letter, spec_document):
        return quote
    quote.spec_letter, quote.spec_document = spec_letter, dict(spec_document)
    quote.spec_version += 1
    quote.save(update_fields=["spec_letter", "spec_document", "spec_version"])
    log_change(quote, did="followed the spec", by=by, after={"spec": spec_letter})
    return quote


@transaction.atomic
def save_draft(
    quote: Quote,
    *,
    seen_version: int,
    changes: Mapping[str, Any],
    options: Sequence[Mapping[str, Any]] | None,
    by: Staff,
) -> Quote:
    """Change a draft's terms and words, and replace its options by these, in order; None leaves them as they are.

    Raises QuoteFrozen, ChangedMeanwhile, ValidationError.
    """
    held = held_quote(quote)
    if not held.is_draft:
        raise QuoteFrozen(str(held))
    if held.version != seen_version:
        offered = {} if options is None else {"offered": offered_words(options)}
        raise ChangedMeanwhile(held, seen_version, {**changes, **offered})
    saved = save_if_unchanged(held, seen_version, changes, by=by)
    return saved if options is None else _replace_options(saved, options, by=by)


@transaction.atomic
def drop_draft(quote: Quote, *, seen_version: int, by: Staff) -> None:
    """Throw away a quote nobody has been sent. Its letter is free for the next one.

    Raises QuoteFrozen, ChangedMeanwhile.
    """
    held = held_quote(quote)
    if not held.is_draft:
        raise QuoteFrozen(str(held))
    if held.version != seen_version:
        raise ChangedMeanwhile(held, seen_version, {})
    log_change(held, did="dropped", by=by, before={"letter": held.letter})
    held.delete()


def _refuse_another(standing: Sequence[Quote]) -> None:
    for quote in standing:
        if quote.is_draft:
            raise DraftExists(quote)
        if quote.state == QuoteState.ACCEPTED:
            raise JobIsSigned(quote)


def _replace_options(quote: Quote, options: Sequence[Mapping[str, Any]], *, by: Staff) -> Quote:
    before = list(quote.options.all())
    after = [QuoteOption(quote=quote, position=place, **facts) for place, facts in enumerate(options, start=1)]
    if [_facts(option) for option in before] == [_facts(option) for option in after]:
        return quote
    quote.options.all().delete()
    for option in after:
        option.full_clean()
        option.save()
    quote.version += 1
    quote.save(update_fields=["version"])
    said = {"offered": offered_words(map(_facts, after)), "version": quote.version}
    log_change(quote, did="changed", by=by, before={"offered": offered_words(map(_facts, before))}, after=said)
    return quote


def _facts(option: QuoteOption) -> dict[str, Any]:
    return {name: getattr(option, name) for name in OPTION_FACTS}


def _terms(job: QuotedJob, last: Quote | None, document: Mapping[str, Any], *, on: date) -> dict[str, Any]:
    company, rules, facts = firm(), firm_rules(on=on), job.quote_facts()
    terms = {
        "margin_percent": rules.margin_percent,
        "rounding_step": rules.rounding_step,
        "tax_mode": TaxMode.EXEMPT if facts.tax_exempt_certificate else rules.tax.mode,
        "valid_until": on + timedelta(days=company.quote_valid_days),
        **starting_words(facts, company, document),
    }
    if last is None:
        return terms
    carried = CARRIED + (ABOUT_THE_DOCK if last.spec_document == document else ())
    return {**terms, **{name: getattr(last, name) for name in carried}}


def _carry_options(last: Quote, quote: Quote) -> None:
    for option in last.options.all():
        QuoteOption.objects.create(quote=quote, position=option.position, **_facts(option))
