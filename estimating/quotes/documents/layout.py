"""Which part of the customer's paper stands on which page."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from . import fitting
from .customer_words import offered_groups
from .fitting import Block, FirstPage, Row, Sheet, list_block, rows_block, text_block
from .letterhead import Letterhead
from .levels import LevelColumn
from .promises import price_rows, tax_rows
from .worked import OptionWorked, WorkedQuote

SIGNATURE_PX, ACCEPTED_PX = 58.2, 60.0
PRICE_PX = 72.0  # its heading and its sum
PEOPLE_PX, CROWD_WIDE_PX, CROWD_TALL_PX = 68.0, 230.0, 148.0
SPARE_PX = 8.0
OPTIONS_NOTE = "Each changes the price by the amount beside it; the payments change in the same shares."
WRITE_IN = ("Price with what you tick", " ")


@dataclass(frozen=True, slots=True)
class Copy:
    """What the customer reads, before it has pages."""

    worked: WorkedQuote
    head: Letterhead
    words: dict[str, Any]
    columns: Sequence[LevelColumn]
    changes: Sequence[str]


@dataclass(frozen=True, slots=True)
class Layout:
    """Rows of parts by page. A long quote has its terms on page two, and on the last its price with the signatures.

    `people` says where the limit stands: "first", "terms" or "price"; `has_crowd` whether its picture has room there.
    `air_px` goes above and below the drawing.
    """

    first: FirstPage
    air_px: int
    terms: list[Row]
    price: list[Row]
    is_long: bool
    people: str
    has_crowd: bool = True
    options_note: str = OPTIONS_NOTE


def first_page(copy: Copy, room: Sheet) -> FirstPage:
    """Everything on page one but the drawing, which may take what is left."""
    return fitting.first_page(_content(copy), room)


def lay_out(copy: Copy, first: FirstPage, room: Sheet, *, drawn_px: float) -> Layout:
    """A short quote has everything after page one on page two; what does not fit there makes it a long one."""
    left, people_px = first.drawing_px - drawn_px, _people_px(copy, room)
    on_first = left > people_px
    air = max(0, round((left - people_px * on_first) / 2))
    options, pay, cancel = _price_blocks(copy.worked, room)
    exclusions, assumptions, when, agreed = _term_blocks(copy, room)
    short = [*options, pay, exclusions, assumptions, when, agreed, *cancel]
    if not options:
        short = [pay, when, exclusions, assumptions, agreed, *cancel]
    together = fitting.in_rows([block for block in short if block], room)
    moved, fixed = _moved_px(copy, first, room), _price_px(copy, room) + _signatures_px(copy)
    taken, place = moved + fixed + _height(together), "first" if on_first else "price"
    for people, has_crowd in ((people_px, True), (_people_px(copy, room, has_crowd=False), False)):
        if taken + people * (not on_first) <= room.height_px:
            return Layout(first, air, [], together, is_long=False, people=place, has_crowd=on_first or has_crowd)
    terms = fitting.in_rows([block for block in (exclusions, assumptions, when, agreed) if block], room)
    price = fitting.in_rows([*options, pay, *cancel], room)
    with_terms = moved + _height(terms) + people_px <= room.height_px
    place = "first" if on_first else "terms" if with_terms else "price"
    return Layout(first, air, terms, price, is_long=True, people=place)


def _height(rows: Sequence[Row]) -> float:
    return sum(row.height_px for row in rows)


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


def _price_blocks(worked: WorkedQuote, room: Sheet) -> tuple[list[Block], Block, list[Block]]:
    quote, options = worked.quote, []
    if worked.options:
        rows = [(one.option.name, *_below(one)) for one in worked.options]
        small = [instead for instead, _ in offered_groups(worked) if instead]
        options = [rows_block("options", [*rows, WRITE_IN], [*small, OPTIONS_NOTE], room)]
    pay = rows_block("pay", [(one.trigger,) for one in worked.estimate.price.payments] + [("Together",)], (), room)
    cancel = [text_block("cancel", quote.cancellation, room)] if quote.cancellation.strip() else []
    return options, pay, cancel


def _below(one: OptionWorked) -> list[str]:
    """What stands in small below an option: its words on the left, what the price then is on the right."""
    return [one.option.words or "then"] if one.option.words or one.option.instead_of else []


def _term_blocks(copy: Copy, room: Sheet) -> tuple[Block | None, ...]:
    quote, words = copy.worked.quote, copy.words
    when = "\n".join(part for part in (quote.timing, copy.worked.facts.permit_words) if part.strip())
    return (
        list_block("exclusions", words["exclusions"], room) if words["exclusions"] else None,
        list_block("assumptions", words["assumptions"], room) if words["assumptions"] else None,
        text_block("when", when, room) if when else None,
        text_block("agreed", quote.changes_text, room) if quote.changes_text.strip() else None,
    )


def _moved_px(copy: Copy, first: FirstPage, room: Sheet) -> float:
    """What found no room on page one."""
    inclusions = 0 if first.has_inclusions else fitting.inclusions_px(copy.words["inclusions"], room)
    changes = 0 if first.has_changes else list_block("changes", copy.changes, room).half_px
    return inclusions + changes


def _price_px(copy: Copy, room: Sheet) -> float:
    names = [name for name, _ in (*price_rows(copy.worked), *tax_rows(copy.worked))]
    names += [copy.words["tax_line"]] if copy.words["tax_line"] else []
    return PRICE_PX + sum(fitting.ROW_PX + fitting.text_px(name, room.width_px - 100) for name in names)


def _people_px(copy: Copy, room: Sheet, *, has_crowd: bool = True) -> float:
    """The limit in words, a small picture of the dock to their right."""
    beside = CROWD_WIDE_PX if has_crowd else 0.0
    words = PEOPLE_PX + fitting.text_px(copy.words["people"], room.width_px - 30 - beside)
    return max(words, CROWD_TALL_PX) if has_crowd else words


def _signatures_px(copy: Copy) -> float:
    return ACCEPTED_PX + ceil((len(copy.worked.facts.signers) + 2) / 2) * SIGNATURE_PX + SPARE_PX
