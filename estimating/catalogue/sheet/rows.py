"""A table with its meaning: every cell read by its column, every bad cell named by row, column and what is wrong."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from estimating.catalogue.sheet.columns import BY_HEADING, BY_KEY, COLUMNS, Column, letter_of, plain_heading
from estimating.catalogue.sheet.reading import Table
from estimating.catalogue.values import Exact, Money, NotRead, Number, Weight, WeightPerFoot

COUNTED = (Exact, Money, Number, Weight, WeightPerFoot)
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
    sheet = Sheet()
    numbered = [(number, cells) for number, cells in enumerate(table.rows, 1) if any(cells)]
    head_number, head = numbered[0]
    places = _read_head(sheet, head_number, head)
    faults = {(fault.row, fault.column): fault.sentence for fault in table.faults}
    for number, cells in _with_faulty_rows(numbered[1:], faults, head_number):
        sheet.rows.append(_read_row(sheet, places, number, cells, faults, table.delimiter))
    if "code" in sheet.letters and not sheet.rows:
        sheet.bad_cells.append(BadCell(head_number + 1, "", "", "", "There are headings, but no rows below them."))
    return sheet


def _read_head(sheet: Sheet, number: int, head: list[str]) -> dict[int, Column]:
    places: dict[int, Column] = {}
    for index, text in enumerate(head):
        column = BY_HEADING.get(plain_heading(text))
        if column is None:
            if text:
                sheet.bad_cells.append(BadCell(number, letter_of(index), text, text, _unknown_heading(text)))
        elif column.key in sheet.letters:
            first = sheet.letters[column.key]
            sentence = f"Column {first} has the same heading. Keep one of them."
            sheet.bad_cells.append(BadCell(number, letter_of(index), text, text, sentence))
        else:
            places[index] = column
            sheet.letters[column.key] = letter_of(index)
    if "code" not in sheet.letters:
        sentence = "The first row must hold the headings, and one of them must be “code”. Start from the template."
        sheet.bad_cells.insert(0, BadCell(number, "", "code", "", sentence))
    return places


def _unknown_heading(text: str) -> str:
    wanted = set(plain_heading(text).split())
    near = [column.heading for column in COLUMNS if wanted & set(column.heading.split())]
    hint = f" Did you mean {' or '.join(f'“{heading}”' for heading in near[:3])}?" if near else ""
    return f"“{text}” is not one of our columns. Take it out, or use one of the template’s headings.{hint}"


def _with_faulty_rows(
    numbered: list[tuple[int, list[str]]], faults: dict[tuple[int, int], str], head_number: int
) -> Iterator[tuple[int, list[str]]]:
    """A row whose only filled cell is faulty looks empty; it still counts."""
    filled = dict(numbered) | {
        row: [] for row, _ in faults if row > head_number and row not in {number for number, _ in numbered}
    }
    yield from sorted(filled.items())


def _read_row(  # noqa: PLR0913
    sheet: Sheet,
    places: dict[int, Column],
    number: int,
    cells: list[str],
    faults: dict[tuple[int, int], str],
    delimiter: str,
) -> Row:
    values: dict[str, Any] = {}
    typed = {column.key: cells[index] for index, column in places.items() if index < len(cells)}
    failed = set()
    for index, column in places.items():
        try:
            if (number, index) in faults:
                raise NotRead(faults[number, index])
            if typed.get(column.key):
                values[column.key] = _read_cell(column, typed[column.key], delimiter)
        except NotRead as refused:
            failed.add(column.key)
            sheet.bad_cells.append(
                BadCell(number, letter_of(index), column.heading, typed.get(column.key, ""), str(refused))
            )
    for index in range(len(cells)):
        if cells[index] and index not in places and index >= _width(places):
            sentence = "There is something in a column without a heading."
            sheet.bad_cells.append(BadCell(number, letter_of(index), "", cells[index], sentence))
    return Row(number, values, typed, frozenset(failed))


def _width(places: dict[int, Column]) -> int:
    return max(places, default=-1) + 1


def _read_cell(column: Column, text: str, delimiter: str) -> Any:
    if delimiter == ";" and isinstance(column.value, COUNTED) and TWO_WAYS.fullmatch(text):
        whole, decimals = text.split(",")
        raise NotRead(f"{text} can be read two ways in this file. Write {whole}{decimals} or {whole}.{decimals}.")
    return column.value.read(text)
