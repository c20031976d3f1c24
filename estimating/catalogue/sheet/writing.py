"""The catalogue file written: text that could pass for a formula is guarded, and reading takes the guard off again."""

import csv
import io
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from estimating.catalogue.values import Exact, Length, Money, Number, Value, Weight, WeightPerFoot, Whole

from .columns import COLUMNS
from .reading import GUARDED

if TYPE_CHECKING:
    from openpyxl.cell import Cell

Row = dict[str, str]
MEASURED = (Exact, Length, Money, Number, Weight, WeightPerFoot, Whole)
PLAIN_NUMBER = re.compile(r"(0|[1-9]\d{0,8})(\.\d{1,6})?")  # short enough to come back as the same figure


def csv_bytes(rows: Iterable[Row]) -> bytes:
    """Comma-separated, UTF-8 with a mark at the start so that spreadsheets read the letters right."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([column.heading for column in COLUMNS])
    for row in rows:
        writer.writerow([guarded(row.get(column.key, "")) for column in COLUMNS])
    return out.getvalue().encode("utf-8-sig")


def xlsx_bytes(rows: Iterable[Row]) -> bytes:
    """One sheet with a bold first row that stays in view; plain numbers are numbers, everything else is text."""
    from openpyxl import Workbook  # slow to load, and few pages touch a spreadsheet
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    book = Workbook()
    sheet = book.active
    sheet.title = "Catalogue"
    sheet.append([column.heading for column in COLUMNS])
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    for number, row in enumerate(rows, 2):
        for place, column in enumerate(COLUMNS, 1):
            text = guarded(row.get(column.key, ""))
            if text:
                _put(sheet.cell(number, place), text, column.value)
    sheet.freeze_panes = "D2"
    for place, column in enumerate(COLUMNS, 1):
        sheet.column_dimensions[get_column_letter(place)].width = max(10, len(column.heading) + 2)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def guarded(text: str) -> str:
    """The text with an apostrophe before it if a spreadsheet could take it for a formula.

    >>> guarded("=1+1"), guarded("12.50"), guarded("- see note")
    ("'=1+1", '12.50', "'- see note")
    """
    return f"'{text}" if text.startswith(GUARDED) else text


def _put(cell: "Cell", text: str, value: Value) -> None:
    if isinstance(value, MEASURED) and PLAIN_NUMBER.fullmatch(text):
        cell.value = float(text) if "." in text else int(text)
    else:
        cell.value = text
        cell.data_type = "s"
