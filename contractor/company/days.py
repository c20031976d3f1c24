"""Days as people type and read them: the month is a word, so that 5/7 is never read two ways."""

import datetime
import re
from typing import Literal

Style = Literal["day_first", "month_first"]

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WORDS = re.compile(
    r"(?:[a-z]{3,9},? )?(?:(?P<day>\d{1,2})(?:st|nd|rd|th)? (?P<month>[a-z]{3,9})"
    r"|(?P<month_first>[a-z]{3,9}) (?P<day_second>\d{1,2})(?:st|nd|rd|th)?)(?: (?P<year>\d{4}))?"
)
_FIGURES = re.compile(r"(?P<first>\d{1,2})[/.](?P<second>\d{1,2})[/.](?P<year>\d{4})")
_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})")


class DayNotUnderstood(ValueError):
    """Typed text that is no day; the message says what to type."""


def parse_day(text: str, *, style: Style = "day_first", today: datetime.date) -> datetime.date:
    """The day meant by `7 May 2026`, `7 May`, `May 7, 2026`, `2026-05-07` or `7/5/2026` read in the firm's order.

    Without a year it is the year of `today`. Raises DayNotUnderstood.

    >>> parse_day("Thu 7 May", today=datetime.date(2026, 1, 1)), parse_day("5/7/2026", style="month_first", today=None)
    (datetime.date(2026, 5, 7), datetime.date(2026, 5, 7))
    """
    plain = re.sub(r"[\s,]+", " ", text.strip().lower()).replace(". ", " ")
    example = "7 May 2026" if style == "day_first" else "May 7, 2026"
    parts = _parts(plain, style, today)
    if parts is None:
        raise DayNotUnderstood(f"“{text.strip()}” is not a day. Type it like {example}.")
    try:
        return datetime.date(*parts)
    except ValueError as wrong:
        raise DayNotUnderstood(f"There is no {text.strip()}. Type a day like {example}.") from wrong


def format_day(day: datetime.date, style: Style = "day_first", *, weekday: bool = True, year: bool = True) -> str:
    """The day to read, month as a word.

    >>> format_day(datetime.date(2026, 5, 7)), format_day(datetime.date(2026, 5, 7), "month_first", weekday=False)
    ('Thu 7 May 2026', 'May 7, 2026')
    """
    month, name = f"{day:%B}", f"{day:%a} " if weekday else ""
    if style == "day_first":
        return f"{name}{day.day} {month}{f' {day.year}' if year else ''}"
    return f"{name}{month} {day.day}{f', {day.year}' if year else ''}"


def _parts(plain: str, style: Style, today: datetime.date) -> tuple[int, int, int] | None:
    if found := _ISO.fullmatch(plain):
        return int(found["year"]), int(found["month"]), int(found["day"])
    if found := _FIGURES.fullmatch(plain):
        first, second = int(found["first"]), int(found["second"])
        return (int(found["year"]), second, first) if style == "day_first" else (int(found["year"]), first, second)
    if found := _WORDS.fullmatch(plain):
        month = (found["month"] or found["month_first"])[:3]
        if month in MONTHS:
            year = int(found["year"]) if found["year"] else today.year
            return year, MONTHS.index(month) + 1, int(found["day"] or found["day_second"])
    return None
