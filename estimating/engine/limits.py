"""Hard limits, which only stop nonsense, and the inspector that gathers every fault before giving up."""

import math
from collections.abc import Container, Mapping
from dataclasses import dataclass

from .parts import Good
from .reasons import Amount, Fault, Sentence, SpecFaults


@dataclass(frozen=True, slots=True)
class Limit:
    """What a figure is called and the range outside which it is nonsense."""

    name: str
    low: float
    high: float
    unit: str = "in"


SECTION_LENGTH = Limit("Length", 24, 1200)
SECTION_WIDTH = Limit("Width", 12, 720)
POSITION = Limit("Place in plan", -60_000, 60_000)
STRINGERS = Limit("Stringers", 2, 60, "count")
CROSS_SPACING = Limit("Cross member spacing", 8, 600)
GAP = Limit("Gap between boards", 0, 2)
OVERHANG = Limit("Overhang", 0, 12)
ROWS = Limit("Rows of floats", 1, 60, "count")
COLUMNS = Limit("Columns of floats", 1, 60, "count")
FLOAT_SIZE = Limit("Size of the float", 1, 240)
FLOAT_WEIGHT = Limit("Own weight of the float", 0, 10_000, "lb")
FLOAT_LIFT = Limit("Net lift of the float", 1, 100_000, "lb")
RAMP_LENGTH = Limit("Length of the ramp", 24, 1200)
RAMP_WIDTH = Limit("Width of the ramp", 18, 240)
OFFSET = Limit("Distance along the edge", 0, 60_000)
LEVEL = Limit("Level", -240_000, 240_000, "ft_level")
DEPTH = Limit("Depth", 0, 12_000, "ft_level")
SOUNDING = Limit("Depth", -1200, 12_000, "ft_level")
REACH = Limit("Offset of the anchor", -12_000, 12_000)
CHAIN = Limit("Chain", 12, 24_000)
QUANTITY = Limit("How many", 1, 999, "count")
BANK = Limit("Height of the bank", -1200, 12_000, "ft_level")
CARRY = Limit("Carry", 0, 240_000)
WATER_F = Limit("Water temperature", 20, 120, "°F")
MILES = Limit("One way", 0, 2000, "mi")
CURRENT_KN = Limit("Current", 0, 30, "kn")
FETCH_MI = Limit("Open water", 0, 1000, "mi")
LIVE_LOAD = Limit("Live load", 1, 500, "psf")


def is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


class Inspector:
    """Gathers faults, so that a person sees all of them at once."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def fault(self, field: str, text: str, *values: Amount | str) -> None:
        self.faults.append(Fault(field, Sentence(text, values)))

    def measure(self, field: str, value: object, limit: Limit, whose: str = "") -> bool:
        """True when the figure is a number within its limit."""
        name = f"{limit.name} of {whose}" if whose else limit.name
        low, high = Amount(limit.low, limit.unit), Amount(limit.high, limit.unit)
        if value is None:
            self.fault(field, "{0} is missing. Give it between {1} and {2}.", name, low, high)
        elif not is_number(value):
            self.fault(field, "{0} is not a number. Give it between {1} and {2}.", name, low, high)
        elif not limit.low <= value <= limit.high:
            self.fault(field, "{0}: between {1} and {2}; {3} was given.", name, low, high, Amount(value, limit.unit))
        else:
            return True
        return False

    def measure_if_given(self, field: str, value: object, limit: Limit, whose: str = "") -> bool:
        return value is None or self.measure(field, value, limit, whose)

    def whole_if_given(self, field: str, value: object, limit: Limit, whose: str = "") -> bool:
        if value is None:
            return True
        if is_number(value) and value != int(value):
            self.fault(field, "{0} must be a whole number; {1} was given.", limit.name, Amount(value, "count"))
            return False
        return self.measure(field, value, limit, whose)

    def one_of(self, field: str, value: object, allowed: tuple[str, ...], name: str) -> bool:
        if value in allowed:
            return True
        self.fault(field, "{0} must be one of: {1}. “{2}” was given.", name, ", ".join(allowed), str(value))
        return False

    def known(self, field: str, code: str, among: Container[str], name: str) -> bool:
        if code in among:
            return True
        self.fault(field, "{0}: “{1}” is not in the catalogue.", name, str(code))
        return False

    def good(self, field: str, code: str, goods: Mapping[str, Good], kind: str) -> bool:
        """True when the code is a good of this kind."""
        if not self.known(field, code, goods, kind.capitalize()):
            return False
        if goods[code].kind == kind:
            return True
        self.fault(field, "{0} is not listed as {1} in the catalogue.", goods[code].name, kind)
        return False

    def stop_here(self) -> None:
        """Raises SpecFaults with every fault gathered so far, if there is any."""
        if self.faults:
            raise SpecFaults(self.faults)
