"""Money, percentages, days."""

import datetime
import re
from decimal import Decimal
from typing import Any

from django.utils import timezone

from contractor.company import current
from contractor.company.days import format_day, parse_day
from contractor.company.fields.typed import TypedField
from contractor.money import MoneyNotUnderstood, format_money, parse_money, to_cents
from contractor.quantities import NotUnderstood


class MoneyField(TypedField):
    """An amount in the firm's currency, cleaned to Decimal."""

    echo_kind = "money"

    def __init__(self, *, places: int = 2, per: str = "", **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.places, self.per = places, per
        self.widget.attrs.setdefault("inputmode", "decimal")

    @property
    def unit(self) -> str:
        named = current.firm()
        return f"{named.currency if named else ''} {self.per}".strip()

    def echo_facts(self) -> dict[str, str]:
        return {"kind": self.echo_kind, "places": str(self.places)}

    def read(self, text: str) -> Decimal:
        return parse_money(text, places=self.places)

    def write(self, value: Decimal) -> str:
        text = format_money(value, places=self.places)
        return re.sub(r"(\.\d\d\d*?)0+$", r"\1", text)

    def say(self, value: Decimal) -> str:
        return format_money(value, places=self.places)

    def echo_of(self, typed: Any) -> str:
        """Money is echoed only where reading it was more than reading a number."""
        said = super().echo_of(typed)
        return "" if said == str(typed or "").strip() else said


class FigureField(MoneyField):
    """A figure read like money whose unit depends on another field."""

    unit = ""


class MileageField(MoneyField):
    """Money per mile, or typed per kilometre in a metric firm; cleaned to money per mile with four decimals."""

    echo_kind = "mileage"
    KM_PER_MILE = Decimal("1.609344")

    @property
    def unit(self) -> str:
        return f"{super().unit} {'a mile' if self.system == 'imperial' else 'a km'}"

    def read(self, text: str) -> Decimal:
        typed = super().read(text)
        return typed if self.system == "imperial" else round(typed * self.KM_PER_MILE, 4)

    def write(self, value: Decimal) -> str:
        return super().write(value if self.system == "imperial" else value / self.KM_PER_MILE)

    def say(self, value: Decimal) -> str:
        return self.write(value)


class PercentField(TypedField):
    """A percentage, cleaned to Decimal with at most two decimals; `12`, `12%` and `12,5` are all understood."""

    unit = "%"

    def __init__(self, *, least: int = 0, most: int = 100, **kwargs: Any) -> None:
        super().__init__(least=least, most=most, **kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def missing(self) -> str:
        return "Type a percentage, like 12 or 12.5."

    def read(self, text: str) -> Decimal:
        try:
            return parse_money(text.strip().removesuffix("%"))
        except MoneyNotUnderstood as refused:
            raise NotUnderstood(f"“{text.strip()}” is not a percentage. Type one like 12 or 12.5.") from refused

    def write(self, value: Decimal) -> str:
        return f"{Decimal(value).normalize():f}"

    def say(self, value: Decimal) -> str:
        return f"{self.write(value)}%"

    def echo(self, value: Decimal) -> str:
        return ""


class MarginField(PercentField):
    """A margin on price; the echo says what markup on cost that is, because the two are mixed up."""

    echo_kind = "margin"

    def echo(self, value: Decimal) -> str:
        if not 0 <= value < 100:
            return ""
        return f"{self.say(to_cents(value * 100 / (100 - value)))} markup on cost"


class DayField(TypedField):
    """A day, typed with the month as a word or as the firm writes dates; echoed with its weekday."""

    echo_kind = "day"

    @property
    def style(self) -> str:
        named = current.firm()
        return named.date_style if named else "day_first"

    def missing(self) -> str:
        return f"Type a day, like {self.write(timezone.localdate())}."

    def read(self, text: str) -> datetime.date:
        return parse_day(text, style=self.style, today=timezone.localdate())

    def write(self, value: datetime.date) -> str:
        return format_day(value, self.style, weekday=False)

    def say(self, value: datetime.date) -> str:
        return format_day(value, self.style)
