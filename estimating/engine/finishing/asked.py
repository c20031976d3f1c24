"""What jobs still need, and the goods that could go to any of them."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class StillNeeded:
    """What one job, or one section of it, still lacks of one item. Raises ValueError if that is not above zero."""

    job: str
    item: str
    quantity: Decimal
    needed_by: date
    section: str = ""

    def __post_init__(self) -> None:
        if self.quantity <= 0:
            raise ValueError("what is still needed is above zero")


@dataclass(frozen=True, slots=True)
class Goods:
    """Goods nobody has set aside: in the yard (`on` None), or promised for a day. Raises ValueError below zero."""

    item: str
    quantity: Decimal
    on: date | None = None

    def __post_init__(self) -> None:
        if self.quantity < 0:
            raise ValueError("there are no goods or some")
