"""A check in words: what is asked of a member, what it may be asked, and the arithmetic between."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from estimating.engine.frame_result import MemberCheck
from estimating.engine.reasons import Amount, Reason, Sentence, Step

from .factors import Adjusted
from .sections import Stock
from .values import Listed

NEAR = 0.95  # from here on a member is a Check, though it still holds: common practice, no source
WHOLE_UNITS = ("psi", "lb", "lb-in")
FACTOR_WORDS = {
    "CF": "for its size",
    "CM": "wet",
    "Ci": "incised",
    "Cr": "three or more share the load",
    "Cfu": "laid flat",
    "CD": "how long the load lasts",
    "CL": "held sideways at the cross members only",
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What a check is about: kind and name as in MemberCheck, the load in words, and the figure with its limit.

    soft: going over is a Check, not a Stop.
    """

    kind: str
    name: str
    where: Sentence
    value: float
    limit: float
    unit: str
    soft: bool = False


def level_of(utilisation: float, *, soft: bool = False) -> str:
    """fine, check or stop.

    >>> level_of(0.9), level_of(0.97), level_of(1.2), level_of(1.2, soft=True)
    ('fine', 'check', 'stop', 'check')
    """
    if soft:
        return "check" if utilisation > 1 + 1e-9 else "fine"
    if utilisation > 1 + 1e-9:
        return "stop"
    return "check" if utilisation > NEAR else "fine"


def check_row(asked: Asked, rule: str, source: str, steps: Sequence[Step]) -> MemberCheck:
    """The row, its reason ending in what is asked, what is allowed, and the share of it."""
    utilisation = asked.value / asked.limit
    value, limit = amount(asked.value, asked.unit), amount(asked.limit, asked.unit)
    ledger = (
        *steps,
        Step(_ASKED, value),
        Step(_ALLOWED, limit),
        Step(_USED, Amount(round(utilisation * 100), "percent"), total=True),
    )
    return MemberCheck(
        "",
        asked.kind,
        asked.name,
        asked.where,
        value,
        limit,
        utilisation,
        level_of(utilisation, soft=asked.soft),
        Reason(_words(rule), source, ledger),
    )


_ASKED, _ALLOWED, _USED = Sentence("Asked of it"), Sentence("Allowed"), Sentence("Used")


def amount(value: float, unit: str) -> Amount:
    return Amount(float(round(value)) if unit in WHOLE_UNITS else round(value, 3), unit)


def step(text: str, value: float, unit: str) -> Step:
    return Step(_words(text), amount(value, unit))


@lru_cache(maxsize=128)
def _words(text: str) -> Sentence:
    return Sentence(text)


def lumber_steps(stock: Stock, listed: Listed, own: Adjusted) -> tuple[Step, ...]:
    """What the lumber is, and how its bending strength comes from the reference value."""
    mark = "published" if listed.mark == "published" else "from memory"
    name = Sentence("{0}, No.2, {1}; Fb as listed ({2})", (stock.name, own.species, mark))
    rows = [Step(name, amount(own.reference_fb_psi, "psi"))]
    if listed.note:
        rows.append(Step(Sentence(listed.note)))
    for factor, value in own.factors:
        rows.append(Step(Sentence("× {0}, {1}", (factor, FACTOR_WORDS[factor])), Amount(round(value, 3), "")))
    rows.append(Step(Sentence("Fb′"), amount(own.fb_psi, "psi")))
    return tuple(rows)
