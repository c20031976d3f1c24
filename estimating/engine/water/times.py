"""Times as gauge files write them, brought to UTC, the hours of daylight saving told apart."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np

from .faults import ChoiceNeeded, FileNotUnderstood
from .table import Table

MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}[ T]\d{2}:\d{2}(:\d{2}(\.\d+)?)?")
DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
OFFSET = re.compile(r"Z|[+-]\d{2}:?\d{2}")
NOON_MIN = 720
MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Stamps:
    """One column of times as written, minutes since 1970 on the clock of whoever wrote them."""

    clock_min: np.ndarray
    by_day: bool  # days only, no time: each stands at noon


def stamps(table: Table, index: int, texts: Sequence[str] | None = None) -> Stamps:
    """The times in a column, or the days. Raises FileNotUnderstood naming the line of the first that is neither."""
    texts = table.column(index) if texts is None else texts
    by_day = bool(texts) and bool(DAY.fullmatch(texts[0]))
    pattern = DAY if by_day else MOMENT
    for place, text in enumerate(texts):
        if not pattern.fullmatch(text):
            raise _no_time(table, index, place, text)
    try:
        clock = np.array(texts, dtype="U").astype("datetime64[m]")
    except ValueError:
        place = next(place for place, text in enumerate(texts) if not _is_moment(text))
        raise _no_time(table, index, place, texts[place]) from None
    minutes = clock.astype(np.int64)
    return Stamps(minutes + NOON_MIN if by_day else minutes, by_day)


def split_offsets(table: Table, index: int) -> tuple[list[str], np.ndarray]:
    """Times that carry their distance from UTC, like 2018-07-01T00:55:00-05:00: the times, and minutes ahead of UTC."""
    clocks, offsets, known = [], [], {}
    for place, text in enumerate(table.column(index)):
        clock, offset = (text[:-1], "Z") if text.endswith("Z") else (text[:-6], text[-6:])
        if offset not in known:
            if not OFFSET.fullmatch(offset):
                why = f"“{text}” does not say how far its clock is from UTC, like 2018-07-01T00:55:00-05:00."
                raise FileNotUnderstood(why, line=table.lines[place], column=table.header[index])
            known[offset] = _minutes(offset)
        clocks.append(clock)
        offsets.append(known[offset])
    return clocks, np.array(offsets, np.int64)


def zone_named(name: str | None) -> ZoneInfo:
    """The zone a person named. Raises ChoiceNeeded where none was, FileNotUnderstood for one nobody knows."""
    if not name:
        why = "This file does not say which clock its times are on. Choose one."
        raise ChoiceNeeded("zone", why)
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as unknown:
        raise FileNotUnderstood(f"“{name}” is no time zone.") from unknown


def to_utc(table: Table, index: int, clock_min: np.ndarray, zone: ZoneInfo) -> np.ndarray:
    """Minutes since 1970 in UTC of times on a zone's clock.

    In the hour that comes twice in autumn the first run through it is daylight saving and the second is standard time;
    where it is there once, it is the first. Raises FileNotUnderstood for a time the clock skipped in spring.
    """
    backwards = len(clock_min) > 1 and clock_min[0] > clock_min[-1]
    clock = clock_min[::-1] if backwards else clock_min
    days, of_day = np.unique(clock // 1440, return_inverse=True)
    starts = np.array([_offset_min(int(day) * 1440, zone, 0) for day in days], np.int64)
    ends = np.array([_offset_min(int(day + 1) * 1440, zone, 0) for day in days], np.int64)
    utc = clock - starts[of_day]
    seen = -1
    for place in np.flatnonzero((starts != ends)[of_day]):
        minute = int(clock[place])
        first, second = (_offset_min(minute, zone, fold) for fold in (0, 1))
        if first < second:
            row = len(clock) - 1 - place if backwards else place
            text = table.rows[row][index].strip()
            why = f"“{text}” was skipped when clocks went forward in {zone.key}. Choose the clock of the file."
            raise FileNotUnderstood(why, line=table.lines[row], column=table.header[index])
        at = minute - first
        if first != second and at <= seen:
            at = minute - second
        utc[place], seen = at, max(seen, at)
    return utc[::-1] if backwards else utc


def _offset_min(clock_min: int, zone: ZoneInfo, fold: int) -> int:
    clock = (datetime(1970, 1, 1) + clock_min * MINUTE).replace(tzinfo=zone, fold=fold)
    return int(clock.utcoffset() / MINUTE)


def _minutes(offset: str) -> int:
    if offset == "Z":
        return 0
    minutes = int(offset[1:3]) * 60 + int(offset[-2:])
    return -minutes if offset[0] == "-" else minutes


def _is_moment(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _no_time(table: Table, index: int, place: int, text: str) -> FileNotUnderstood:
    why = f"“{text}” is not a day and time like 2024-05-06 12:00." if text else "the time is missing."
    return FileNotUnderstood(why, line=table.lines[place], column=table.header[index])
