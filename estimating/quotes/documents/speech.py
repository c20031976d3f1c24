"""Engine amounts and sentences in the firm's own units."""

from contractor import quantities
from contractor.company import current
from estimating.engine.reasons import Amount, Sentence

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def speak(amount: Amount) -> str:
    """One amount, its figure and unit kept on one line."""
    return quantities.say(amount.value, amount.unit, current.units()).replace(" ", "\u00a0")


def say(sentence: Sentence) -> str:
    return sentence.say(speak)


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


def count(number: int, one: str, many: str | None = None) -> str:
    """
    >>> count(2, "float"), count(1, "anchor"), count(14, "step")
    ('two floats', 'one anchor', '14 steps')
    """
    word = COUNTS[number] if number < len(COUNTS) else str(number)
    return f"{word} {one if number == 1 else many or one + 's'}"


def listed(words: list[str]) -> str:
    """
    >>> listed(["dock", "ramp", "ladder"])
    'dock, ramp and ladder'
    """
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part) if words else ""


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]
