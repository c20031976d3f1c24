"""Figures for reading, in the firm's units. Spaces inside a figure do not break."""

import datetime
from decimal import Decimal
from typing import Any

from django import template
from django.utils import timezone

from contractor import quantities
from contractor.company import current
from contractor.company.days import format_day
from contractor.money import format_money

register = template.Library()


def unbroken(text: str) -> str:
    return text.replace(" ", "\u00a0")


@register.filter
def size(length_in: float | None) -> str:
    """{{ section.length_in|size }} gives 16′ 0″, or 4.88 m."""
    return unbroken(quantities.say(length_in, "in", current.units()))


@register.filter
def cut(length_in: float | None) -> str:
    """A length to be cut: to the sixteenth, or in millimetres."""
    return unbroken(quantities.say(length_in, "in_cut", current.units()))


@register.filter
def level(level_in: float | None) -> str:
    """A water level or depth: decimal feet or metres; None is "unknown"."""
    return unbroken(quantities.say(level_in, "ft_level", current.units()))


@register.filter
def echo(length_in: float | None) -> str:
    """Both systems, the firm's first: 16′ 0″, 4.88 m."""
    if length_in is None:
        return "unknown"
    return ", ".join(map(unbroken, quantities.echo(length_in, current.units()).split(", ")))


@register.filter
def say(value: Any, unit: str) -> str:
    """{{ reason.value|say:reason.unit }} prints any figure of the engine."""
    return unbroken(quantities.say(value, unit, current.units()))


@register.filter
def money(amount: Decimal | int | None) -> str:
    """6,750.00; no currency sign."""
    return format_money(amount)


@register.filter
def money_signed(amount: Decimal) -> str:
    """With its sign, for a difference: +5.22."""
    return f"{'+' if amount > 0 else ''}{format_money(amount)}"


@register.filter
def percent(value: Decimal | float | None) -> str:
    """12.07%, without needless decimals."""
    return quantities.say(value, "percent")


@register.filter
def day(value: datetime.date | datetime.datetime | None) -> str:
    """Thu 7 May 2026, in the firm's order."""
    return _day(value, weekday=True, year=True)


@register.filter
def day_short(value: datetime.date | datetime.datetime | None) -> str:
    """Thu 7 May."""
    return _day(value, weekday=True, year=False)


@register.filter
def day_long(value: datetime.date | datetime.datetime | None) -> str:
    """7 May 2026."""
    return _day(value, weekday=False, year=True)


@register.filter
def moment(value: datetime.datetime | None) -> str:
    """Thu 7 May, 10:52."""
    if value is None:
        return ""
    local = timezone.localtime(value)
    return f"{_day(local, weekday=True, year=local.year != timezone.localdate().year)}, {local:%H:%M}"


def _day(value: datetime.date | datetime.datetime | None, *, weekday: bool, year: bool) -> str:
    if value is None:
        return ""
    if isinstance(value, datetime.datetime):
        value = timezone.localtime(value).date() if timezone.is_aware(value) else value.date()
    named = current.firm()
    style = named.date_style if named else "day_first"
    return unbroken(format_day(value, style, weekday=weekday, year=year))
