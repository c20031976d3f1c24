"""What to write on the driver's slip before anybody signs it."""

from collections.abc import Iterable
from decimal import Decimal

from jobs.supply.models import ReceiptLine


def slip_words(lines: Iterable[ReceiptLine]) -> str:
    """The note in the order of the count; empty if all came as the slip says and whole.

    Lines that came as they should are left out: the driver signs what is wrong.
    """
    said = [_line(line) for line in lines]
    return " ".join(part for part in said if part)


def _line(line: ReceiptLine) -> str:
    parts = []
    short = line.slip - line.counted
    if short > 0:
        parts.append(f"{_n(short)} short")
    if short < 0:
        parts.append(f"{_n(-short)} more than the slip")
    if line.damaged:
        parts.append(f"{_n(line.damaged)} damaged{f' ({line.note})' if line.note else ''}")
    if line.instead_of_id or (line.order_line_id is None):
        parts.append("not what was ordered")
    if line.to_return > line.damaged:
        parts.append(f"{_n(line.to_return - line.damaged)} over, returned")
    if not parts:
        return ""
    return f"{line.stock}: {_n(line.counted)} received, {', '.join(parts)}, {_n(line.accepted)} kept."


def _n(quantity: Decimal) -> str:
    return f"{quantity.normalize():f}"
