"""Which sticks to buy for a list of pieces and how to cut each: cheapest, with proof."""

from .asked import Piece, ShopRules, StockLength, exact_in, yard_offcut
from .plan import Alike, CutPlan, Stick, TooLong
from .solve import plan_cuts

__all__ = [
    "Alike",
    "CutPlan",
    "Piece",
    "ShopRules",
    "Stick",
    "StockLength",
    "TooLong",
    "exact_in",
    "plan_cuts",
    "yard_offcut",
]
