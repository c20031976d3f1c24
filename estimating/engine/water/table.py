"""Text cut into rows and columns, each row with the line it stands on, and columns turned into numbers."""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .faults import FileNotUnderstood

NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
NOT_MEASURED = re.compile(r"-9{3,}(\.[09]*)?")
HIGHEST = 30_000.0  # feet or metres: no water stands higher


@dataclass(frozen=True, slots=True)
class Table:
    header: tuple[str, ...]
    rows: list[list[str]]
    lines: list[int]

    def column(self, index: int) -> list[str]:
        return [row[index].strip() for row in self.rows]

    def find(self, *names: str) -> int | None:
        """The first column so named, letter case and spaces aside."""
        for index, name in enumerate(self.header):
            if plain_name(name) in names:
                return index
        return None


def plain_name(name: str) -> str:
    return " ".join(name.replace("\ufeff", "").casefold().split())


def lines_of(data: bytes) -> list[str]:
    """The lines of a file in UTF-8, UTF-16 or Windows letters, however its lines end. Raises FileNotUnderstood."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        text = data.decode("utf-16", "replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("cp1252", "replace")
    if "\0" in text:
        raise FileNotUnderstood("This is not a text file. Save the gauge’s readings as text: CSV or RDB.")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if not any(line.strip() for line in lines):
        raise FileNotUnderstood("This file is empty.")
    return lines


def cut(lines: Sequence[str], separator: str, *, first_line: int = 1) -> Table:
    """Rows under a heading, blank lines left out. Raises FileNotUnderstood for a row that is cut short or too long."""
    numbered = [(number, line) for number, line in enumerate(lines, first_line) if line.strip()]
    rows = _split([line for _, line in numbered], separator)
    numbers = [number for number, _ in numbered]
    header = [name.strip() for name in rows[0]]
    while header and not header[-1]:
        header.pop()
    width = len(header)
    for number, row in zip(numbers[1:], rows[1:], strict=True):
        if len(row) != width and not (len(row) > width and not any(cell.strip() for cell in row[width:])):
            raise FileNotUnderstood(f"{len(row)} columns, where the heading has {width}.", line=number)
    return Table(tuple(header), rows[1:], numbers[1:])


def levels(table: Table, index: int, missing: frozenset[str] = frozenset()) -> np.ndarray:
    """A column of levels; what is blank, a word for missing or a row of nines is NaN. Raises FileNotUnderstood."""
    texts = table.column(index)
    out = np.full(len(texts), np.nan)
    for place, text in enumerate(texts):
        if not text:
            continue
        if not NUMBER.fullmatch(text):
            if text.casefold() in missing:
                continue
            raise FileNotUnderstood(f"“{text}” is not a level.", line=table.lines[place], column=table.header[index])
        if not NOT_MEASURED.fullmatch(text):
            out[place] = float(text)
    too_high = np.flatnonzero(np.abs(out) > HIGHEST)
    if len(too_high):
        place = int(too_high[0])
        why = f"“{texts[place]}” is no level water stands at."
        raise FileNotUnderstood(why, line=table.lines[place], column=table.header[index])
    return out


def _split(lines: list[str], separator: str) -> list[list[str]]:
    if any('"' in line for line in lines):
        return [row for line in lines for row in csv.reader([line], delimiter=separator)]
    return [line.split(separator) for line in lines]
