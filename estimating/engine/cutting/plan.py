"""A cutting plan: which sticks to take, what to cut from each in order, what is left, and how good that provably is."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimating.engine.reasons import Reason

from .asked import Piece, StockLength


@dataclass(frozen=True, slots=True)
class Stick:
    """One stick: its pieces in cutting order, longest first, and what is left of it."""

    stock: StockLength
    pieces: tuple[Piece, ...]
    left_in: Fraction
    kept: bool  # goes back to the yard


@dataclass(frozen=True, slots=True)
class Alike:
    """Sticks of one stock length cut to the same lengths: 'make 8'."""

    stock: StockLength
    lengths: tuple[Fraction, ...]
    sticks: tuple[Stick, ...]

    @property
    def times(self) -> int:
        return len(self.sticks)

    @property
    def left_in(self) -> Fraction:
        return self.sticks[0].left_in

    @property
    def kept(self) -> bool:
        return self.sticks[0].kept


@dataclass(frozen=True, slots=True)
class TooLong:
    """A piece no stick can give, with the longest stick there is (None: there is no stock at all)."""

    piece: Piece
    longest_in: Fraction | None


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The plan for one lumber item.

    `cost` is what is bought; `least_cost` is proven: no plan for these pieces costs less. `short`: pieces for which
    limited stock ran out. `unpriced`: the cost leaves out sticks nobody quoted.
    """

    item: str
    groups: tuple[Alike, ...]
    cost: Decimal
    least_cost: Decimal
    proven: bool
    fewest: bool  # proven: no plan of this cost has fewer different sticks
    too_long: tuple[TooLong, ...]
    short: tuple[Piece, ...]
    unpriced: bool
    reason: Reason

    @property
    def sticks(self) -> tuple[Stick, ...]:
        return tuple(stick for group in self.groups for stick in group.sticks)

    @property
    def to_buy(self) -> tuple[tuple[Fraction, int], ...]:
        """New sticks by length, longest first."""
        bought: Counter[Fraction] = Counter()
        for group in self.groups:
            if not group.stock.offcut:
                bought[group.stock.length_in] += group.times
        return tuple(sorted(bought.items(), reverse=True))

    @property
    def from_yard(self) -> tuple[tuple[Fraction, int], ...]:
        """Offcuts taken from the yard by length, longest first."""
        taken: Counter[Fraction] = Counter()
        for group in self.groups:
            if group.stock.offcut:
                taken[group.stock.length_in] += group.times
        return tuple(sorted(taken.items(), reverse=True))

    @property
    def to_yard(self) -> tuple[tuple[Fraction, int], ...]:
        """Offcuts that go back to the yard by length, longest first."""
        kept = Counter(stick.left_in for stick in self.sticks if stick.kept)
        return tuple(sorted(kept.items(), reverse=True))

    @property
    def above_percent(self) -> float:
        """How far above the least possible the cost may be at most, in percent of it."""
        if self.proven or not self.least_cost:
            return 0.0 if self.proven else float("inf")
        return float((self.cost - self.least_cost) / self.least_cost * 100)

    @property
    def words(self) -> str:
        """How good the plan is: 'the least possible', or 'at most 0.3 % above the least possible'."""
        if self.proven:
            return "the least possible"
        if self.above_percent == float("inf"):
            return "how far above the least possible is not known"
        tenths = -(-self.above_percent * 10 // 1)
        return f"at most {max(tenths, 1) / 10:g} % above the least possible"
