"""Lengths, levels, weights and areas: as people type them, as they read them, and nothing lost between."""

from contractor.quantities.amounts import (
    AmountNotUnderstood,
    echo_amount,
    edit_amount,
    format_amount,
    parse_amount,
)
from contractor.quantities.lengths import (
    LengthNotUnderstood,
    echo,
    edit_text,
    format_length,
    native_unit,
    parse_length,
)
from contractor.quantities.levels import (
    echo_level,
    edit_level,
    format_level,
    parse_level,
)
from contractor.quantities.systems import NotUnderstood, System, other_system
from contractor.quantities.words import say

__all__ = [
    "AmountNotUnderstood",
    "LengthNotUnderstood",
    "NotUnderstood",
    "System",
    "echo",
    "echo_amount",
    "echo_level",
    "edit_amount",
    "edit_level",
    "edit_text",
    "format_amount",
    "format_length",
    "format_level",
    "native_unit",
    "other_system",
    "parse_amount",
    "parse_length",
    "parse_level",
    "say",
]
