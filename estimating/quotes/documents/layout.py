"""Which part of the customer's paper stands on which page."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from . import fitting
from .customer_words import offered_groups
from .fitting import Block, FirstPage, Row, list_block, rows_block, text_block
from .letterhead import Letterhead
from .levels import LevelColumn
from .promises import price_rows
from .worked import WorkedQuote

SIGNATURE_PX = 58.0
PRICE_PX = 95.0  # its heading and its sum
PEOPLE_PX = 72.0
ROW_PX = 30.0
OPTIONS_NOTE = "Each changes the price by the amount beside it; the payments change in the same shares."


@dataclass(frozen=True, slots=True)
class Layout:
    """Rows of parts by page. A long quote has its terms on page two, and on the last its price with the signatures."""

    width_px: float
    first: FirstPage
    terms: list[Row]
    price: list[Row]
    is_long: bool
    options_note: str = OPTIONS_NOTE


@dataclass(frozen=True, slots=True)
class Copy:
    """What the customer reads, before it has pages."""

    worked: WorkedQuote
    head: Letterhead
    words: dict[str, Any]
    columns: Sequence[LevelColumn]
    changes: Sequence[str]


def lay_out(copy: Copy, *, size: str) -> Layout:
    """A short quote has everything after page one on page two; what does not fit there makes it a long one."""
    room, worked, words = fitting.sheet(size), copy.worked, copy.words
    first = fitting.first_page(_content(copy), room)
    options, pay, cancel = _price_blocks(worked, room)
    exclusions, assumptions, when, agreed = _term_blocks(worked, words, room)
    money = [*options, pay, *cancel]
    short = [*options, pay, exclusions, assumptions, when, agreed, *cancel]
    if not options:
        short = [pay, when, exclusions, assumptions, agreed, *cancel]
    together = fitting.in_rows([block for block in short if block], room)
    height = _fixed_px(worked, words, room) + sum(row.height_px for row in together)
    height += 0 if first.has_inclusions else list_block("get", words["inclusions"], room).whole_px
    height += 0 if first.has_changes else list_block("changes", copy.changes, room).half_px
    if height <= room.height_px:
        return Layout(room.width_px, first, [], together, is_long=False)
    terms = [block for block in (exclusions, assumptions, when, agreed) if block]
    return Layout(room.width_px, first, fitting.in_rows(terms, room), fitting.in_rows(money, room), is_long=True)


def _content(copy: Copy) -> fitting.Content:
    worked, head, columns = copy.worked, copy.head, copy.columns
    has_ramp, has_depth = any(one.ramp for one in columns), any(one.under for one in columns)
    return fitting.Content(
        head_lines=len(head.lines),
        has_logo=bool(head.logo),
        title=worked.quote.title,
        signers=" and ".join(worked.facts.signers),
        billing=", ".join(worked.facts.billing_address),
        lead=copy.words["scope"],
        changes=copy.changes,
        level_rows=(1 + has_ramp + has_depth) if columns else 0,
        inclusions=copy.words["inclusions"],
    )


def _price_blocks(worked: WorkedQuote, room: fitting.Sheet) -> tuple[list[Block], Block, list[Block]]:
    quote, options = worked.quote, []
    if worked.options:
        rows = [(f"Instead of {name}, one of these:",) for name, _ in offered_groups(worked) if name]
        rows += [(one.option.name, *([one.option.words] if one.option.words else [])) for one in worked.options]
        options = [rows_block("options", [*rows, ("Price with what you tick",)], OPTIONS_NOTE, room)]
    pay = rows_block("pay", [(one.trigger,) for one in worked.estimate.price.payments] + [("Together",)], "", room)
    cancel = [text_block("cancel", quote.cancellation, room)] if quote.cancellation.strip() else []
    return options, pay, cancel


def _term_blocks(worked: WorkedQuote, words: dict[str, Any], room: fitting.Sheet) -> tuple[Block | None, ...]:
    quote = worked.quote
    when = "\n".join(part for part in (quote.timing, worked.facts.permit_words) if part.strip())
    return (
        list_block("exclusions", words["exclusions"], room) if words["exclusions"] else None,
        list_block("assumptions", words["assumptions"], room) if words["assumptions"] else None,
        text_block("when", when, room) if when else None,
        text_block("agreed", quote.changes_text, room) if quote.changes_text.strip() else None,
    )


def _fixed_px(worked: WorkedQuote, words: dict[str, Any], room: fitting.Sheet) -> float:
    """The price, the people and the signatures."""
    lines = len(price_rows(worked)) + max(1, len(worked.estimate.price.sales_taxes))
    signatures = ceil((len(worked.facts.signers) + 2) / 2) * SIGNATURE_PX + 66
    return PRICE_PX + lines * ROW_PX + PEOPLE_PX + fitting.text_px(words["people"], room.width_px - 30) + signatures
