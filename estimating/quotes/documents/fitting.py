"""How the customer's paper is laid out: the drawing takes what page one leaves, the price keeps its signatures.

Heights are CSS pixels of print.css and quote-paper.css, on the generous side: a line too many costs a little air,
a line too few a page.
"""

from collections.abc import Sequence
from dataclasses import dataclass

PX_PER_MM = 96 / 25.4
SIDES_MM, ENDS_MM = 26, 25
SHEET_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}

BODY_PX, SMALL_PX, LEAD_PX, TITLE_PX = 13.4, 12.0, 16.0, 26.7
LEADING, LEAD_LEADING = 1.38, 1.35
# Advances of the typeface in parts of its size, the semi-bold cut, by how wide a letter is.
SPACE, NARROW, PLAIN, CAPITAL, WIDE = 0.21, 0.325, 0.535, 0.61, 0.82
NARROW_ONES, WIDE_ONES = frozenset("'’`.,;:!|()[]-lijIftr"), frozenset("wmWM@%½¼¾")
GUTTER_PX = 34.0
AMOUNT_PX = 105.0  # the tick box and the amount of a row
CHANGES_GAP_PX = 12.0
FIGURE_PX = 32.5  # border and caption
LEAST_DRAWING_PX = 330.0
SPARE_PX = 5.0
HEADING_PX = 28.2
GAP_PX = 10.7
ROW_PX = 7.2  # of a table, beside its text
TALL = 0.45  # of a page: a list longer than this breaks in two columns of its own


@dataclass(frozen=True, slots=True)
class Sheet:
    """The room on one page."""

    width_px: float
    height_px: float

    @property
    def half_px(self) -> float:
        return (self.width_px - GUTTER_PX) / 2


def sheet(size: str) -> Sheet:
    width, height = SHEET_MM[size]
    return Sheet((width - SIDES_MM) * PX_PER_MM, (height - ENDS_MM) * PX_PER_MM)


@dataclass(frozen=True, slots=True)
class FirstPage:
    """What stands on page one besides the drawing, and how tall the drawing may be."""

    drawing_px: float
    has_inclusions: bool
    has_changes: bool


@dataclass(frozen=True, slots=True)
class Content:
    """The customer's words as they take room."""

    head_lines: int
    has_logo: bool
    title: str
    signers: str
    billing: str
    lead: str
    changes: Sequence[str]
    level_rows: int
    inclusions: Sequence[str]


def first_page(content: Content, room: Sheet) -> FirstPage:
    """The drawing gets the room; what would squeeze it below its least moves to the next page, the lists first."""
    fixed = _opening_px(content, room) + FIGURE_PX + _levels_px(content.level_rows) + SPARE_PX
    inclusions, changes = inclusions_px(content.inclusions, room), _list_px(content.changes, room.width_px)
    changes += CHANGES_GAP_PX if content.changes else 0
    for has_inclusions, has_changes in ((True, True), (False, True), (False, False)):
        left = room.height_px - fixed - has_inclusions * inclusions - has_changes * changes
        if left >= LEAST_DRAWING_PX:
            return FirstPage(left, has_inclusions, has_changes)
    return FirstPage(max(left, LEAST_DRAWING_PX / 2), False, False)


def text_px(text: str, width_px: float, font_px: float = BODY_PX, leading: float = LEADING) -> float:
    """The height of a paragraph."""
    return _lines(text, width_px, font_px) * font_px * leading


def _lines(text: str, width_px: float, font_px: float) -> int:
    """How many lines the words of a text break into."""
    return sum(_wrapped(line.split(" "), width_px / font_px) for line in text.splitlines() or [""])


def _wrapped(words: Sequence[str], room: float) -> int:
    lines, used = 1, 0.0
    for word in words:
        width = sum(map(_advance, word))
        if used and used + SPACE + width > room:
            lines, used = lines + 1, 0.0
        used += width + (SPACE if used else 0)
        lines, used = lines + int(used // room), used % room
    return lines


def _advance(letter: str) -> float:
    if letter in NARROW_ONES:
        return NARROW
    if letter in WIDE_ONES:
        return WIDE
    if letter == "\u00a0":
        return SPACE
    return CAPITAL if letter.isupper() else PLAIN


def _opening_px(content: Content, room: Sheet) -> float:
    head = 22 + max(2, content.head_lines) * SMALL_PX * LEAD_LEADING + (74 if content.has_logo else 0) + 26
    who = text_px(content.signers, room.half_px) + 9.5
    who += text_px(content.billing, room.half_px, SMALL_PX) + 2 if content.billing else 0
    title = text_px(content.title, room.width_px, TITLE_PX, 1.15)
    return head + title + who + text_px(content.lead, room.width_px, LEAD_PX, LEAD_LEADING) + 9.9


def _levels_px(rows: int) -> float:
    return 7.6 + 25.2 + rows * (BODY_PX * LEADING + ROW_PX) if rows else 0


def inclusions_px(lines: Sequence[str], room: Sheet) -> float:
    """Two columns filled one after the other, the first never shorter than the second."""
    heights = [text_px(line, room.half_px) + 4.6 for line in lines]
    return 12 + HEADING_PX + _first_column(heights) if lines else 0


def _first_column(heights: Sequence[float]) -> float:
    filled = 0.0
    for height in heights:
        if filled >= sum(heights) / 2:
            break
        filled += height
    return filled


def _list_px(lines: Sequence[str], width_px: float) -> float:
    return HEADING_PX + sum(text_px(line, width_px - 15) + 3.1 for line in lines) if lines else 0


@dataclass(frozen=True, slots=True)
class Block:
    """One headed part after the first page: its key, and its height in half a page and in a whole one."""

    key: str
    half_px: float
    whole_px: float


def list_block(key: str, lines: Sequence[str], room: Sheet) -> Block:
    return Block(key, _list_px(lines, room.half_px), _list_px(lines, room.half_px) / 2 + HEADING_PX)


def text_block(key: str, text: str, room: Sheet) -> Block:
    return Block(key, HEADING_PX + text_px(text, room.half_px), HEADING_PX + text_px(text, room.width_px))


def rows_block(key: str, rows: Sequence[tuple[str, ...]], small: Sequence[str], room: Sheet) -> Block:
    """A table; each row has its text and, in small, what stands below it; `small` are lines over the whole width."""
    width, height = room.half_px - AMOUNT_PX, HEADING_PX
    for text, *below in rows:
        height += ROW_PX + text_px(text, width)
        height += sum(text_px(line, width, SMALL_PX, LEAD_LEADING) for line in below)
    height += sum(text_px(line, room.half_px, SMALL_PX, LEAD_LEADING) + 3.2 for line in small)
    return Block(key, height, height)


@dataclass(frozen=True, slots=True)
class Row:
    """One or two blocks beside each other; a lone one may run in two columns."""

    keys: tuple[str, ...]
    height_px: float
    in_columns: bool = False


def in_rows(blocks: Sequence[Block], room: Sheet) -> list[Row]:
    """Blocks two by two, but one that is too tall for that on its own; the last without a partner takes the width."""
    rows: list[Row] = []
    waiting: Block | None = None
    for block in blocks:
        if block.half_px > TALL * room.height_px:
            rows.append(Row((block.key,), block.whole_px + GAP_PX, in_columns=True))
        elif waiting is None:
            waiting = block
        else:
            rows.append(Row((waiting.key, block.key), max(waiting.half_px, block.half_px) + GAP_PX))
            waiting = None
    if waiting is not None:
        rows.append(Row((waiting.key,), waiting.whole_px + GAP_PX))
    return rows
