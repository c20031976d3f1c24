"""The crew's paper and what comes back from it."""

from .defects import Defect, Severity
from .entries import EntriesStay, Entry, EntryKind, Source
from .orders import STAGE_NUMBERS, WorkOrder, WorkStage
from .photos import Photo

__all__ = [
    "STAGE_NUMBERS",
    "Defect",
    "EntriesStay",
    "Entry",
    "EntryKind",
    "Photo",
    "Severity",
    "Source",
    "WorkOrder",
    "WorkStage",
]
