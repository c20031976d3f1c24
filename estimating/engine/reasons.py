"""Why a figure is what it is: amounts that know their unit, reasons, findings, and faults in a spec."""

from dataclasses import dataclass, field
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure with its engine unit, so that an edge can say it in feet and inches or in metres.

    Units in use: in, in_small (freeboard and gaps, to 0.1), ft_level (inches, read as decimal feet), lb,
    lb_per_ft, psf, sqft, cuft, lb_per_cuft, h, deg, percent, count, money, mi, ft.
    """

    value: float | int | Decimal
    unit: str

    def __str__(self) -> str:
        return plain(self)


def plain(amount: Amount) -> str:
    """Say an amount in engine units; edges pass their own speaker instead.

    >>> plain(Amount(5.5, "in")), plain(Amount(48, "count")), plain(Amount(Decimal("3.50"), "money"))
    ('5.5 in', '48', '3.50')
    """
    if amount.unit == "count":
        return f"{amount.value:g}"
    if amount.unit == "money":
        return f"{amount.value:,.2f}"
    if amount.unit == "ft_level":
        return f"{round(float(amount.value) / 12, 2):g} ft"
    words = {"in_small": "in", "sqft": "sq ft", "cuft": "cu ft", "percent": "%", "lb_per_ft": "lb/ft", "deg": "degrees"}
    return f"{round(float(amount.value), 3):g} {words.get(amount.unit, amount.unit)}"


@dataclass(frozen=True, slots=True)
class Sentence:
    """Words with `{0}`, `{1}` places for amounts or plain strings; `say` fills them in the reader's units."""

    text: str
    values: tuple[Amount | str, ...] = ()

    def say(self, speak=plain) -> str:
        return self.text.format(*(speak(v) if isinstance(v, Amount) else v for v in self.values))

    def __str__(self) -> str:
        return self.say()


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the arithmetic behind a figure; `total` marks the line under the rule."""

    label: Sentence
    amount: Amount | None = None
    total: bool = False


@dataclass(frozen=True, slots=True)
class Reason:
    """What a figure rests on: the question it answers, the rule in words, its ledger of steps, and a source id."""

    rule: Sentence
    source: str
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the reader should know: level is note, check or stop; `field` is a spec path or empty."""

    level: str
    headline: Sentence
    cure: Sentence = field(default_factory=lambda: Sentence(""))
    field: str = ""
    source: str = "COMMON_PRACTICE"
    code: str = ""

    @property
    def key(self) -> str:
        """What the finding says, in engine units: it changes as soon as the fact does."""
        return f"{self.code}: {self.headline.say()}"


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a spec cannot be worked out; `field` is a path such as `sections[0].width_in`."""

    field: str
    message: Sentence


class SpecFaults(ValueError):
    """The spec cannot be worked out; carries every fault found, each with its field."""

    def __init__(self, faults: tuple[Fault, ...] | list[Fault]):
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{f.field}: {f.message}" for f in self.faults))
