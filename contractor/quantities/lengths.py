"""Feet and inches, metres and millimetres: typed, read, edited. A length is a float in inches, rounded once."""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from contractor.quantities.systems import NotUnderstood, System, other_system

Unit = Literal["ft", "in", "mm", "cm", "m"]
Style = Literal["read", "fine", "cut"]

INCHES = {
    "ft": Fraction(12),
    "in": Fraction(1),
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "m": Fraction(10_000, 254),
}
LONGEST_IN = 100 * 5280 * 12
LONGEST_TEXT = 40
EXAMPLES = {"imperial": "16, 16' 0\" or 4.88 m", "metric": "4.88, 4880 mm or 16' 0\""}
NATIVE = {
    "imperial": {"m": "ft", "mm": "in", "cm": "in"},
    "metric": {"ft": "m", "in": "mm"},
}

_SPELLINGS = (
    (r"[′’‘ʹ`´]{2}|[″”“ʺ]|''", '"'),
    (r"[′’‘ʹ`´]", "'"),
    (r"[−–—‐‑]", "-"),
    (r"⁄", "/"),
    (r"½", " 1/2"),
    (r"¼", " 1/4"),
    (r"¾", " 3/4"),
    (r"⅛", " 1/8"),
    (r"⅜", " 3/8"),
    (r"⅝", " 5/8"),
    (r"⅞", " 7/8"),
    (r"(?<=[\d\s.])(feet|foot|ft)\b\.?", "'"),
    (r"(?<=[\d\s.])(inches|inch|ins|in)\b\.?", '"'),
    (r"\s+", " "),
)
_NUMBER = r"\d+\.?\d*|\.\d+"
_AMOUNT = rf"(?:(?P<whole>\d+)[ -]+)?(?P<top>\d+) ?/ ?(?P<bottom>\d+)|(?P<decimal>{_NUMBER})"
_FEET_AND_INCHES = re.compile(
    rf"(?P<feet>{_NUMBER}) ?(?:' ?-? ?|- ?)(?:(?P<whole>\d+)[ -]+)?"
    rf"(?:(?P<top>\d+) ?/ ?(?P<bottom>\d+)|(?P<decimal>{_NUMBER})) ?\"?"
)
_ONE_AMOUNT = re.compile(rf"(?:{_AMOUNT}) ?(?P<mark>['\"]?)")
_METRIC = re.compile(r"(?P<number>[\d.,]+|\d{1,3}(?: \d{3})+) ?(?P<unit>mm|cm|m)\b\.?")
_METRIC_WORDS = (
    (r"\b(millimetres?|millimeters?)\b", "mm"),
    (r"\b(centimetres?|centimeters?)\b", "cm"),
    (r"\b(metres?|meters?)\b", "m"),
)


class LengthNotUnderstood(NotUnderstood):
    """Typed text that is no length; the message says what to type."""


def parse_length(
    text: str, *, system: System = "imperial", default_unit: Unit | None = None, signed: bool = False
) -> float:
    """Inches, from a length as people write it; exact until one last rounding to float.

    Reads `16`, `16'`, `16' 0"`, `16-0`, `5'9 1/2`, `69.5"`, `1.5 m`, `1500 mm`, `1,5 m` and 1 m 50 cm. A bare number
    is in `default_unit`, or feet in an imperial firm and metres in a metric one; `5.9` is 5.9 ft, never 5 ft 9 in.
    Raises LengthNotUnderstood, with a sentence that says what to type.

    >>> parse_length("16-0"), parse_length("5'9 1/2"), parse_length("5.9"), parse_length("1.27 m")
    (192.0, 69.5, 70.8, 50.0)
    """
    typed = text.strip()
    if not typed:
        raise LengthNotUnderstood(f"Type a length: {EXAMPLES[system]}.")
    if len(typed) > LONGEST_TEXT:
        raise LengthNotUnderstood(f"That is too long to be a length. Type one like {EXAMPLES[system]}.")
    plain = _plain(typed)
    below = plain.startswith("-")
    if below and not signed:
        raise LengthNotUnderstood(f"A length can’t be below zero. Type {EXAMPLES[system]}.")
    exact = _exact_in(plain[1:].strip() if below else plain, typed, system, default_unit or native_unit("ft", system))
    if exact > LONGEST_IN:
        raise LengthNotUnderstood("That is more than 100 miles. Look at the unit.")
    return float(-exact if below else exact)


