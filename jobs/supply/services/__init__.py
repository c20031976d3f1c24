"""What the office and the yard do with goods."""

from .asides import give_up, issue_to_job, reserve, return_from_job, set_aside, share_out, take_from
from .holds import clear_hold, holds_of, set_hold
from .ledger import (
    NotOnHand,
    adjust_stock,
    count_shelf,
    cut_up,
    keep_offcut,
    move_shelf,
    offcuts_on_hand,
    shelf_called,
    stock_of,
)
from .needs import add_need, apply_difference, cancel_need, difference_to, needs_from_quote, retime_needs
from .standing import MaterialsStanding, materials_by_stage, materials_for, value_of

__all__ = [
    "MaterialsStanding",
    "NotOnHand",
    "add_need",
    "adjust_stock",
    "apply_difference",
    "cancel_need",
    "clear_hold",
    "count_shelf",
    "cut_up",
    "difference_to",
    "give_up",
    "holds_of",
    "issue_to_job",
    "keep_offcut",
    "materials_by_stage",
    "materials_for",
    "move_shelf",
    "needs_from_quote",
    "offcuts_on_hand",
    "reserve",
    "retime_needs",
    "return_from_job",
    "set_aside",
    "set_hold",
    "share_out",
    "shelf_called",
    "stock_of",
    "take_from",
    "value_of",
]
