"""What should be looked at before a quote goes out: what the engine found, and what only the quote can know."""

from collections.abc import Iterator
from decimal import Decimal

from contractor.money import format_money
from estimating.engine.reasons import Finding, Sentence
from estimating.quotes.models import OptionKind, TaxMode

from . import words
from .speech import day_said, say
from .worked import WorkedQuote


def findings_of(worked: WorkedQuote) -> tuple[Finding, ...]:
    """What the authorities have against the dock, the engine's findings, and the quote's own."""
    own = (*_certificate(worked), *_options(worked), *_lowest(worked), *_typed_over(worked))
    return (*worked.facts.against(worked.estimate.design), *worked.estimate.findings, *own)


def limits_not_kept(worked: WorkedQuote) -> list[Finding]:
    """Limits of authorities that the dock breaks, and nobody wrote down why it may."""
    found = worked.facts.against(worked.estimate.design)
    return [one for one in found if one.code == "over_limit" and one.key not in worked.facts.kept_checks]


def is_below_floor(worked: WorkedQuote) -> bool:
    return worked.estimate.price.price < worked.estimate.price.floor_price


def _certificate(worked: WorkedQuote) -> Iterator[Finding]:
    """An exempt customer whose certificate ends before the price does. That there is none the engine has said."""
    facts, quote = worked.facts, worked.quote
    if quote.tax_mode != TaxMode.EXEMPT or not facts.tax_exempt_certificate:
        return
    until = facts.tax_exempt_until
    if until is None:
        headline = f"Nobody wrote down how long certificate {facts.tax_exempt_certificate} holds."
        yield _finding("check", headline, "Write its last day on the client.", "certificate_undated")
    elif until < worked.on:
        headline = f"Certificate {facts.tax_exempt_certificate} ran out on {day_said(until)}."
        yield _finding("stop", headline, "Write the new one on the client, or choose another tax.", "certificate_old")
    elif until < quote.valid_until:
        headline = f"Certificate {facts.tax_exempt_certificate} ends on {day_said(until)}, before this price does."
        yield _finding("check", headline, "Ask for the new one, or let the price end sooner.", "certificate_ends")


def _options(worked: WorkedQuote) -> Iterator[Finding]:
    known = set(worked.estimate.findings)
    for one in worked.options:
        name = one.option.name
        yield from (_about(name, "stop", say(fault.message), "option_cannot_be") for fault in one.faults)
        if one.faults or one.estimate is None:
            continue
        if one.option.kind == OptionKind.SWAP and one.estimate.design == worked.estimate.design:
            said = "the dock no longer has what it takes the place of. Choose again, or take it out."
            yield _about(name, "stop", said, "option_changes_nothing")
        for found in one.estimate.findings:
            if found not in known and found.level != "note" and found.code not in ALREADY_SAID:
                yield _about(name, found.level, say(found.headline), found.code, say(found.cure))


# Said once for the whole quote; an option only says it in other figures.
ALREADY_SAID = {"starter_price", "below_floor", "special_order_deposit"}


def _lowest(worked: WorkedQuote) -> Iterator[Finding]:
    """The least the customer could choose to pay."""
    least = worked.total + sum(
        (min(Decimal(0), *(one.amount for one in group.options)) for group in worked.groups), Decimal(0)
    )
    if worked.total > 0 >= least:
        headline = f"With every option that lowers it, the price comes to {format_money(least)}."
        yield _finding("stop", headline, "Look at the amounts below zero.", "nothing_to_pay")


def _typed_over(worked: WorkedQuote) -> Iterator[Finding]:
    """Words typed over what the spec says do not follow it when it changes."""
    quote = worked.quote
    pairs = (
        ("What we build", quote.scope, [words.scope_words(worked.estimate.design)]),
        ("What they get", quote.inclusions, words.inclusion_lines(worked.estimate.design, worked.catalogue)),
        ("What we assumed", quote.assumptions, list(worked.facts.assumptions)),
    )
    for label, typed, said in pairs:
        if typed.strip() and words.lines(typed) != said:
            headline = f"“{label}” is typed and does not follow the spec."
            yield _finding("note", headline, f"The spec says: {' / '.join(said)}", "typed_over")


def _about(option: str, level: str, said: str, code: str, cure: str = "") -> Finding:
    return _finding(level, f"Option “{option}”: {said}", cure, code)


def _finding(level: str, headline: str, cure: str, code: str) -> Finding:
    return Finding(level, Sentence("{0}", (headline,)), Sentence("{0}", (cure,)), "", "FIRM", code)
