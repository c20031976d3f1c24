"""Lengths and areas as they were typed, recovered from the floats they are kept in, so that an edge is an edge."""

from fractions import Fraction

# 64ths of an inch, thousandths of an inch and of a foot, and thousandths of a millimetre all fall on this grid.
GRID_PER_IN = 1_016_000
SQFT_PER_SQM = Fraction(100_000_000, 9_290_304)
AREA_PLACES = 10_000
NOISE = 1e-9


def exact_in(length_in: float) -> Fraction:
    """A length in inches as the fraction that was typed: a sum of floats and a typed float meet on the same one.

    Raises ValueError for what is no number. Source: GEOMETRY.

    >>> exact_in(1.5 / 0.0254) == Fraction(7500, 127), exact_in(60.0) > exact_in(1.5 / 0.0254)
    (True, True)
    >>> exact_in(0.1 + 0.2) == exact_in(0.3)
    True
    """
    return Fraction(round(Fraction(length_in) * GRID_PER_IN), GRID_PER_IN)


def exact_sqft(area_sqft: float) -> Fraction:
    """An area in square feet as it was typed, in square feet or in square metres. Source: GEOMETRY.

    >>> exact_sqft(96.0), exact_sqft(10 / 0.09290304) == 10 * SQFT_PER_SQM
    (Fraction(96, 1), True)
    """
    given = Fraction(area_sqft)
    feet = Fraction(round(given * AREA_PLACES), AREA_PLACES)
    metres = round(given / SQFT_PER_SQM * AREA_PLACES) * SQFT_PER_SQM / AREA_PLACES
    near = min((feet, metres), key=lambda typed: abs(typed - given))
    return near if abs(near - given) <= abs(given) * NOISE else given