def native_unit(unit: Unit, system: System) -> Unit:
    """The unit a firm of this system means by a bare number where the other kind would mean `unit`.

    >>> native_unit("ft", "metric"), native_unit("in", "metric"), native_unit("mm", "metric")
    ('m', 'mm', 'mm')
    """
    return NATIVE[system].get(unit, unit)


def format_length(length_in: float, system: System, *, style: Style = "read") -> str:
    """A length to read: feet and inches to the nearest 1/16, or metres.

    In metric `read` gives 2 decimals (4.88 m), `fine` keeps the millimetre (4.877 m), `cut` is all millimetres
    (4,877 mm); below a metre all three give millimetres.

    >>> format_length(192, "imperial"), format_length(69.5, "imperial"), format_length(0.125, "imperial")
    ('16′ 0″', '5′ 9 1/2″', '1/8″')
    >>> format_length(192, "metric"), format_length(192, "metric", style="cut"), format_length(5.5, "metric")
    ('4.88 m', '4,877 mm', '140 mm')
    """
    if system == "imperial":
        return _feet_and_inches(Fraction(round(abs(length_in) * 16), 16), length_in < 0, "′", "″")
    length_mm = _nearest(abs(length_in) * 25.4)
    sign = "-" if length_in < 0 and length_mm else ""
    if length_mm < 1000 or style == "cut":
        return f"{sign}{length_mm:,} mm"
    if style == "fine" and length_mm % 10:
        return f"{sign}{length_mm / 1000:,.3f} m"
    return f"{sign}{length_mm / 1000:,.2f} m" if style == "fine" else f"{sign}{abs(length_in) * 0.0254:,.2f} m"


def edit_text(length_in: float, system: System) -> str:
    """The length as plain text for a box: it parses back to exactly the same float, whatever the firm's units.

    Whole 64ths of an inch are feet and inches in an imperial firm, everything else the shortest exact decimal.

    >>> edit_text(69.5, "imperial"), edit_text(70.8, "imperial"), edit_text(1500 / 25.4, "imperial")
    ('5\\' 9 1/2"', '5.9 ft', '1.5 m')
    >>> edit_text(69.5, "metric"), edit_text(1500 / 25.4, "metric")
    ('1.7653 m', '1.5 m')
    """
    if system == "imperial" and (length_in * 64).is_integer():
        return _feet_and_inches(abs(Fraction(length_in)), length_in < 0, "'", '"')
    order = ("mm 0", "ft 4", "in 6") if system == "imperial" else ("mm 7",)
    for unit, places in (candidate.split() for candidate in order):
        decimal = _short_decimal(length_in, unit, int(places))
        if decimal is not None:
            return _metric_text(decimal) if unit == "mm" else f"{decimal:f} {unit}"
    return f"{Decimal(repr(length_in)):f} in"


def echo(length_in: float, system: System) -> str:
    """What was understood, in the firm's units and then in the other.

    >>> echo(192, "imperial"), echo(192, "metric")
    ('16′ 0″, 4.88 m', '4.877 m, 16′ 0″')
    """
    own = format_length(length_in, system, style="fine")
    return f"{own}, {format_length(length_in, other_system(system))}"


def _plain(typed: str) -> str:
    plain = typed.lower().replace("\u00a0", " ").replace("\u202f", " ")
    for spelling, ours in (*_METRIC_WORDS, *_SPELLINGS):
        plain = re.sub(spelling, ours, plain)
    return plain.strip()


def _exact_in(plain: str, typed: str, system: System, bare_unit: Unit) -> Fraction:
    metric = _metric_in(plain, bare_unit)
    if metric is not None:
        return metric
    both = _FEET_AND_INCHES.fullmatch(plain)
    if both and not _is_fraction_after_dash(plain, both):
        return _feet_and_inches_in(both, typed)
    one = _ONE_AMOUNT.fullmatch(plain)
    if one:
        return _amount(one, typed) * INCHES[{"'": "ft", '"': "in"}.get(one["mark"], bare_unit)]
    if "," in plain:
        pointed = plain.replace(",", ".", 1)
        raise LengthNotUnderstood(f"“{typed}” has a comma. Type {pointed}, or {EXAMPLES[system]}.")
    raise LengthNotUnderstood(f"“{typed}” is not a length. Type it like {EXAMPLES[system]}.")


