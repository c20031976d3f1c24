"""Money as Decimal: to the cent, half a cent up, and shares that add up on paper."""

import re
from collections.abc import Sequence
from decimal import ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction

CENT = Decimal("0.01")
LARGEST = Decimal("999999999.99")


class MoneyNotUnderstood(ValueError):
    """The typed text is not an amount; the message says what to type."""


def to_cents(amount: Decimal | int) -> Decimal:
    """The amount rounded to cents, half a cent away from zero.

    Raises TypeError for a float: binary fractions have already lost the cent.

    >>> to_cents(Decimal("2.345")), to_cents(Decimal("-2.345")), to_cents(3)
    (Decimal('2.35'), Decimal('-2.35'), Decimal('3.00'))
    """
    return _exact(amount).quantize(CENT, rounding=ROUND_HALF_UP)


def round_to(amount: Decimal | int, step: Decimal | int) -> Decimal:
    """The nearest multiple of `step`, half a step up; step 0 leaves the amount to the cent.

    >>> round_to(Decimal("6744.78"), 10), round_to(Decimal("6745"), 10), round_to(Decimal("6744.785"), 0)
    (Decimal('6740.00'), Decimal('6750.00'), Decimal('6744.79'))
    """
    if step == 0:
        return to_cents(amount)
    if step < 0:
        raise ValueError("A rounding step can't be below zero.")
    steps = (_exact(amount) / _exact(step)).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return to_cents(steps * step)


def cap_down(amount: Decimal | int, *caps: Decimal | int | None) -> Decimal:
    """The smallest of the amount and its caps, rounded down to the cent; a cap of None does not bind.

    >>> cap_down(Decimal("2250.339")), cap_down(Decimal("675.00"), None, 1000), cap_down(Decimal("1675"), 1000)
    (Decimal('2250.33'), Decimal('675.00'), Decimal('1000.00'))
    """
    lowest = min([_exact(amount), *(_exact(cap) for cap in caps if cap is not None)])
    return lowest.quantize(CENT, rounding=ROUND_FLOOR)


def share(total: Decimal | int, weights: Sequence[Decimal | int]) -> list[Decimal]:
    """Split a total by weights into amounts that add up to it exactly; the last takes the odd cents.

    All but the last are rounded toward zero, so no share ever runs ahead of its weight or changes sign.
    Raises ValueError for no weights, a weight below zero, or weights that are all zero.

    >>> share(Decimal("100.00"), [1, 1, 1])
    [Decimal('33.33'), Decimal('33.33'), Decimal('33.34')]
    >>> share(Decimal("0.05"), [1] * 3)
    [Decimal('0.01'), Decimal('0.01'), Decimal('0.03')]
    """
    parts = [Fraction(_exact(weight)) for weight in weights]
    if not parts or min(parts) < 0 or sum(parts) == 0:
        raise ValueError("Shares need at least one weight above zero and none below.")
    whole = to_cents(total)
    whole_in_parts = Fraction(whole) / sum(parts)
    shares = [_toward_zero(whole_in_parts * part) for part in parts[:-1]]
    return [*shares, whole - sum(shares, Decimal(0))]


def format_money(amount: Decimal | int | None, *, places: int = 2) -> str:
    """Two decimals and a comma between thousands; no currency sign.

    >>> format_money(Decimal("6750")), format_money(Decimal("-1234567.895")), format_money(Decimal("0.0345"), places=4)
    ('6,750.00', '-1,234,567.90', '0.0345')
    """
    if amount is None:
        return ""
    return f"{_exact(amount).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP):,}"


def parse_money(text: str, *, places: int = 2) -> Decimal:
    """What was meant by `6750`, `6,750.00`, `6 750,00` or `$6,750`; signs of currency are ignored.

    A comma parts the thousands unless one or two digits follow it; the last of comma and point is the decimal mark.
    Raises MoneyNotUnderstood with a sentence that says what to type.

    >>> parse_money("6,750"), parse_money("6 750,50"), parse_money("0.0345", places=4)
    (Decimal('6750.00'), Decimal('6750.50'), Decimal('0.0345'))
    """
    bare = re.sub(r"^(-?)\s*[^\d\s.,-]{1,3}\s*|\s*[^\d\s.,-]{1,3}$", r"\1", text.strip().replace("−", "-"))
    bare = re.sub(r"[\s'’]", "", bare)
    point = _decimal_mark(bare)
    if not text.strip():
        raise MoneyNotUnderstood("Type an amount, like 6750 or 6,750.00.")
    digits = bare.replace("," if point == "." else ".", "").replace(point, ".")
    if not re.fullmatch(r"-?(\d+(\.\d*)?|\.\d+)", digits) or not _grouped(bare, point):
        raise MoneyNotUnderstood(f"“{text.strip()}” is not an amount. Type it like 6750 or 6,750.00.")
    if len(digits.partition(".")[2].rstrip("0")) > places:
        raise MoneyNotUnderstood(f"{text.strip()} has more than {places} decimals. Type it like {_example(places)}.")
    if abs(Decimal(digits)) > LARGEST:
        raise MoneyNotUnderstood(f"{text.strip()} is too large. The most is {format_money(LARGEST)}.")
    return Decimal(digits).quantize(Decimal(1).scaleb(-places))


def _decimal_mark(bare: str) -> str:
    if "," in bare and "." in bare:
        return "," if bare.rindex(",") > bare.rindex(".") else "."
    if bare.count(",") == 1 and len(bare.partition(",")[2]) in (1, 2):
        return ","
    return "."


def _grouped(bare: str, point: str) -> bool:
    whole, _, decimals = bare.lstrip("-").partition(point)
    groups = re.split(r"[,.]", whole)
    tidy = len(groups) == 1 or (1 <= len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:]))
    return tidy and not re.search(r"[,.]", decimals)


def _example(places: int) -> str:
    return "6750.00" if places == 2 else f"{Decimal('0.0345'):.{places}f}"


def _toward_zero(amount: Fraction) -> Decimal:
    cents = abs(amount) * 100
    rounded = (Decimal(cents.numerator // cents.denominator) / 100).quantize(CENT, rounding=ROUND_DOWN)
    return -rounded if amount < 0 else rounded


def _exact(amount: Decimal | int) -> Decimal:
    if isinstance(amount, float):
        raise TypeError("Money is never a float.")
    return Decimal(amount)
