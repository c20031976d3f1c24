"""What is doubtful about the prices a takeoff rests on, and where in the spec the item was chosen."""

from collections.abc import Iterator, Sequence
from datetime import date

from .parts import Catalogue, Lumber, Price
from .reasons import Amount, Finding, Sentence
from .result import TakeoffLine
from .spec import DockSpec


def price_findings(
    bought: Sequence[tuple[TakeoffLine, Price | None]], catalogue: Catalogue, spec: DockSpec
) -> Iterator[Finding]:
    """One finding for each item whose price is missing, foreign, expired or old, and one for all starter prices."""
    seen: set[tuple[str, str]] = set()
    for line, price in bought:
        finding = _doubt(line, price, catalogue, spec)
        if finding and (line.code, finding.code) not in seen:
            seen.add((line.code, finding.code))
            yield finding
    starters = {line.code for line, price in bought if price and price.starter and price.currency == catalogue.currency}
    if starters:
        headline = "{0} of {1} items stand at a starter price."
        counts = (Amount(len(starters), "count"), Amount(len({line.code for line, _ in bought}), "count"))
        cure = Sentence("Put your own prices in the catalogue before the quote goes out.")
        yield Finding("check", Sentence(headline, counts), cure, code="starter_price", source="FIRM")


def _doubt(line: TakeoffLine, price: Price | None, catalogue: Catalogue, spec: DockSpec) -> Finding | None:
    name, field = _named(line), field_of(spec, line.code)
    if price is None:
        cure = Sentence("Put a price on it in the catalogue, or choose another item.")
        return Finding("stop", Sentence("{0} has no price.", (name,)), cure, field, "FIRM", "no_price")
    if price.currency != catalogue.currency:
        headline = Sentence("{0} is priced in {1}; this quote is in {2}.", (name, price.currency, catalogue.currency))
        cure = Sentence("Enter its price in {0}. Nothing is converted.", (catalogue.currency,))
        return Finding("stop", headline, cure, field, "FIRM", "other_currency")
    if price.valid_until and price.valid_until < catalogue.on:
        headline = Sentence("The price of {0} ran out on {1}.", (name, day_words(price.valid_until)))
        return Finding("check", headline, Sentence("Ask for a new one."), field, "FIRM", "expired_price")
    return None if price.starter else _stale(name, field, price, catalogue)


def _stale(name: str, field: str, price: Price, catalogue: Catalogue) -> Finding | None:
    days = (catalogue.on - price.dated).days
    if days <= catalogue.stale_after_days:
        return None
    headline = Sentence("The price of {0} is {1} days old.", (name, Amount(days, "count")))
    return Finding("check", headline, Sentence("Ask whether it still holds."), field, "FIRM", "stale_price")


def _named(line: TakeoffLine) -> str:
    return f"{line.name}, {line.pack}" if line.pack.endswith("stick") else line.name


def day_words(day: date) -> str:
    """A date with its month as a word.

    >>> day_words(date(2026, 5, 7))
    '7 May 2026'
    """
    return f"{day.day} {day:%B} {day.year}"


def no_stick_long_enough(spec: DockSpec, item: Lumber, cut: tuple[str, float]) -> Finding:
    """A piece longer than every stock length of its item."""
    mark, length_in = cut
    longest = max(stick.length_in + item.trusted_over_in for stick in item.sticks)
    headline = Sentence(
        "{0} is {1} long; {2} comes no longer than {3}.",
        (mark, Amount(length_in, "in"), item.name, Amount(longest, "in")),
    )
    cure = Sentence("Make the section shorter, or choose lumber sold in longer sticks.")
    return Finding("stop", headline, cure, field_of(spec, item.code), "GEOMETRY", "no_stick_long_enough")


def not_in_catalogue(code: str) -> Finding:
    """A joint rule or a fixing that asks for something nobody listed."""
    headline = Sentence("“{0}” is asked for but is not in the catalogue: it is not in the price.", (code,))
    cure = Sentence("Add the item, or take it out of the joint rule or fixing.")
    return Finding("stop", headline, cure, "", "FIRM_JOINTS", "not_in_catalogue")


def field_of(spec: DockSpec, code: str) -> str:
    """The path of the first place in the spec where this item is chosen, or nothing.

    The design step has filled in the standing choices, so a path may name a field the estimator left open.
    """
    return next((path for path, chosen in _choices(spec) if chosen == code), "")


def _choices(spec: DockSpec) -> Iterator[tuple[str, str | None]]:
    for i, section in enumerate(spec.sections):
        framing, path = section.framing, f"sections[{i}]"
        yield f"{path}.framing.stringer", framing.stringer
        yield f"{path}.framing.header", framing.header
        yield f"{path}.framing.cross_member", framing.cross_member
        yield f"{path}.decking.board", section.decking.board
        yield f"{path}.flotation.item", section.flotation.item
        for k, placed in enumerate(section.flotation.placed):
            yield f"{path}.flotation.placed[{k}].item", placed.item
    if spec.ramp:
        yield "ramp.bought_item", spec.ramp.bought_item
    for i, anchor in enumerate(spec.anchors):
        yield f"anchors[{i}].item", anchor.item
        yield f"anchors[{i}].chain", anchor.chain
    for i, accessory in enumerate(spec.accessories):
        yield f"accessories[{i}].item", accessory.item
