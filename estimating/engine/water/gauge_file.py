"""What a gauge file holds once it is read, and what a person says about it beforehand."""

from dataclasses import dataclass

import numpy as np

from .faults import FileNotUnderstood
from .series import Series
from .table import Table

UNIT_IN = {"ft": 12.0, "m": 1000 / 25.4}
MEASURED, PREDICTED = "measured", "predicted"


@dataclass(frozen=True, slots=True)
class Told:
    """What a file may leave open: its unit (ft, m), the zone its times are in, and which of several to take."""

    unit: str | None = None
    zone: str | None = None
    parameter: str | None = None
    station: str | None = None


@dataclass(frozen=True, slots=True)
class GaugeFile:
    """A gauge file read: who keeps the gauge, which station, what was measured or predicted, and the readings."""

    keeper: str
    station: str
    parameter: str
    kind: str  # measured, predicted
    unit: str  # as the file has it
    series: Series
    missing: int  # rows with no figure: blank is missing, never zero
    repeated: int  # rows that say once more what another row said


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a file as arrays, row by row; a level that is missing is NaN."""

    at_min: np.ndarray
    level: np.ndarray
    flags: np.ndarray


@dataclass(frozen=True, slots=True)
class Named:
    keeper: str
    station: str
    parameter: str
    kind: str
    unit: str


def gathered(table: Table, columns: Columns, named: Named, level_column: str) -> GaugeFile:
    """The rows with a figure in order of time. Raises FileNotUnderstood where two rows contradict each other."""
    there = ~np.isnan(columns.level)
    if not len(there):
        raise FileNotUnderstood("There is a heading, but no reading under it.")
    if not there.any():
        raise FileNotUnderstood("Every reading is blank: there is nothing to keep.", column=level_column)
    at, level, flags = (column[there] for column in (columns.at_min, columns.level, columns.flags))
    rows = np.flatnonzero(there)
    order = np.argsort(at, kind="stable")
    at, level, flags, rows = at[order], level[order], flags[order], rows[order]
    again = np.concatenate(([False], at[1:] == at[:-1]))
    for place in np.flatnonzero(again):
        if level[place] != level[place - 1]:
            why = f"line {table.lines[rows[place - 1]]:,} has another level at this time."
            raise FileNotUnderstood(why, line=table.lines[rows[place]], column=level_column)
    series = Series(at[~again], level[~again] * UNIT_IN[named.unit], flags[~again])
    missing, repeated = int((~there).sum()), int(again.sum())
    return GaugeFile(named.keeper, named.station, named.parameter, named.kind, named.unit, series, missing, repeated)
