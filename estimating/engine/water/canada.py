"""Real-time and daily hydrometric CSV of Environment Canada: metres, times with their distance from UTC.

Three column names stand there twice, once for level and once for discharge: they are told apart by where they stand.
Symbol E is an estimate and D a dry gauge; QA/QC 1 is preliminary. Source: ECCC_HYDROMETRIC.
"""

import numpy as np

from .faults import ChoiceNeeded, FileNotUnderstood
from .gauge_file import MEASURED, Columns, GaugeFile, Named, Told, gathered
from .series import FLAGGED, PRELIMINARY
from .table import Table, cut, levels, plain_name
from .times import split_offsets, stamps

KEEPER = "Environment Canada"
LEVEL = "water level"
DOUBTED_SYMBOLS = frozenset({"e", "d"})
DOUBTED_GRADES = frozenset({"20", "40"})


def is_heading(names: list[str]) -> bool:
    return len(names) > 2 and names[0] == "id" and names[1] == "date"


def read(lines: list[str], told: Told) -> GaugeFile:
    """Raises ChoiceNeeded where the file holds several stations, FileNotUnderstood."""
    table = cut(lines, ",")
    station, table = _one_station(table, told)
    index = next((i for i, name in enumerate(table.header) if plain_name(name).startswith(LEVEL)), None)
    if index is None:
        raise FileNotUnderstood("There is no column “Water Level” in the heading.")
    if "(m)" not in plain_name(table.header[index]):
        raise FileNotUnderstood("the heading does not say metres.", column=table.header[index])
    level = levels(table, index)
    clocks, ahead = split_offsets(table, 1)
    at = stamps(table, 1, clocks).clock_min - ahead
    named = Named(KEEPER, station, "Water level", MEASURED, "m")
    return gathered(table, Columns(at, level, _flags(table, index)), named, table.header[index])


def _one_station(table: Table, told: Told) -> tuple[str, Table]:
    names = table.column(0)
    stations = sorted(set(names))
    if "" in stations:
        place = names.index("")
        raise FileNotUnderstood("the station is missing.", line=table.lines[place], column=table.header[0])
    if len(stations) < 2:
        return (stations[0] if stations else ""), table
    if told.station not in stations:
        said = ", ".join(stations[:12]) + (", …" if len(stations) > 12 else "")
        options = tuple((station, station) for station in stations)
        raise ChoiceNeeded("station", f"This file holds several stations: {said}. Name one.", options)
    kept = [place for place, name in enumerate(names) if name == told.station]
    rows, lines = [table.rows[place] for place in kept], [table.lines[place] for place in kept]
    return told.station, Table(table.header, rows, lines)


def _flags(table: Table, level: int) -> np.ndarray:
    flags = np.zeros(len(table.rows), np.uint8)
    for index in range(level + 1, min(level + 4, len(table.header))):
        name = plain_name(table.header[index])
        words = np.array(table.column(index), dtype="U8")
        if name.startswith("symbol"):
            flags[np.isin(np.char.lower(words), list(DOUBTED_SYMBOLS))] |= FLAGGED
        elif name.startswith("grade"):
            flags[np.isin(words, list(DOUBTED_GRADES))] |= FLAGGED
        elif name.startswith("qa"):
            flags[words == "1"] |= PRELIMINARY
    return flags
