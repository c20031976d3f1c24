"""Open gauge files, told apart by how they begin. A file that is not understood is refused whole."""

from collections.abc import Callable

from . import canada, noaa, plain, usgs
from .faults import FileNotUnderstood
from .gauge_file import GaugeFile, Told
from .table import lines_of, plain_name

LONGEST_SAID = 60


def read_gauge_file(data: bytes, told: Told | None = None) -> GaugeFile:
    """The readings in a file of NOAA, USGS or Environment Canada, or in a plain list of times and levels.

    Raises ChoiceNeeded for what the file leaves open and `told` does not say, FileNotUnderstood naming the line and
    column of what cannot be read.
    """
    told = told or Told()
    lines = lines_of(data)
    reader = _reader(lines)
    return reader(lines, told)


def _reader(lines: list[str]) -> Callable[[list[str], Told], GaugeFile]:
    number, first = next((number, line) for number, line in enumerate(lines, 1) if line.strip())
    start = first.strip()
    if start.startswith("<"):
        raise FileNotUnderstood("This is a web page, not a gauge’s readings. Save the file itself.", line=number)
    if start.casefold().startswith(("error", "wrong")):
        raise FileNotUnderstood(f"The gauge’s keeper sent no readings but “{_short(start)}”", line=number)
    if start.startswith("#") or start.startswith("agency_cd\t"):
        return usgs.read
    names = [plain_name(name) for name in first.split(",")]
    if noaa.is_heading(names):
        return noaa.read
    if canada.is_heading(names):
        return canada.read
    if plain.separator_of(first):
        return plain.read
    why = f"“{_short(start)}” is no heading of a gauge file: a date, then a level."
    raise FileNotUnderstood(why, line=number)


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_SAID else f"{text[:LONGEST_SAID]}…"