def _metric_in(plain: str, bare_unit: Unit) -> Fraction | None:
    if bare_unit in ("mm", "cm", "m") and re.fullmatch(r"[\d.,]+|\d{1,3}( \d{3})+", plain):
        plain = f"{plain} {bare_unit}"
    terms = list(_METRIC.finditer(plain))
    if not terms or _METRIC.sub("", plain).strip():
        return None
    return sum((_metric_number(term["number"], term["unit"]) * INCHES[term["unit"]] for term in terms), Fraction(0))


def _metric_number(number: str, unit: str) -> Fraction:
    number = number.replace(" ", "")
    if unit == "mm" and re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", number):
        return Fraction(number.replace(",", ""))
    if unit == "cm" and re.fullmatch(r"\d{1,3},\d{3}", number):
        whole, decimals = number.split(",")
        raise LengthNotUnderstood(
            f"{number} cm can be read two ways. Type {whole}{decimals} cm or {whole}.{decimals} cm."
        )
    if not re.fullmatch(_NUMBER, number.replace(",", ".")):
        raise LengthNotUnderstood(f"“{number}” is not a number. Type it like 4.88 m or 4880 mm.")
    return Fraction(number.replace(",", ".").rstrip("."))


def _is_fraction_after_dash(plain: str, match: re.Match[str]) -> bool:
    # 9-1/2 is nine and a half; only 9-1/2-... or 9'-1/2 has feet in it
    return "'" not in plain and match["top"] is not None and match["whole"] is None


def _feet_and_inches_in(match: re.Match[str], typed: str) -> Fraction:
    feet, inches = Fraction(match["feet"].rstrip(".")), _amount(match, typed)
    if feet.denominator != 1:
        raise LengthNotUnderstood(
            f"“{typed}” has part feet and inches too. Type {float(feet):g} ft, or whole feet and inches."
        )
    if inches >= 12:
        raise LengthNotUnderstood(
            f"“{typed}” has {float(inches):g} inches after the feet; they run up to 11. "
            f"Type {edit_text(float(feet * 12 + inches), 'imperial')} if that is the length."
        )
    return feet * 12 + inches


def _amount(match: re.Match[str], typed: str) -> Fraction:
    if match["decimal"] is not None:
        return Fraction(match["decimal"].rstrip("."))
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0 or bottom > 64 or (match["whole"] is not None and top >= bottom):
        raise LengthNotUnderstood(f"“{typed}” has a fraction that can’t be: {top}/{bottom}. Type it like 5 1/2.")
    return Fraction(top, bottom) + int(match["whole"] or 0)


def _feet_and_inches(length_in: Fraction, below: bool, foot: str, inch: str) -> str:
    feet, rest = divmod(length_in, 12)
    whole, part = divmod(rest, 1)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    words = f"{whole} {fraction}" if fraction and (whole or feet) else fraction or str(whole)
    sign = "-" if below and length_in else ""
    return f"{sign}{feet}{foot} {words}{inch}" if feet else f"{sign}{words}{inch}"


def _short_decimal(length_in: float, unit: str, places: int) -> Decimal | None:
    per_unit = INCHES[unit]
    scaled = round(Fraction(length_in) / per_unit * 10**places)
    if float(Fraction(scaled, 10**places) * per_unit) != length_in:
        return None
    shortest = (Decimal(scaled).scaleb(-places)).normalize()
    return shortest if shortest.as_tuple().exponent <= 0 else shortest.quantize(Decimal(1))


def _metric_text(length_mm: Decimal) -> str:
    if abs(length_mm) < 1000:
        return f"{length_mm:f} mm"
    metres = length_mm.scaleb(-3).normalize()
    return f"{metres if metres.as_tuple().exponent <= 0 else metres.quantize(Decimal(1)):f} m"


def _nearest(length_mm: float) -> int:
    return int(length_mm + 0.5)
