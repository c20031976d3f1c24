"""The columns of the catalogue file: their headings, what each may hold, and how a value is written.

One row is an item with one of its stock lengths and one supplier's price. An item with more lengths or prices has
more rows: its facts may stand in any of them, and rows that leave a fact empty say nothing about it.
"""

import re
from dataclasses import dataclass
from typing import Any

from estimating.catalogue.facts import FACTS, facts_of
from estimating.catalogue.models import Kind
from estimating.catalogue.models.items import WOOD
from estimating.catalogue.values import (
    Choice,
    Currency,
    Day,
    Exact,
    Length,
    Money,
    NotRead,
    Number,
    Text,
    Value,
    Weight,
    WeightPerFoot,
    Whole,
    YesNo,
    short,
)

FIXING = re.compile(r"(?P<code>\S+) x (?P<count>\S+)")
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._/-]*")


class Code(Text):
    def read(self, text: str) -> str:
        code = super().read(text)
        if not CODE.fullmatch(code):
            raise NotRead(f"“{code}” is not a code: letters, figures, dot, dash and stroke only, no spaces.")
        return code


class Codes(Text):
    """Codes parted by semicolons."""

    def read(self, text: str) -> tuple[str, ...]:
        code = Code(40)
        return tuple(code.read(part) for part in super().read(text).split(";") if part.strip())

    def write(self, value: tuple[str, ...]) -> str:
        return "; ".join(value)


class Fixings(Text):
    """`bolt-1/2x4 x 4; washer-1/2 x 4`: what fitting one of the item takes."""

    def read(self, text: str) -> tuple[tuple[str, Any], ...]:
        return tuple(self._one(part.strip()) for part in super().read(text).split(";") if part.strip())

    def write(self, value: tuple[tuple[str, Any], ...]) -> str:
        return "; ".join(f"{code} x {short(count)}" for code, count in value)

    def _one(self, part: str) -> tuple[str, Any]:
        found = FIXING.fullmatch(part)
        if not found:
            raise NotRead(f"“{part}” is not a code and a count. Write it like lag-4in x 4; washer-flat x 4.")
        count = Exact(3).read(found["count"])
        if count <= 0:
            raise NotRead(f"“{part}” takes none. Leave it out, or give a count.")
        return Code(40).read(found["code"]), count


_TAKES = (
    (Code, "letters, figures, dot, dash, stroke"),
    (Codes, "codes"),
    (Fixings, "codes and counts"),
    (Money, "12.50"),
    (Day, "2026-04-06 or 6 Apr 2026"),
    (Currency, "three letters"),
    (YesNo, "yes or no"),
    (Whole, "a whole number"),
    (WeightPerFoot, "a number; 4.2 kg/m is understood"),
    (Weight, "a number; 20 kg is understood"),
    (Length, "a number; 7 1/4 in and 184 mm are understood"),
    (Exact, "a number"),
    (Number, "a number"),
)


@dataclass(frozen=True)
class Column:
    """`part` says what the column is about: item, fact, stick or price."""

    key: str
    heading: str
    value: Value
    part: str
    hint: str = ""

    @property
    def takes(self) -> str:
        """What may stand in a cell of this column, for the page and the template."""
        kept = [word or "(empty)" for word, _ in self.value.choices] if isinstance(self.value, Choice) else []
        words = next((words for kind, words in _TAKES if isinstance(self.value, kind)), "words")
        return ". ".join(part for part in (", ".join(kept) or words, self.hint) if part)

    @property
    def kinds(self) -> str:
        """For which kinds of item; empty for all."""
        if self.key == "stick":
            return ", ".join(WOOD)
        if self.key == "fixings":
            return ", ".join(kind for kind in Kind.values if kind not in WOOD)
        if self.key not in FACTS:
            return ""
        kinds = [kind for kind in Kind.values if any(fact.key == self.key for fact in facts_of(kind))]
        return "" if len(kinds) == len(Kind.values) else ", ".join(kinds)


_KIND_CHOICES = tuple((kind.value, str(kind.label)) for kind in Kind)
_ITEM = (
    Column("code", "code", Code(40), "item", "The item’s own short name; rows of one item share it"),
    Column("kind", "kind", Choice(_KIND_CHOICES), "item"),
    Column("active", "in use", YesNo(), "item", "No is a retired item"),
)
_LINKS = (
    Column("fixings", "fixings", Fixings(500), "fact", "What fitting one takes: lag-4 x 6; washer x 6"),
    Column("preferred_supplier", "usual supplier", Text(120), "fact", "The supplier whose price counts first"),
    Column("substitutes", "substitutes", Codes(500), "fact", "What may stand in for it, with semicolons"),
)
_PRICE = (
    Column("stick", "stock length ft", Length("ft", most_in=1200), "stick", "A row for each length"),
    Column("supplier", "supplier", Text(120), "price", "Whose price this is"),
    Column("amount", "price", Money(), "price", "For one pack or one stick, without sales tax"),
    Column("currency", "currency", Currency(), "price", "USD, CAD; must be the firm’s"),
    Column("dated", "dated", Day(), "price", "The day of the price list"),
    Column("valid_until", "valid until", Day(), "price", "Empty where the supplier names no day"),
    Column("note", "price note", Text(200), "price"),
    Column("starter", "starter", YesNo(), "price", "Yes marks a figure to be replaced by your own"),
)
COLUMNS: tuple[Column, ...] = (
    *_ITEM,
    *(Column(fact.key, fact.heading, fact.value, "fact", fact.hint) for fact in FACTS.values()),
    *_LINKS,
    *_PRICE,
)
BY_KEY: dict[str, Column] = {column.key: column for column in COLUMNS}
FACT_KEYS: tuple[str, ...] = tuple(column.key for column in COLUMNS if column.part == "fact")
PRICE_KEYS: tuple[str, ...] = tuple(column.key for column in COLUMNS if column.part == "price")


def plain_heading(text: str) -> str:
    """A heading as it is compared: small letters, single spaces.

    >>> plain_heading("  Stock  Length FT ")
    'stock length ft'
    """
    return " ".join(text.lower().replace("_", " ").split())


BY_HEADING: dict[str, Column] = {plain_heading(column.heading): column for column in COLUMNS}


def letter_of(index: int) -> str:
    """The spreadsheet's letter for a column counted from 0.

    >>> letter_of(0), letter_of(25), letter_of(26), letter_of(701), letter_of(702)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    letters = ""
    while index >= 0:
        letters = chr(ord("A") + index % 26) + letters
        index = index // 26 - 1
    return letters
