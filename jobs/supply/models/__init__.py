"""Needs, stock, orders, receipts and holds."""

from .holds import STAGES, Hold, HoldKind
from .needs import Need, SetAside
from .orders import ExpectedDate, Order, OrderLine, OrderShare, OrderState
from .receipts import Receipt, ReceiptLine, ReceiptPhoto, Return
from .stock import LedgerStays, Movement, MovementKind, Shelf, Stock

__all__ = [
    "STAGES",
    "ExpectedDate",
    "Hold",
    "HoldKind",
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
