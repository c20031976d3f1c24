"""The kinds of value an item's facts hold: read from a file, written back exactly, said in the firm's units."""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any, Protocol

from contractor.company.current import firm
from contractor.company.days import format_day, parse_day
from contractor.money import MoneyNotUnderstood, format_money, parse_money
from contractor.quantities import (
    NotUnderstood,
    System,
    format_amount,
    format_length,
    parse_amount,
    parse_length,
)

KG_PER_M = 1.4881639435695538  # one pound per foot: 0.45359237 kg over 0.3048 m
ISO = re.compile(r"\d{4}-\d{1,2}-\d{1,2}")
WORDED = re.compile(r"[A-Za-z]{3}.*\d{4}")


class NotRead(NotUnderstood):
    """Typed text that is no such value; the message says what to type."""


class Value(Protocol):
    """`read` takes text with bare numbers in the heading's unit; `write` gives text that reads back exactly."""

    def read(self, text: str) -> Any: ...

    def write(self, value: Any) -> str: ...

    def say(self, value: Any, system: System) -> str: ...


class _Plain:
    """Values that are the same in every firm's units."""

    def read(self, text: str) -> Any:
        raise NotImplementedError

    def write(self, value: Any) -> str:
        return str(value)

    def say(self, value: Any, system: System) -> str:
        return self.write(value)


@dataclass(frozen=True)
class Text(_Plain):
    longest: int
    lines: bool = False

    def read(self, text: str) -> str:
        text = text.replace("\r\n", "\n").strip()
        if not self.lines and "\n" in text:
            raise NotRead("One line only.")
        if any(ord(letter) < 32 and letter not in "\n\t" for letter in text):
            raise NotRead("There is a hidden character in it. Type it again.")
        if len(text) > self.longest:
            raise NotRead(f"At most {self.longest} letters; this has {len(text)}.")
        return text


@dataclass(frozen=True)
class Choice(_Plain):
    """One of a few words; `choices` maps what is kept to how it is said."""

    choices: tuple[tuple[str, str], ...]

    def read(self, text: str) -> str:
        word = text.strip().lower()
        if word not in dict(self.choices):
            known = ", ".join(kept or "(empty)" for kept, _ in self.choices)
            raise NotRead(f"“{text.strip()}” is not one of: {known}.")
        return word

    def say(self, value: str, system: System) -> str:
        return dict(self.choices).get(value, value)


@dataclass(frozen=True)
class Whole(_Plain):
    least: int = 0
    most: int = 10_000

    def read(self, text: str) -> int:
        try:
            number = plain_number(text)
        except NotRead:
            raise NotRead(f"“{text.strip()}” is not a whole number.") from None
        if number != number.to_integral_value():
            raise NotRead(f"A whole number, not {text.strip()}.")
        return int(_within(number, self.least, self.most))


@dataclass(frozen=True)
class Exact(_Plain):
    """A decimal with at most `places` decimals, kept exactly."""

    places: int
    least: Decimal = Decimal(0)
    most: Decimal = Decimal(100_000)
    unit: str = ""

    def read(self, text: str) -> Decimal:
        number = plain_number(text.removesuffix("%") if self.unit == "%" else text)
        if -number.normalize().as_tuple().exponent > self.places:
            raise NotRead(f"At most {self.places} decimals; you typed {text.strip()}.")
        return _within(number, self.least, self.most, self.unit)

    def write(self, value: Decimal) -> str:
        return short(value)

    def say(self, value: Decimal, system: System) -> str:
        return f"{short(value)}{'' if self.unit == '%' else ' '}{self.unit}".strip()


@dataclass(frozen=True)
class Number(_Plain):
    """A measured number without a length or weight unit, such as a specific gravity."""

    least: float
    most: float
    unit: str = ""

    def read(self, text: str) -> float:
        number = plain_number(text.removesuffix("%") if self.unit == "%" else text)
        return float(_within(number, self.least, self.most, self.unit))

    def write(self, value: float) -> str:
        return short(value)

    def say(self, value: float, system: System) -> str:
        return f"{short(value)}{'' if self.unit == '%' else ' '}{self.unit}".strip()


@dataclass(frozen=True)
class Length:
    """Inches. A bare number is in `unit`: inches for a thickness, feet for a stock length."""

    unit: str = "in"
    most_in: float = 1200.0
    zero: bool = False

    def read(self, text: str) -> float:
        value = _refusing(parse_length, text, default_unit=self.unit)
        if value == 0 and not self.zero:
            raise NotRead("Above zero, please. Leave it empty if nobody knows.")
        if value > self.most_in:
            raise NotRead(f"At most {format_length(self.most_in, 'imperial')}. Look at the unit.")
        return value

    def write(self, value: float) -> str:
        if self.unit == "ft":
            feet = short(value / 12)
            return feet if parse_length(feet) == value else f"{short(value)} in"
        return short(value)

    def say(self, value: float, system: System) -> str:
        return format_length(value, system)


@dataclass(frozen=True)
class Weight:
    """Pounds; a bare number in a metric firm's box is kilograms."""

    most_lb: float = 100_000.0
    zero: bool = True

    def read(self, text: str) -> float:
        bare = re.fullmatch(r"\d+(\.\d+)?", text.strip())
        value = float(text) if bare else _refusing(parse_amount, text, "weight")
        if value == 0 and not self.zero:
            raise NotRead("Above zero, please. Leave it empty if nobody knows.")
        if value > self.most_lb:
            raise NotRead(f"At most {short(self.most_lb)} lb. Look at the unit.")
        return value

    def write(self, value: float) -> str:
        return short(value)

    def say(self, value: float, system: System) -> str:
        return format_amount(value, "weight", system, places=0 if value >= 10 else 2 if value >= 0.1 else 3)


