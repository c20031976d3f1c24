"""What a revision changes against the quote sent before it, and by how much: for the customer, and for the shop."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from contractor.money import format_money
from estimating.quotes.models import Quote, TaxMode

from .customer_words import paper_words
from .speech import day_said, inside, length, listed
from .worked import WorkedQuote


@dataclass(frozen=True, slots=True)
class Changes:
    """Sentences. The shop's are the customer's and what they cost."""

    customer: list[str] = field(default_factory=list)
    shop: list[str] = field(default_factory=list)


def what_changed(before: Quote, worked: WorkedQuote) -> Changes:
    """The price first, then the dock, then the words and the options."""
    customer = [
        *_price(before, worked),
        *_sections(before, worked),
        *_words(before.paper_words, paper_words(worked)),
        *_terms(before, worked),
        *_options(before, worked),
    ]
    return Changes(customer, [*customer, *_costs(before, worked)])


def _price(before: Quote, worked: WorkedQuote) -> list[str]:
    return [_moved("The price", before.total or Decimal(0), worked.total)]


def _moved(what: str, was: Decimal, now: Decimal) -> str:
    """
    >>> _moved("The price", Decimal("6750"), Decimal("6990"))
    'The price was 6,750.00 and is 6,990.00: 240.00 more.'
    """
    if now == was:
        return f"{what} stays {format_money(now)}."
    more = "more" if now > was else "less"
    return f"{what} was {format_money(was)} and is {format_money(now)}: {format_money(abs(now - was))} {more}."


def _sections(before: Quote, worked: WorkedQuote) -> list[str]:
    old = {section["mark"]: section for section in (before.figures or {})["spec"]["sections"]}
    new = {section.mark: section for section in worked.estimate.design.spec.sections}
    said = [f"Section {mark} is left out." for mark in old if mark not in new]
    for mark, section in new.items():
        size = _size(section.width_in, section.length_in)
        if mark not in old:
            said.append(f"Section {mark} is added, {size}.")
        elif (was := _size(old[mark]["width_in"], old[mark]["length_in"])) != size:
            said.append(f"Section {mark} was {was} and is {size}.")
    return said


def _size(width_in: float, length_in: float) -> str:
    return f"{length(width_in)} × {length(length_in)}"


def _words(old: dict[str, Any], new: dict[str, Any]) -> list[str]:
    """Lines that came and went, under the heading they stand under on the paper."""
    headings = (("inclusions", "What you get"), ("exclusions", "Not in the price"), ("assumptions", "What we assumed"))
    return [
        said for name, heading in headings for said in _came_and_went(heading, old.get(name, []), new.get(name, []))
    ]


def _came_and_went(heading: str, old: list[str], new: list[str]) -> Iterable[str]:
    gone, come = [line for line in old if line not in new], [line for line in new if line not in old]
    if gone:
        yield f"{heading}, no longer: {_run(gone)}."
    if come:
        yield f"{heading}, new: {_run(come)}."


def _run(lines: list[str]) -> str:
    return "; ".join(inside(line.rstrip(".")) for line in lines)


def _terms(before: Quote, worked: WorkedQuote) -> list[str]:
    quote, said = worked.quote, []
    if before.tax_mode != quote.tax_mode:
        said.append(f"Tax: {inside(TaxMode(quote.tax_mode).label)}.")
    if before.valid_until != quote.valid_until:
        said.append(f"The price now holds until {day_said(quote.valid_until)}.")
    texts = (("When", "timing"), ("Changes and warranty", "changes_text"), ("If you change your mind", "cancellation"))
    changed = [label for label, name in texts if getattr(before, name) != getattr(quote, name)]
    if changed:
        said.append(f"Written anew: {listed(changed)}.")
    return said


def _options(before: Quote, worked: WorkedQuote) -> list[str]:
    old = {option.name: option.amount for option in before.options.all()}
    new = {one.option.name: one.amount for one in worked.options}
    said = [f"Option no longer offered: {name}." for name in old if name not in new]
    for name, amount in new.items():
        if name not in old:
            said.append(f"New option: {name}, {_signed(amount)}.")
        elif old[name] != amount:
            said.append(f"Option {name}: {_signed(old[name])} before, {_signed(amount)} now.")
    return said


def _signed(amount: Decimal) -> str:
    return f"{'+' if amount > 0 else ''}{format_money(amount)}"


LINES_OF_COST = ("materials", "labour", "direct", "break_even")


def _costs(before: Quote, worked: WorkedQuote) -> list[str]:
    """What moved inside the price: margin, hours, the lines of the build-up, the goods."""
    figures, price = before.figures or {}, worked.estimate.price
    was = {line["code"]: (line["name"], Decimal(line["amount"])) for line in figures["price"]["lines"]}
    now = {line.code: (line.name, line.amount) for line in price.lines}
    said = [
        _moved(now[code][0], was[code][1], now[code][1])
        for code in LINES_OF_COST
        if code in was and code in now and was[code][1] != now[code][1]
    ]
    hours, now_hours = Decimal(figures["hours"]["hours"]), worked.estimate.labour.hours
    if hours != now_hours:
        said.append(f"Hours: {hours:f} before, {now_hours:f} now.")
    if before.margin_percent != worked.quote.margin_percent:
        said.append(
            f"Margin on price: {before.margin_percent.normalize():f}% before, "
            f"{worked.quote.margin_percent.normalize():f}% now."
        )
    return [*said, *_goods(figures, worked)]


def _goods(figures: dict[str, Any], worked: WorkedQuote) -> list[str]:
    """Each item bought, by its cost in the two quotes."""
    old = _by_item((line["name"], Decimal(line["cost"])) for line in figures["takeoff"]["lines"])
    new = _by_item((line.name, line.cost) for line in worked.estimate.takeoff.lines)
    said = [f"No longer bought: {name}, {format_money(cost)}." for name, cost in old.items() if name not in new]
    said += [f"Newly bought: {name}, {format_money(cost)}." for name, cost in new.items() if name not in old]
    return said + [_moved(name, old[name], cost) for name, cost in new.items() if name in old and old[name] != cost]


def _by_item(costs: Iterable[tuple[str, Decimal]]) -> dict[str, Decimal]:
    sums: dict[str, Decimal] = {}
    for name, cost in costs:
        sums[name] = sums.get(name, Decimal(0)) + cost
    return sums
