"""Water levels and predictions of NOAA CO-OPS as CSV. Neither unit nor clock stands in the file.

Flags: I or O for what was inferred, F, R and L for a tolerance that was broken; quality p is preliminary. Source:
NOAA_COOPS.
"""

import numpy as np

from .faults import ChoiceNeeded
from .gauge_file import MEASURED, PREDICTED, UNIT_IN, Columns, GaugeFile, Named, Told, gathered
from .series import FLAGGED, PRELIMINARY
from .table import Table, cut, levels, plain_name
from .times import stamps, to_utc, zone_named

KEEPER = "NOAA CO-OPS"
LEVEL, PREDICTION = "water level", "prediction"
TOLERANCES = ("f", "r", "l")
INFERRED = ("i", "o or i (for verified)")


def is_heading(names: list[str]) -> bool:
    return len(names) > 1 and names[0] == "date time" and names[1] in (LEVEL, PREDICTION)


def read(lines: list[str], told: Told) -> GaugeFile:
    """Raises ChoiceNeeded for unit and clock, FileNotUnderstood."""
    table = cut(lines, ",")
    if told.unit not in UNIT_IN:
        raise ChoiceNeeded("unit", "This file does not say whether its levels are feet or metres. Choose one.")
    zone = zone_named(told.zone)
    predicted = plain_name(table.header[1]) == PREDICTION
    level = levels(table, 1)
    columns = Columns(to_utc(table, 0, stamps(table, 0).clock_min, zone), level, _flags(table))
    kind = PREDICTED if predicted else MEASURED
    named = Named(KEEPER, told.station or "", "Prediction" if predicted else "Water level", kind, told.unit)
    return gathered(table, columns, named, table.header[1])


def _flags(table: Table) -> np.ndarray:
    flags = np.zeros(len(table.rows), np.uint8)
    quality = table.find("quality")
    verified = np.zeros(len(table.rows), bool)
    if quality is not None:
        words = np.array(table.column(quality), dtype="U1")
        flags[words == "p"] |= PRELIMINARY
        verified = words == "v"
    for name in TOLERANCES:
        if (index := table.find(name)) is not None:
            flags[np.array(table.column(index), dtype="U1") == "1"] |= FLAGGED
    if (index := table.find(*INFERRED)) is not None:
        # In a preliminary row this column counts outliers: only in a verified one does it say inferred.
        inferred = np.array(table.column(index), dtype="U1") == "1"
        flags[inferred & (verified if quality is not None else True)] |= FLAGGED
    return flags
