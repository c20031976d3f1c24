"""An uploaded file becomes rows of text, whatever spreadsheet wrote it, or is refused with a sentence."""

import io
import zipfile

import pytest
from openpyxl import Workbook

from estimating.catalogue.sheet.reading import LARGEST_FILE, MOST_ROWS, FileNotRead, read_table
from estimating.catalogue.sheet.writing import guarded

WORDS = "code,name\nnut,Écrou ½ – M12\n"


def rows(content: bytes, name: str = "list.csv") -> list[list[str]]:
    return read_table(content, name).rows


def xlsx(*lines: list, **cells) -> bytes:
    book = Workbook()
    for line in lines:
        book.active.append(line)
    for place, value in cells.items():
        book.active[place] = value
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_it_reads_the_letters_of_any_spreadsheet(encoding):
    assert rows(WORDS.encode(encoding)) == [["code", "name"], ["nut", "Écrou ½ – M12"]]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_it_finds_what_parts_the_cells(mark):
    text = f'code{mark}"name, size"{mark}price\nnut{mark}"1/2, galvanized; each"{mark}14.00\n'
    assert rows(text.encode()) == [["code", "name, size", "price"], ["nut", "1/2, galvanized; each", "14.00"]]


def test_it_keeps_row_numbers_over_empty_rows_and_line_breaks():
    assert rows(b'code,notes\n\nnut,"two\nlines"\nlag,\n') == [["code", "notes"], [], ["nut", "two\nlines"], ["lag"]]


def test_it_reads_numbers_dates_and_ticks_of_a_workbook_as_text():
    import datetime

    content = xlsx(["code", "a", "b", "c", "d"], ["nut", 14.5, 12.0, datetime.date(2026, 4, 6), True])
    assert rows(content, "list.xlsx")[1] == ["nut", "14.5", "12", "2026-04-06", "yes"]


def test_it_notes_formulas_and_errors_with_their_place():
    content = xlsx(["code", "price"], ["nut", "=1+1"], ["lag", 2], B3="#REF!")
    table = read_table(content, "list.xlsx")
    assert [(fault.row, fault.column, fault.sentence.split(".")[0]) for fault in table.faults] == [
        (2, 1, "This cell holds a formula"),
        (3, 1, "The spreadsheet says #REF! here"),
    ]
    (fault,) = read_table(b"code,name\nnut,=cmd|' /c calc'!A1\n", "list.csv").faults
    assert (fault.row, fault.column) == (2, 1)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@nut", "'quoted", "\tnut"])
def test_it_takes_its_own_guard_off_again(text):
    assert guarded(text) == f"'{text}"
    assert rows(f'code,name\nnut,"{guarded(text)}"\n'.encode())[1][1] == text


def bomb() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * (70 * 1024 * 1024))
    return out.getvalue()


def packed_text() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("letter.txt", "hello")
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"  \n", "list.csv", "empty"),
        (b",,,\n,,\n", "list.csv", "no rows"),
        (b"x" * (LARGEST_FILE + 1), "list.csv", "larger than 4 MB"),
        (b"code,name\n" + b"a,b\n" * (MOST_ROWS + 1), "list.csv", "More than 5,000 rows"),
        (b"," * 99 + b"x\n", "list.csv", "100 columns"),
        (b'code,name\nnut,"open\n', "list.csv", "quotation mark"),
        (b"code\x00name\n", "list.csv", "not a text file"),
        (b"\xd0\xcf\x11\xe0old", "list.xls", "old or locked"),
        (b"code,name\n", "list.xlsx", "not one"),
        (b"PK\x03\x04 damaged", "list.xlsx", "damaged"),
        (packed_text(), "list.xlsx", "no XLSX workbook"),
        (bomb(), "list.xlsx", "too large inside"),
    ],
)
def test_it_refuses_what_is_no_table(content, name, said):
    with pytest.raises(FileNotRead, match=said):
        read_table(content, name)


def test_it_refuses_a_workbook_that_is_broken_inside():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("xl/workbook.xml", "<not closed")
    with pytest.raises(FileNotRead, match="can’t be read"):
        read_table(out.getvalue(), "list.xlsx")
