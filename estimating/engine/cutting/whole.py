"""The cutting problem in whole numbers: every length in one small unit, every price in cents.

A pattern is how many pieces of each length come from one stick. n pieces need n - 1 cuts when they fill the stick, so
a pattern fits when the pieces, each with one kerf, are no longer than the usable stick and one kerf.
"""

from dataclasses import dataclass

Pattern = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Bin:
    """A stock length: room for pieces with their kerfs, cost in cents, how many there are (None: any number)."""

    room: int
    cost: int
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class Whole:
    """Pieces by length, longest first: `sizes` are length and one kerf, `counts` how many are wanted."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    bins: tuple[Bin, ...]

    @property
    def room(self) -> int:
        return max(one.room for one in self.bins)

    def holds_always(self, size: int) -> bool:
        return any(size <= one.room and one.limit is None for one in self.bins)

    def used(self, pattern: Pattern) -> int:
        return sum(size * count for size, count in zip(self.sizes, pattern, strict=True))


@dataclass(frozen=True, slots=True)
class Column:
    """One way to cut one stock length."""

    bin: int
    pattern: Pattern


Answer = dict[Column, int]
"""How often each column is cut."""


def drawn(whole: Whole, answer: Answer) -> list[int]:
    """Sticks taken of each bin."""
    taken = [0] * len(whole.bins)
    for column, times in answer.items():
        taken[column.bin] += times
    return taken


def covers(whole: Whole, answer: Answer) -> bool:
    """Whether every wanted piece is cut and no limited stock overdrawn."""
    cut = [sum(column.pattern[row] * times for column, times in answer.items()) for row in range(len(whole.counts))]
    enough = all(have >= count for have, count in zip(cut, whole.counts, strict=True))
    taken = zip(whole.bins, drawn(whole, answer), strict=True)
    return enough and all(one.limit is None or used <= one.limit for one, used in taken)


def cost_of(whole: Whole, answer: Answer) -> int:
    return sum(whole.bins[column.bin].cost * times for column, times in answer.items())
