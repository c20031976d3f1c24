"""Engine amounts and sentences in the firm's own units."""

import re
from datetime import date

from contractor import quantities
from contractor.company import current
from contractor.company.days import format_day
from estimating.engine.parts import FloatItem
from estimating.engine.reasons import Amount, Sentence

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def speak(amount: Amount) -> str:
    """One amount, its figure and unit kept on one line; hours to the hundredth, so that they add by pencil."""
    if amount.unit == "h":
        return f"{amount.value:,.2f}\u00a0h"
    return quantities.say(amount.value, amount.unit, current.units()).replace(" ", "\u00a0")


def say(sentence: Sentence) -> str:
    return sentence.say(speak)


def day_said(day: date) -> str:
    """The day in the firm's order, the month as a word."""
    named = current.firm()
    return format_day(day, named.date_style if named else "day_first").replace(" ", "\u00a0")


def length(length_in: float) -> str:
    """A length as it is said in a sentence: 6 ft, 5 ft 9 in, or 1.83 m."""
    if current.units() == "metric":
        return speak(Amount(length_in, "in"))
    feet, inches = divmod(length_in, 12)
    if abs(inches) < 1e-6:
        return f"{feet:.0f}\u00a0ft"
    if feet == 0 or abs(inches - round(inches)) > 1e-6:
        return speak(Amount(length_in, "in"))
    return f"{feet:.0f}\u00a0ft\u00a0{inches:.0f}\u00a0in"


def number_word(number: int) -> str:
    return COUNTS[number] if number < len(COUNTS) else str(number)


def count(number: int, one: str, many: str | None = None) -> str:
    """
    >>> count(2, "float"), count(1, "anchor"), count(14, "step")
    ('two floats', 'one anchor', '14 steps')
    """
    return f"{number_word(number)} {one if number == 1 else many or one + 's'}"


def listed(words: list[str], last: str = "and") -> str:
    """
    >>> listed(["dock", "ramp", "ladder"]), listed(["dock", "ramp"], "or")
    ('dock, ramp and ladder', 'dock or ramp')
    """
    return f" {last} ".join(part for part in (", ".join(words[:-1]), words[-1]) if part) if words else ""


def size_name(item: FloatItem) -> str:
    """A float by its size, as the trade says it: 24 × 48 × 16 in, or 24 in through, 96 in long; or in centimetres.

    Its catalogue name is the shop's own business.
    """
    if item.round:
        long, through = item.length_in, item.width_in
        if current.units() == "metric":
            return f"{through * 2.54:.0f} cm through, {long * 2.54:.0f} cm long".replace(" ", "\u00a0")
        return f"{through:g} in through, {long:g} in long".replace(" ", "\u00a0")
    sides = (item.length_in, item.width_in, item.height_in)
    short, long, high = *sorted(sides[:2]), sides[2]
    if current.units() == "metric":
        return f"{short * 2.54:.0f} × {long * 2.54:.0f} × {high * 2.54:.0f} cm".replace(" ", "\u00a0")
    return f"{short:g} × {long:g} × {high:g} in".replace(" ", "\u00a0")


def trade_name(name: str) -> str:
    """A name of the catalogue as it is printed.

    >>> trade_name("2x6 treated deck board"), trade_name("Bought ramp 3 x 12 ft")
    ('2×6 treated deck board', 'Bought ramp 3×12 ft')
    """
    return re.sub(r"(?<=\d) ?x ?(?=\d)", "×", name)


def unbroken(text: str) -> str:
    """A sentence whose figures stay with their units at the end of a line.

    >>> unbroken("Depth: 7.0 ft at the end.").replace("\u00a0", "_")
    'Depth: 7.0_ft at the end.'
    """
    return re.sub(r"(?<=\d) (?=(?:ft|in|m|cm|mm|lb|kg)\b)", "\u00a0", text)


def inside(name: str) -> str:
    """A name carried on within a sentence.

    >>> inside("Swim ladder, four steps"), inside("PVC bumper"), inside("2x8")
    ('swim ladder, four steps', 'PVC bumper', '2×8')
    """
    name = trade_name(name)
    return f"{name[:1].lower()}{name[1:]}" if name[1:2].islower() else name


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]
