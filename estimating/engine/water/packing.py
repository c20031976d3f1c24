"""A series as compressed bytes, one block to a year, so that a gauge that goes on reporting rewrites one block."""

import zlib
from collections.abc import Iterator

import numpy as np

from .series import Series

AT, LEVEL, FLAGS = np.dtype("<u4"), np.dtype("<f8"), np.dtype("u1")
ROW_BYTES = AT.itemsize + LEVEL.itemsize + FLAGS.itemsize


def by_year(series: Series) -> Iterator[tuple[int, Series]]:
    """The series year by year, UTC."""
    years = series.at_min.astype("datetime64[m]").astype("datetime64[Y]").astype(np.int64) + 1970
    found, starts = np.unique(years, return_index=True)
    ends = [*starts[1:], len(years)]
    for year, start, end in zip(found, starts, ends, strict=True):
        yield int(year), series.only(slice(int(start), int(end)))


def packed(series: Series, year: int) -> bytes:
    """The readings of one year; every level keeps all its digits."""
    at = (series.at_min - _start_min(year)).astype(AT)
    return zlib.compress(at.tobytes() + series.level_in.astype(LEVEL).tobytes() + series.flags.tobytes(), 1)


def unpacked(block: bytes, year: int) -> Series:
    """What was packed. Raises zlib.error or ValueError for bytes that were not."""
    data = zlib.decompress(block)
    count, left = divmod(len(data), ROW_BYTES)
    if left:
        raise ValueError("This is no block of readings.")
    at = np.frombuffer(data, AT, count).astype(np.int64) + _start_min(year)
    level = np.frombuffer(data, LEVEL, count, AT.itemsize * count)
    return Series(at, level, np.frombuffer(data, FLAGS, count, (AT.itemsize + LEVEL.itemsize) * count))


def joined(parts: list[Series]) -> Series:
    """Years put together again, each after the one before it."""
    if not parts:
        return Series.empty()
    return Series(*(np.concatenate([getattr(part, name) for part in parts]) for name in Series.__slots__))


def _start_min(year: int) -> int:
    return int(np.datetime64(f"{year:04d}", "m").astype(np.int64))
