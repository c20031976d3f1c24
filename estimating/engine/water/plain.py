"""A plain list of times and levels, as a shop's own log or a spreadsheet saves it."""

import re

import numpy as np

from .faults import ChoiceNeeded, FileNotUnderstood
from .gauge_file import MEASURED, UNIT_IN, Columns, GaugeFile, Named, Told, gathered
from .table import cut, levels, plain_name
from .times import stamps, to_utc, zone_named

KEEPER = "our own list"
SEPARATORS = (",", "\t", ";")
TIMES = re.compile(r"(date|day|time|date ?time|date and time|timestamp)\b.*")
LEVELS = re.compile(r"(water )?(level|stage|elevation|height)\b.*|gau?ge height\b.*|pool\b.*")
UNITS = {"ft": "ft", "feet": "ft", "m": "m", "metres": "m", "meters": "m"}
UNIT = re.compile(r"[(\[,]\s*(ft|feet|m|metres|meters)\b")


def separator_of(heading: str) -> str:
    """What stands between time and level in this heading; empty if it names no time and level."""
    for separator in SEPARATORS:
        names = [plain_name(name.strip(' "')) for name in heading.split(separator)]
        if len(names) > 1 and TIMES.fullmatch(names[0]) and any(LEVELS.fullmatch(name) for name in names[1:]):
            return separator
    return ""


def read(lines: list[str], told: Told) -> GaugeFile:
    """Raises ChoiceNeeded for unit or clock, FileNotUnderstood."""
    heading = next(line for line in lines if line.strip())
    table = cut(lines, separator_of(heading))
    found = [index for index, name in enumerate(table.header) if index and LEVELS.fullmatch(plain_name(name))]
    if len(found) > 1:
        said = " and ".join(f"“{table.header[index]}”" for index in found)
        raise FileNotUnderstood(f"There are several columns of levels: {said}. Leave one.")
    index = found[0]
    stated = UNIT.search(plain_name(table.header[index]))
    unit = UNITS[stated[1]] if stated else told.unit
    if unit not in UNIT_IN:
        raise ChoiceNeeded("unit", "This file does not say whether its levels are feet or metres. Choose one.")
    written = stamps(table, 0)
    zone = zone_named(told.zone or ("UTC" if written.by_day else None))
    at = to_utc(table, 0, written.clock_min, zone)
    columns = Columns(at, levels(table, index), np.zeros(len(table.rows), np.uint8))
    return gathered(
        table, columns, Named(KEEPER, told.station or "", "Water level", MEASURED, unit), table.header[index]
    )