@dataclass(frozen=True)
class WeightPerFoot:
    """Pounds per running foot; kilograms per metre may be typed."""

    most: float = 200.0

    def read(self, text: str) -> float:
        return self.typed(text, "imperial")

    def write(self, value: float) -> str:
        return short(value)

    def edit(self, value: float, system: System) -> str:
        metric = round(value * KG_PER_M, 4)
        if system == "metric" and metric / KG_PER_M == value:
            return f"{short(metric)} kg/m"
        return f"{short(value)} lb/ft"

    def say(self, value: float, system: System) -> str:
        return f"{value * KG_PER_M:.2f} kg/m" if system == "metric" else f"{value:.2f} lb/ft"

    def typed(self, text: str, system: System) -> float:
        found = re.fullmatch(r"\s*([\d.,\s]+?)\s*(lbs? ?/ ?ft|lbs? per foot|kg ?/ ?m|kg per m)?\s*", text.lower())
        if not found:
            raise NotRead(f"“{text.strip()}” is not a weight per foot. Type it like 2.8 or 4.2 kg/m.")
        number = float(plain_number(found[1]))
        value = number / KG_PER_M if (found[2] or ("kg" if system == "metric" else "lb")).startswith("kg") else number
        if not 0 < value <= self.most:
            raise NotRead(f"Above zero and at most {self.most:g} lb/ft.")
        return value


class YesNo(_Plain):
    def read(self, text: str) -> bool:
        word = text.strip().lower()
        if word in ("yes", "y", "true", "1", "x"):
            return True
        if word in ("no", "n", "false", "0"):
            return False
        raise NotRead(f"“{text.strip()}” is neither yes nor no.")

    def write(self, value: bool) -> str:
        return "yes" if value else "no"


class Day(_Plain):
    """A date with its month as a word or in the order year-month-day; 3/4/2026 can be read two ways and is refused."""

    def read(self, text: str) -> date:
        if not ISO.fullmatch(text.strip()) and not WORDED.search(text):
            raise NotRead(f"“{text.strip()}” can’t be read as a date. Write 2026-04-06 or 6 Apr 2026.")
        day = _refusing(parse_day, text, today=None)
        if not 1990 <= day.year <= 2100:
            raise NotRead(f"{day.year} can’t be right.")
        return day

    def write(self, value: date) -> str:
        return value.isoformat()

    def say(self, value: date, system: System) -> str:
        return say_day(value)


class Money(_Plain):
    def read(self, text: str) -> Decimal:
        amount = _refusing(parse_money, text)
        if amount <= 0:
            raise NotRead("A price is above zero. Leave it empty where there is none.")
        if amount > 9_999_999:
            raise NotRead("At most 9,999,999.00 for one pack.")
        return amount

    def write(self, value: Decimal) -> str:
        return f"{value:.2f}"

    def say(self, value: Decimal, system: System) -> str:
        return format_money(value)


class Currency(_Plain):
    def read(self, text: str) -> str:
        word = text.strip().upper()
        if not re.fullmatch(r"[A-Z]{3}", word):
            raise NotRead(f"“{text.strip()}” is not a currency. Write three letters, like USD or CAD.")
        return word


def plain_number(text: str) -> Decimal:
    """The number typed, with a decimal point or comma and perhaps commas between thousands.

    >>> plain_number("1,250.5"), plain_number("2,75"), plain_number("12")
    (Decimal('1250.5'), Decimal('2.75'), Decimal('12'))
    """
    tight = re.sub(r"[\s\u00a0\u202f]", "", text)
    if re.fullmatch(r"-?\d{1,3}(,\d{3})+(\.\d*)?", tight):
        tight = tight.replace(",", "")
    tight = tight.replace(",", ".", 1)
    try:
        number = Decimal(tight) if re.fullmatch(r"-?(\d+\.?\d*|\.\d+)", tight) and len(tight) < 30 else None
    except InvalidOperation:
        number = None
    if number is None:
        raise NotRead(f"“{text.strip()}” is not a number." if text.strip() else "Type a number.")
    return number


def short(number: float | Decimal) -> str:
    """The number in full and no longer: 1.5, 192, 0.125.

    >>> short(1.5), short(192.0), short(Decimal("1.500")), short(Decimal(100))
    ('1.5', '192', '1.5', '100')
    """
    exact = number if isinstance(number, Decimal) else Decimal(repr(float(number)))
    text = f"{exact:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def say_day(day: date) -> str:
    """The day as the firm writes dates, month as a word."""
    named = firm()
    return format_day(day, named.date_style if named else "day_first", weekday=False)


def _within(number: Decimal, least: Any, most: Any, unit: str = "") -> Decimal:
    if not Decimal(str(least)) <= number <= Decimal(str(most)):
        bounds = f"{short(Decimal(str(least)))} to {short(Decimal(str(most)))}"
        raise NotRead(f"From {bounds}{f' {unit}' if unit else ''}; you typed {short(number)}.")
    return number


def _refusing(parse: Any, *args: Any, **options: Any) -> Any:
    try:
        return parse(*args, **options)
    except (ValueError, MoneyNotUnderstood) as refused:
        raise NotRead(str(refused)) from refused
