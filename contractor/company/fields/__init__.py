"""Form fields for lengths, levels, weights, money and days: what was typed stays, what was understood is echoed."""

from contractor.company.fields.echoed import ECHOED, field_to_echo
from contractor.company.fields.figures import DayField, FigureField, MarginField, MileageField, MoneyField, PercentField
from contractor.company.fields.measures import (
    AmountField,
    AreaField,
    DistanceField,
    LengthField,
    LevelField,
    PressureField,
    WeightField,
)
from contractor.company.fields.signed import SignedPageField, scan_ending
from contractor.company.fields.typed import REFUSALS, UNKNOWN, TypedField, TypedInput

__all__ = [
    "ECHOED",
    "REFUSALS",
    "UNKNOWN",
    "AmountField",
    "AreaField",
    "DayField",
    "DistanceField",
    "FigureField",
    "LengthField",
    "LevelField",
    "MarginField",
    "MileageField",
    "MoneyField",
    "PercentField",
    "PressureField",
    "SignedPageField",
    "TypedField",
    "TypedInput",
    "WeightField",
    "field_to_echo",
    "scan_ending",
]
