"""Money to the cent, and numbers that can be followed with a pencil."""

from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal

CENT = Decimal("0.01")
HUNDREDTH = Decimal("0.01")
ZERO = Decimal("0.00")


def cents(amount: Decimal) -> Decimal:
    """To the nearest cent, half a cent up.

    >>> cents(Decimal("1.005")), cents(Decimal("2"))
    (Decimal('1.01'), Decimal('2.00'))
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def cents_down(amount: Decimal) -> Decimal:
    """To the cent, never up: caps and deposits.

    >>> cents_down(Decimal("1.009"))
    Decimal('1.00')
    """
    return amount.quantize(CENT, ROUND_DOWN)


def share(amount: Decimal, percent: Decimal) -> Decimal:
    """So many percent of an amount, not yet rounded."""
    return amount * percent / 100


def to_step(amount: Decimal, step: Decimal) -> Decimal:
    """The nearest multiple of a step, half a step up; a step of 0 leaves the amount alone.

    >>> to_step(Decimal("6744.78"), Decimal("50")), to_step(Decimal("6725.00"), Decimal("50"))
    (Decimal('6750.00'), Decimal('6750.00'))
    """
    if step == 0:
        return amount
    return cents((amount / step).quantize(Decimal(1), ROUND_HALF_UP) * step)


def up_to_step(amount: Decimal, step: Decimal) -> Decimal:
    """The next multiple of a step that is not below the amount.

    >>> up_to_step(Decimal("33.55"), Decimal("0.25"))
    Decimal('33.75')
    """
    return (amount / step).quantize(Decimal(1), ROUND_UP) * step


def exact(number: float, places: int = 4) -> Decimal:
    """A measured float as a Decimal to so many places.

    >>> exact(0.1 + 0.2)
    Decimal('0.3000')
    """
    return Decimal(repr(number)).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
