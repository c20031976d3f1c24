"""A CSV or XLSX file as rows of text. Nothing in it is believed yet; limits keep a bad file from filling the disk."""

import codecs
import csv
import io
import re
import zipfile
from dataclasses import asdict, dataclass, field
from datetime import date, datetime
from typing import Any

LARGEST_FILE = 4 * 1024 * 1024
LARGEST_UNPACKED = 60 * 1024 * 1024
MOST_ROWS = 5_000
MOST_COLUMNS = 80
LONGEST_CELL = 4_000
GUARDED = ("=", "+", "-", "@", "\t", "\r", "'")  # what a spreadsheet could take for a formula, and our own guard
FORMULA = "This cell holds a formula. Put its value in the cell instead."


class FileNotRead(ValueError):
    """The upload is not a table we can read; the message says what to do."""


@dataclass(frozen=True)
class CellFault:
    """Something wrong with one cell before its meaning is looked at. Row from 1, column from 0."""

    row: int
    column: int
    sentence: str


@dataclass(frozen=True)
class Table:
    """Rows of text; the index plus one is the row number in the spreadsheet, empty rows included."""

    rows: list[list[str]]
    faults: list[CellFault] = field(default_factory=list)
    delimiter: str = ""

    def as_plain(self) -> dict[str, Any]:
        return asdict(self)

    @classmethod
    def from_plain(cls, plain: dict[str, Any]) -> "Table":
        return cls(plain["rows"], [CellFault(**fault) for fault in plain["faults"]], plain["delimiter"])


def read_table(content: bytes, file_name: str) -> Table:
    """The table in an uploaded file. Raises FileNotRead for one that is empty, too large, or no table at all."""
    if not content.strip():
        raise FileNotRead("The file is empty.")
    if len(content) > LARGEST_FILE:
        raise FileNotRead(f"The file is larger than {LARGEST_FILE // 1024 // 1024} MB. Split it, or leave out columns.")
    if content.startswith(b"PK"):
        table = _read_xlsx(content)
    elif content.startswith(b"\xd0\xcf\x11\xe0"):
        raise FileNotRead("That is an old or locked spreadsheet. Save it as XLSX without a password, or as CSV.")
    elif file_name.lower().endswith((".xlsx", ".xlsm")):
        raise FileNotRead("The name says XLSX, but it is not one. Save it again as XLSX or CSV.")
    else:
        table = _read_csv(content)
    if not any(any(row) for row in table.rows):
        raise FileNotRead("There are no rows in the file.")
    return table


def _read_csv(content: bytes) -> Table:
    text = _text_of(content)
    if "\x00" in text:
        raise FileNotRead("That is not a text file. Save the table as CSV or XLSX.")
    delimiter = _delimiter_of(text)
    keeper = _Keeper()
    try:
        for number, row in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True), 1):
            keeper.keep(number, row)
    except csv.Error as trouble:
        line = len(keeper.rows) + 1
        raise FileNotRead(f"Line {line} can’t be read: a quotation mark is open or misplaced.") from trouble
    return keeper.table(delimiter)


def _text_of(content: bytes) -> str:
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", errors="replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise FileNotRead("The letters in the file can’t be read. Save it as CSV UTF-8, or as XLSX.")


def _delimiter_of(text: str) -> str:
    """The mark that parts most cells of the first line that is not empty; a comma if there is none."""
    first = next((line for line in text.splitlines() if line.strip(",;\t ")), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max((",", ";", "\t"), key=bare.count)


def _read_xlsx(content: bytes) -> Table:
    from openpyxl import load_workbook  # slow to load, and few pages touch a spreadsheet

    _refuse_bombs(content)
    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=False, keep_links=False)
        sheet = book.worksheets[0]
        sheet.reset_dimensions()
        keeper = _Keeper()
        for number, row in enumerate(sheet.iter_rows(), 1):
            keeper.keep(number, [_cell_text(cell) for cell in row])
    except FileNotRead:
        raise
    except Exception as trouble:  # a broken workbook can fail anywhere inside the reader
        raise FileNotRead("The workbook can’t be read. Save it again as XLSX, or as CSV.") from trouble
    return keeper.table("")


def _refuse_bombs(content: bytes) -> None:
    try:
        parts = zipfile.ZipFile(io.BytesIO(content)).infolist()
    except zipfile.BadZipFile:
        raise FileNotRead("The workbook is damaged. Save it again as XLSX, or as CSV.") from None
    if sum(part.file_size for part in parts) > LARGEST_UNPACKED:
        raise FileNotRead("The workbook is too large inside. Keep the one sheet, without pictures.")
    if not any(part.filename.startswith("xl/") for part in parts):
        raise FileNotRead("That is a packed file, but no XLSX workbook.")


def _cell_text(cell: Any) -> str | CellFault:
    value = cell.value
    if value is None:
        return ""
    if cell.data_type == "f":
        return CellFault(0, 0, FORMULA)
    if cell.data_type == "e":
        return CellFault(0, 0, f"The spreadsheet says {value} here. Put the right value in.")
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == value.time().min else value.isoformat(sep=" ")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.0f}" if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)


class _Keeper:
    """Collects rows within the limits, notes cells that can't be taken as they are, and takes the guard off text."""

    def __init__(self) -> None:
        self.rows: list[list[str]] = []
        self.faults: list[CellFault] = []
        self._last_filled = 0

    def keep(self, number: int, cells: list[str | CellFault]) -> None:
        kept = [self._keep_cell(number, column, cell) for column, cell in enumerate(cells)]
        while kept and not kept[-1]:
            kept.pop()
        if kept and len(kept) > MOST_COLUMNS:
            raise FileNotRead(f"Row {number} has {len(kept)} columns. At most {MOST_COLUMNS}.")
        self.rows.append(kept)
        if kept or any(isinstance(cell, CellFault) for cell in cells):
            self._last_filled = number
        if number - self._last_filled > MOST_ROWS or self._last_filled > MOST_ROWS:
            raise FileNotRead(f"More than {MOST_ROWS:,} rows. Split the file.")

    def _keep_cell(self, number: int, column: int, cell: str | CellFault) -> str:
        if isinstance(cell, CellFault):
            self.faults.append(CellFault(number, column, cell.sentence))
            return ""
        text = cell.strip(" \u00a0\r\n\t")
        if len(text) > LONGEST_CELL:
            self.faults.append(CellFault(number, column, f"More than {LONGEST_CELL:,} letters in one cell."))
            return ""
        if text.startswith("="):
            self.faults.append(CellFault(number, column, FORMULA))
            return ""
        return text[1:] if text.startswith("'") and text[1:2] in GUARDED else text

    def table(self, delimiter: str) -> Table:
        return Table(self.rows[: self._last_filled], self.faults, delimiter)
