"""Needs, stock, orders, receipts and holds."""

from .holds import KNOWN_KINDS, STAGES, Hold, HoldKind
from .needs import KeptAdvice, Need, SetAside
from .orders import ExpectedDate, Order, OrderLine, OrderShare, OrderState
from .receipts import Receipt, ReceiptLine, ReceiptPhoto, Return
from .stock import LedgerStays, Movement, MovementKind, Shelf, Stock

__all__ = [
    "KNOWN_KINDS",
    "STAGES",
    "ExpectedDate",
    "Hold",
    "HoldKind",
    "KeptAdvice",
    "LedgerStays",
    "Movement",
    "MovementKind",
    "Need",
    "Order",
    "OrderLine",
    "OrderShare",
    "OrderState",
    "Receipt",
    "ReceiptLine",
    "ReceiptPhoto",
    "Return",
    "SetAside",
    "Shelf",
    "Stock",
]
