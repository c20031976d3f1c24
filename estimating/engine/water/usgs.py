"""Gauge heights of the USGS as RDB: comments, a heading, a line of widths that is no data, rows between tabs.

A file may hold several parameters; levels are told from discharge by the parameter's code. Source: USGS_RDB.
"""

import re

import numpy as np

from .faults import ChoiceNeeded, FileNotUnderstood
from .gauge_file import MEASURED, Columns, GaugeFile, Named, Told, gathered
from .series import FLAGGED, PRELIMINARY
from .table import Table, cut, levels
from .times import stamps, to_utc, zone_named

KEEPER = "USGS"
LEVEL_CODES = {
    "00065": ("gage height", "ft"),
    "00062": ("reservoir elevation", "ft"),
    "62614": ("lake elevation, NGVD 1929", "ft"),
    "62615": ("lake elevation, NAVD 1988", "ft"),
    "62616": ("lake elevation, other datum", "ft"),
    "63158": ("stream elevation, NGVD 1929", "ft"),
    "63160": ("stream elevation, NAVD 1988", "ft"),
    "00072": ("stream stage", "m"),
}
CODE = re.compile(r"(?:\d+_)?(\d{5})(?:_\d{5})?")
WIDTHS = re.compile(r"\d+[sdn]")
# Said instead of a figure.
MISSING = frozenset(
    {
        "ice",
        "eqp",
        "ssn",
        "dis",
        "rat",
        "bkw",
        "mnt",
        "pr",
        "zfl",
        "tst",
        "fld",
        "dry",
        "***",
        "**",
        "--",
        "---",
        "none",
    }
)
CLOCKS_H = {
    "UTC": 0, "GMT": 0, "Z": 0,
    "NST": -3.5, "NDT": -2.5, "AST": -4, "ADT": -3,
    "EST": -5, "EDT": -4, "CST": -6, "CDT": -5, "MST": -7, "MDT": -6, "PST": -8, "PDT": -7,
    "AKST": -9, "AKDT": -8, "HST": -10, "HDT": -9, "SST": -11, "GST": 10, "CHST": 10,
}  # fmt: skip


def read(lines: list[str], told: Told) -> GaugeFile:
    """Raises ChoiceNeeded for one of several levels or a missing clock, FileNotUnderstood."""
    table = _table(lines)
    when = table.find("datetime")
    if when is None:
        raise FileNotUnderstood("There is no column “datetime” in the heading.")
    index, code = _level_column(table, told)
    what, unit = LEVEL_CODES[code]
    level = levels(table, index, MISSING)
    columns = Columns(_at(table, when, told), level, _flags(table, f"{table.header[index]}_cd"))
    return gathered(table, columns, Named(KEEPER, _station(table), what, MEASURED, unit), table.header[index])


def _table(lines: list[str]) -> Table:
    body = [(number, line) for number, line in enumerate(lines, 1) if line.strip() and not line.startswith("#")]
    if not body:
        said = next((line.strip("# \t") for line in lines if "no" in line.casefold().split()), "")
        raise FileNotUnderstood(f"There are only comments in this file{': ' + said if said else ''}.")
    heading = body[0][1]
    numbers = [number for number, line in body if line == heading]
    if len(numbers) > 1:
        why = "a second table begins here. Save one gauge to a file."
        raise FileNotUnderstood(why, line=numbers[1])
    kept = ["" if line.startswith("#") else line for line in lines]
    table = cut(kept, "\t")
    if table.rows and all(WIDTHS.fullmatch(cell.strip()) for cell in table.rows[0]):
        return Table(table.header, table.rows[1:], table.lines[1:])
    return table


def _level_column(table: Table, told: Told) -> tuple[int, str]:
    found = [
        (index, name, match[1])
        for index, name in enumerate(table.header)
        if (match := CODE.fullmatch(name)) and match[1] in LEVEL_CODES
    ]
    if not found:
        raise FileNotUnderstood("There is no column of levels in the heading, such as one that ends in 00065.")
    wanted = [(index, code) for index, name, code in found if told.parameter in (name, code)]
    if len(wanted) == 1:
        return wanted[0]
    if len(found) > 1:
        options = tuple((name, f"{LEVEL_CODES[code][0]} ({name})") for _, name, code in found)
        said = ", ".join(words for _, words in options)
        raise ChoiceNeeded("parameter", f"This file holds more than one level: {said}. Choose one.", options)
    return found[0][0], found[0][2]


def _at(table: Table, when: int, told: Told) -> np.ndarray:
    clock = table.find("tz_cd")
    written = stamps(table, when)
    if clock is None:
        zone = zone_named(told.zone or ("UTC" if written.by_day else None))
        return to_utc(table, when, written.clock_min, zone)
    words = table.column(clock)
    for place, word in enumerate(words):
        if word.upper() not in CLOCKS_H:
            why = f"“{word}” is no clock we know, like EST or PDT."
            raise FileNotUnderstood(why, line=table.lines[place], column=table.header[clock])
    ahead = {word: round(CLOCKS_H[word.upper()] * 60) for word in set(words)}
    return written.clock_min - np.array([ahead[word] for word in words], np.int64)


def _station(table: Table) -> str:
    index = table.find("site_no")
    if index is None:
        return ""
    stations = table.column(index)
    for place, station in enumerate(stations):
        if station != stations[0]:
            why = f"“{station}” is another gauge than “{stations[0]}”. Save one gauge to a file."
            raise FileNotUnderstood(why, line=table.lines[place], column=table.header[index])
    return stations[0] if stations else ""


def _flags(table: Table, column: str) -> np.ndarray:
    flags = np.zeros(len(table.rows), np.uint8)
    if column not in table.header:
        return flags
    words = table.column(table.header.index(column))
    meaning = {word: _meaning(word) for word in set(words)}
    return np.array([meaning[word] for word in words], np.uint8)


def _meaning(word: str) -> int:
    parts = word.casefold().replace(":", " ").split()
    return (PRELIMINARY if "p" in parts else 0) | (FLAGGED if "e" in parts else 0)
