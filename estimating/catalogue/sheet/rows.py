"""A table with its meaning: every cell read by its column, every bad cell named by row, column and what is wrong."""

import re
from dataclasses import dataclass, field
from typing import Any

from estimating.catalogue.sheet.columns import BY_HEADING, BY_KEY, COLUMNS, Column, letter_of, plain_heading
from estimating.catalogue.sheet.reading import Table
from estimating.catalogue.values import Exact, Money, NotRead, Number, Weight, WeightPerFoot

COUNTED = (Exact, Money, Number, Weight, WeightPerFoot)
EMPTIED = "(empty)"  # an empty cell says nothing; this one says that the fact is to be emptied
EMPTY = object()
TWO_WAYS = re.compile(r"\d{1,3},\d{3}")


@dataclass(frozen=True)
class BadCell:
    """Row from 1 and letter as the spreadsheet shows them; the letter is empty where the column itself is missing."""

    row: int
    letter: str
    heading: str
    typed: str
    sentence: str


@dataclass(frozen=True)
class Row:
    """One row's values by column key; a cell that is empty or bad has none."""

    number: int
    values: dict[str, Any]
    typed: dict[str, str]
    failed: frozenset[str]


@dataclass
class Sheet:
    """The rows, which columns the file has, and what is wrong so far."""

    letters: dict[str, str] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    bad_cells: list[BadCell] = field(default_factory=list)

    def has(self, key: str) -> bool:
        return key in self.letters

    def fault(self, row: Row, key: str, sentence: str) -> None:
        column = BY_KEY[key]
        if key not in self.letters:
            sentence = f"{sentence} The file has no column “{column.heading}”."
        self.bad_cells.append(
            BadCell(row.number, self.letters.get(key, ""), column.heading, row.typed.get(key, ""), sentence)
        )


def read_sheet(table: Table) -> Sheet:
    """Give every cell its meaning. Nothing is raised: what can't be read is among the bad cells."""
    return _Reader(table).read()


class _Reader:
    def __init__(self, table: Table) -> None:
        self.table, self.sheet = table, Sheet()
        self.faults = {(fault.row, fault.column): fault.sentence for fault in table.faults}
        self.places: dict[int, Column] = {}
        self.headed: set[int] = set()

    def read(self) -> Sheet:
        filled = {number: cells for number, cells in enumerate(self.table.rows, 1) if any(cells)}
        head_number = min(filled)
        self._read_head(head_number, filled.pop(head_number))
        # A row whose only filled cell is faulty looks empty; it still counts.
        filled = {row: [] for row, _ in self.faults if row > head_number} | filled
        for number in sorted(filled):
            self.sheet.rows.append(self._read_row(number, filled[number]))
        if self.sheet.has("code") and not self.sheet.rows:
            self._bad(head_number + 1, None, "", "There are headings, but no rows below them.")
        return self.sheet

    def _read_head(self, number: int, head: list[str]) -> None:
        self.headed = {index for index, text in enumerate(head) if text}
        for index in sorted(self.headed):
            text, column = head[index], BY_HEADING.get(plain_heading(head[index]))
            if column is None:
                self._bad(number, index, text, _unknown_heading(text), heading=text)
            elif self.sheet.has(column.key):
                first = self.sheet.letters[column.key]
                self._bad(number, index, text, f"Column {first} has the same heading. Keep one of them.", heading=text)
            else:
                self.places[index] = column
                self.sheet.letters[column.key] = letter_of(index)
        if not self.sheet.has("code"):
            sentence = "The first row must hold the headings, and one of them must be “code”. Start from the template."
            self._bad(number, None, "", sentence, heading="code")

    def _read_row(self, number: int, cells: list[str]) -> Row:
        values: dict[str, Any] = {}
        typed = {column.key: cells[index] for index, column in self.places.items() if index < len(cells)}
        failed = set()
        for index, column in self.places.items():
            text = typed.get(column.key, "")
            try:
                if (number, index) in self.faults:
                    raise NotRead(self.faults[number, index])
                if text:
                    values[column.key] = _read_cell(column, text, self.table.delimiter)
            except NotRead as refused:
                failed.add(column.key)
                self._bad(number, index, text, str(refused))
        for index, text in enumerate(cells):
            if text and index not in self.headed:
                self._bad(number, index, text, "There is something in a column without a heading.")
        return Row(number, values, typed, frozenset(failed))

    def _bad(self, number: int, index: int | None, typed: str, sentence: str, *, heading: str = "") -> None:
        letter = "" if index is None else letter_of(index)
        known = self.places.get(index).heading if index in self.places else heading
        self.sheet.bad_cells.append(BadCell(number, letter, known, typed, sentence))


def _unknown_heading(text: str) -> str:
    wanted = set(plain_heading(text).split())
    near = [column.heading for column in COLUMNS if wanted & set(column.heading.split())]
    hint = f" Did you mean {' or '.join(f'“{heading}”' for heading in near[:3])}?" if near else ""
    return f"“{text}” is not one of our columns. Take it out, or use one of the template’s headings.{hint}"


def _read_cell(column: Column, text: str, delimiter: str) -> Any:
    if column.part == "fact" and text.lower() == EMPTIED:
        return EMPTY
    if delimiter == ";" and isinstance(column.value, COUNTED) and TWO_WAYS.fullmatch(text):
        whole, decimals = text.split(",")
        raise NotRead(f"{text} can be read two ways in this file. Write {whole}{decimals} or {whole}.{decimals}.")
    return column.value.read(text)
