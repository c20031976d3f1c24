"""What the crew is given to work from, and what comes back."""

from .afloat import causes_of
from .basis import Basis, NothingToBuild, basis_of, work_of, worked_out
from .defects import (
    Found,
    ReasonMissing,
    defect_words,
    holding_defects,
    next_stage,
    open_defect,
    open_defects,
    sign_off,
)
from .keying import Kept, Keyed, Standing, hours_of, key_in, page_of, standing_entries
from .lists import lists_of
from .orders import later_letter, print_orders, sheets_of
from .pages import OrdersBoard, SheetPage, crew_board, faults_said, find_order, orders_board, sheet_page
from .photos import PhotoRefused, keep_photo

__all__ = [
    "Basis",
    "Found",
    "Kept",
    "Keyed",
    "NothingToBuild",
    "OrdersBoard",
    "PhotoRefused",
    "ReasonMissing",
    "SheetPage",
    "Standing",
    "basis_of",
    "causes_of",
    "crew_board",
    "defect_words",
    "faults_said",
    "find_order",
    "holding_defects",
    "hours_of",
    "keep_photo",
    "key_in",
    "later_letter",
    "lists_of",
    "next_stage",
    "open_defect",
    "open_defects",
    "orders_board",
    "page_of",
    "print_orders",
    "sheet_page",
    "sheets_of",
    "sign_off",
    "standing_entries",
    "work_of",
    "worked_out",
]
