"""When a stage may start, and which one thing governs that: pure Python, no database.

`read_gates(facts) -> Gates` stands in `reading`; what it is told in `facts`; days and seasons in `days`.
"""

from .days import CancellationRule, WorkDays, YearRange, cancellation_ends, inside_windows
from .facts import (
    DepositFacts,
    Gate,
    Gates,
    HoldFacts,
    IceFacts,
    LevelFacts,
    MaterialsFacts,
    PermitFacts,
    PreviousFacts,
    StageFacts,
)
from .reading import STAGE_NAMES, allows_day, in_water, in_yard, opens_by_itself, order_of, read_gates

__all__ = [
    "STAGE_NAMES",
    "CancellationRule",
    "DepositFacts",
    "Gate",
    "Gates",
    "HoldFacts",
    "IceFacts",
    "LevelFacts",
    "MaterialsFacts",
    "PermitFacts",
    "PreviousFacts",
    "StageFacts",
    "WorkDays",
    "YearRange",
    "allows_day",
    "cancellation_ends",
    "in_water",
    "in_yard",
    "inside_windows",
    "opens_by_itself",
    "order_of",
    "read_gates",
]
