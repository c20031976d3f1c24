"""The least any cutting plan can cost: patterns made as they are needed, and a bound in whole numbers."""

from collections.abc import Iterable
from dataclasses import dataclass

import highspy
import numpy as np

from estimating.engine.solver import QuietSolver

from .knapsack import Values
from .whole import Column, Whole

FINE = 1_000_000  # parts of a cent in which pieces are valued
ROUNDS = 400


@dataclass(frozen=True, slots=True)
class Relaxed:
    """Proven: no plan costs less than `bound` parts of a cent. `worth` by piece, `rent` by bin, `columns` made."""

    bound: int
    values: Values
    rent: tuple[int, ...]
    columns: tuple[Column, ...]
    shares: tuple[float, ...]  # how often each column is cut when sticks may be split


def relax(whole: Whole, start: Iterable[Column]) -> Relaxed:
    """Price patterns in until none is worth more than its stick, then prove the bound with rounded values."""
    master = _Master(whole, start)
    values, rent = master.solve()
    for _ in range(ROUNDS):
        fresh = master.add(_worthwhile(whole, values, rent))
        if not fresh:
            break
        values, rent = master.solve()
    bound, values, rent = _proven(whole, values, rent)
    return Relaxed(bound, values, rent, tuple(master.columns), tuple(master.shares))


def _worthwhile(whole: Whole, values: Values, rent: tuple[int, ...]) -> list[Column]:
    found = []
    for number, one in enumerate(whole.bins):
        price = one.cost * FINE + rent[number]
        if values.most(one.room) > price + FINE // 100_000:
            found.append(Column(number, values.pattern(one.room)))
    return found


def _proven(whole: Whole, values: Values, rent: tuple[int, ...]) -> tuple[int, Values, tuple[int, ...]]:
    """Values that no stick can beat: endless stock scales them down, limited stock pays rent for the rest."""
    over = [
        (values.most(b.room), b.cost * FINE + r)
        for b, r in zip(whole.bins, rent, strict=True)
        if b.limit is None and values.most(b.room) > b.cost * FINE + r
    ]
    if over:
        most, price = max(over, key=lambda pair: pair[0] / max(pair[1], 1))
        values = Values(whole, [worth * price // most for worth in values.worth])
    rent = tuple(0 if b.limit is None else max(0, values.most(b.room) - b.cost * FINE) for b in whole.bins)
    gained = sum(worth * count for worth, count in zip(values.worth, whole.counts, strict=True))
    paid = sum(r * b.limit for r, b in zip(rent, whole.bins, strict=True) if b.limit is not None)
    return gained - paid, values, rent


class _Master:
    def __init__(self, whole: Whole, start: Iterable[Column]):
        self.whole = whole
        self.columns: list[Column] = []
        self.shares: list[float] = []
        self._known: set[Column] = set()
        self._solver = QuietSolver()
        self._limited = [number for number, one in enumerate(whole.bins) if one.limit is not None]
        for count in whole.counts:
            self._solver.addRow(count, highspy.kHighsInf, 0, [], [])
        for number in self._limited:
            self._solver.addRow(-highspy.kHighsInf, whole.bins[number].limit, 0, [], [])
        self.add(start)

    def add(self, columns: Iterable[Column]) -> int:
        fresh = [one for one in dict.fromkeys(columns) if one not in self._known]
        for column in fresh:
            rows, entries = self._entries(column)
            cost = float(self.whole.bins[column.bin].cost)
            self._solver.addCol(cost, 0, highspy.kHighsInf, len(rows), rows, entries)
        self.columns += fresh
        self._known.update(fresh)
        return len(fresh)

    def _entries(self, column: Column) -> tuple[np.ndarray, np.ndarray]:
        rows = [row for row, taken in enumerate(column.pattern) if taken]
        entries = [float(column.pattern[row]) for row in rows]
        if column.bin in self._limited:
            rows.append(len(self.whole.counts) + self._limited.index(column.bin))
            entries.append(1.0)
        return np.array(rows, dtype=np.int32), np.array(entries)

    def solve(self) -> tuple[Values, tuple[int, ...]]:
        self._solver.run()
        found = self._solver.getSolution()
        self.shares = list(found.col_value)
        duals = list(found.row_dual)
        worth = [max(0, int(dual * FINE)) for dual in duals[: len(self.whole.counts)]]
        rent = [0] * len(self.whole.bins)
        for number, dual in zip(self._limited, duals[len(self.whole.counts) :], strict=True):
            rent[number] = max(0, int(-dual * FINE))
        return Values(self.whole, worth), tuple(rent)
