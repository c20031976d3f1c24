"""Water levels and depths: decimal feet or metres, never feet and inches. Kept in inches; unknown is None, not zero."""

import re

from contractor.quantities.lengths import (
    LengthNotUnderstood,
    Unit,
    edit_text,
    native_unit,
    parse_length,
)
from contractor.quantities.systems import System, other_system

UNKNOWN = "U"


def parse_level(text: str, *, system: System = "imperial", default_unit: Unit | None = None) -> float | None:
    """Inches above (or with a minus, below) the datum; None for `U`, `unknown` or `?`.

    A bare number is decimal feet, or metres in a metric firm. Raises LengthNotUnderstood.

    >>> parse_level("5.9 ft"), parse_level("-1.5"), parse_level("U")
    (70.8, -18.0, None)
    """
    if re.fullmatch(r"\s*(u|unknown|\?+)\s*", text, re.IGNORECASE):
        return None
    try:
        return parse_length(text, system=system, default_unit=default_unit, signed=True)
    except LengthNotUnderstood as refused:
        typed, unit = text.strip(), native_unit("ft", system)
        if typed and "is not a length" not in str(refused):
            raise
        wrong, what = (f"“{typed}” is not a height or depth. ", "it") if typed else ("", "a height or depth")
        raise LengthNotUnderstood(f"{wrong}Type {what} in {unit}, like 5.9, or U if nobody knows.") from refused


def format_level(level_in: float | None, system: System) -> str:
    """Decimal feet, one or two decimals, or metres with two; "unknown" for None.

    >>> format_level(42, "imperial"), format_level(70.85, "imperial"), format_level(70.8, "metric")
    ('3.5 ft', '5.9 ft', '1.80 m')
    >>> format_level(39, "imperial"), format_level(None, "metric")
    ('3.25 ft', 'unknown')
    """
    if level_in is None:
        return "unknown"
    if system == "metric":
        return f"{_no_minus_zero(level_in * 0.0254):,.2f} m"
    level_ft = f"{_no_minus_zero(level_in / 12):,.2f}"
    return f"{level_ft[:-1] if level_ft.endswith('0') else level_ft} ft"


def edit_level(level_in: float | None, system: System) -> str:
    """The level as plain text for a box; it parses back to exactly the same float.

    >>> edit_level(70.8, "imperial"), edit_level(1800 / 25.4, "metric"), edit_level(None, "metric")
    ('5.9 ft', '1.8 m', 'U')
    """
    if level_in is None:
        return UNKNOWN
    decimal_ft = f"{round(level_in / 12, 4):f}".rstrip("0")
    as_feet = f"{decimal_ft}0 ft" if decimal_ft.endswith(".") else f"{decimal_ft} ft"
    if system == "imperial" and parse_level(as_feet) == level_in:
        return as_feet
    return edit_text(level_in, system)


def echo_level(level_in: float | None, system: System) -> str:
    """What was understood, in the firm's units and then in the other; "unknown" for None."""
    if level_in is None:
        return "unknown"
    return f"{format_level(level_in, system)}, {format_level(level_in, other_system(system))}"


def _no_minus_zero(value: float) -> float:
    return round(value, 2) or 0.0
