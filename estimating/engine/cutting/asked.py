"""What is to be cut, from what, and by which rules of the shop. Lengths are exact fractions of an inch."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil

NEAR_IN = 1e-6  # float dust; far below a saw's reach
FINEST = 64  # a length on no ruler is taken at the next 1/64 in up


def exact_in(length_in: float | Fraction) -> Fraction:
    """The exact length behind a float: a ruler's 64th or a half millimetre, else the next 64th up.

    >>> exact_in(95.75), exact_in(1000 / 25.4), exact_in(10.001)
    (Fraction(383, 4), Fraction(5000, 127), Fraction(641, 64))
    """
    if isinstance(length_in, Fraction):
        return length_in
    for grain in (Fraction(1, FINEST), Fraction(5, 254)):
        near = round(length_in / float(grain)) * grain
        if abs(float(near) - length_in) <= NEAR_IN:
            return near
    return Fraction(ceil(length_in * FINEST), FINEST)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece to cut: its mark in its section, and the job it is for. Raises ValueError if not above zero."""

    mark: str
    length_in: Fraction
    job: str = ""
    section: str = ""

    def __post_init__(self) -> None:
        if self.length_in <= 0:
            raise ValueError("every piece must be longer than zero")


@dataclass(frozen=True, slots=True)
class StockLength:
    """A length that can be bought at a price (None: nobody quoted it), or an offcut in the yard, which costs nothing.

    `limit`: how many there are; None means any number.
    """

    length_in: Fraction
    price: Decimal | None
    limit: int | None = None
    offcut: bool = False

    def __post_init__(self) -> None:
        if self.length_in <= 0 or (self.limit is not None and self.limit < 0):
            raise ValueError("a stock length is above zero, and there are none or more of it")
        if self.price is not None and self.price < 0:
            raise ValueError("a price is nothing or more")


def yard_offcut(length_in: Fraction, count: int = 1) -> StockLength:
    return StockLength(length_in, Decimal(0), count, offcut=True)


@dataclass(frozen=True, slots=True)
class ShopRules:
    """How the firm saws. Starter figures are common practice, no source.

    `kerf_in`: lost at each cut. `end_trim_in`: squared off every new stick, its cut included. `over_in`: what new
    sticks are trusted to run over their name. `keep_from_in`: offcuts this long go back to the yard.
    `offcuts_first`: cut the yard's offcuts before buying.
    """

    kerf_in: Fraction = Fraction(1, 8)
    end_trim_in: Fraction = Fraction(0)
    over_in: Fraction = Fraction(0)
    keep_from_in: Fraction = Fraction(36)
    offcuts_first: bool = True

    def __post_init__(self) -> None:
        if min(self.kerf_in, self.end_trim_in, self.over_in, self.keep_from_in) < 0:
            raise ValueError("kerf, trim, over-length and the shortest offcut kept are nothing or more")

    def usable_in(self, stock: StockLength) -> Fraction:
        """What can be cut from a stick: an offcut has been squared and measured, a new stick may run over its name."""
        return stock.length_in if stock.offcut else stock.length_in + self.over_in - self.end_trim_in

    def left_in(self, stock: StockLength, lengths: tuple[Fraction, ...]) -> Fraction:
        """What remains of a stick by its name after its pieces; the cut that frees the last piece is counted."""
        trimmed = stock.length_in if stock.offcut else stock.length_in - self.end_trim_in
        return max(Fraction(0), trimmed - sum(lengths) - self.kerf_in * len(lengths))
