"""One way to print any figure the engine hands over, by the name of its unit."""

from collections.abc import Callable
from decimal import Decimal

from contractor.money import format_money
from contractor.quantities.amounts import format_amount
from contractor.quantities.lengths import format_length
from contractor.quantities.levels import format_level
from contractor.quantities.systems import System

Figure = float | int | Decimal


def say(value: Figure | None, unit: str, system: System = "imperial") -> str:
    """A figure with its unit, in the firm's system; "unknown" for None.

    Units: `in` (a length), `in_cut` (a cut length), `in_small` (inches to 0.1), `ft_level` (inches, read as decimal
    feet), `lb`, `psf`, `sqft`, `cuft`, `mi`, `h`, `count`, `money`, `deg`, `percent`; any other is printed as it is.

    >>> say(192, "in"), say(18.07, "in_small"), say(42, "ft_level"), say(850.4, "lb"), say(34, "h")
    ('16′ 0″', '18.1 in', '3.5 ft', '850 lb', '34.0 h')
    >>> say(18.07, "in_small", "metric"), say(17.46, "deg"), say(Decimal("12.07"), "percent"), say(48, "count")
    ('459 mm', '17.5°', '12.07%', '48')
    """
    if value is None:
        return "unknown"
    return _SAYINGS.get(unit, lambda value, _: f"{_plain(value, 3)} {unit}".strip())(value, system)


def _small_length(value: Figure, system: System) -> str:
    if system == "metric":
        return f"{round(float(value) * 25.4) or 0:,} mm"
    return f"{round(float(value), 1) or 0.0:,.1f} in"


def _plain(value: Figure, places: int) -> str:
    text = f"{round(value, places) or 0:,.{places}f}"
    return text.rstrip("0").rstrip(".") if places else text


_SAYINGS: dict[str, Callable[[Figure, System], str]] = {
    "in": lambda value, system: format_length(float(value), system),
    "in_cut": lambda value, system: format_length(float(value), system, style="cut"),
    "in_small": _small_length,
    "ft_level": lambda value, system: format_level(float(value), system),
    "lb": lambda value, system: format_amount(float(value), "weight", system),
    "psf": lambda value, system: format_amount(float(value), "pressure", system),
    "sqft": lambda value, system: format_amount(float(value), "area", system),
    "cuft": lambda value, system: format_amount(float(value), "volume", system),
    "mi": lambda value, system: format_amount(float(value), "distance", system),
    "h": lambda value, _: f"{round(float(value), 1) or 0.0:,.1f} h",
    "count": lambda value, _: _plain(value, 2),
    "money": lambda value, _: format_money(value if isinstance(value, Decimal) else Decimal(str(value))),
    "deg": lambda value, _: f"{round(float(value), 1) or 0.0:.1f}°",
    "percent": lambda value, _: f"{_plain(value, 2)}%",
    "": lambda value, _: _plain(value, 3),
}
