"""What a sheet is made from, gathered by the services, and how its figures are said."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from contractor import quantities
from contractor.company import current
from estimating.engine.drawing.paper_scale import CrewSheet
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Amount
from estimating.engine.result import Estimate
from estimating.engine.spec import Section
from estimating.quotes.documents.speech import listed, trade_name

STAGES = ("layout", "framing", "flotation", "launch", "decking", "anchoring", "handover")
STAGE_WORDS = {stage: stage for stage in STAGES} | {"handover": "hand-over"}


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who may write hours on a sheet; need not be somebody who signs in."""

    key: str
    name: str
    staff: int | None = None

    @property
    def short(self) -> str:
        return self.name.split()[0] if self.name.strip() else self.name


@dataclass(frozen=True, slots=True)
class Work:
    """One stage of a job as it is to be built."""

    job_number: str
    client: str
    place: str
    stage: str
    letter: str
    sold: bool
    estimate: Estimate
    catalogue: Catalogue
    names: Mapping[str, str]  # of items, by code
    people: tuple[Person, ...]
    crew: str = ""
    planned_on: datetime.date | None = None
    day_words: str = ""
    done: Mapping[str, str] = field(default_factory=dict)  # stages that are done, with the day in words
    level_in: float | None = None
    level_words: str = ""
    before: tuple[str, ...] = ()  # what the stage before left: measures, defects

    @property
    def hours(self) -> float:
        return float(dict(self.estimate.labour.stage_hours).get(self.stage, 0))

    def name(self, code: str) -> str:
        return trade_name(self.names.get(code, code))

    def short_name(self, code: str) -> str:
        """An item's name without what stands after its first comma: the finish is on the box."""
        return self.name(code).partition(",")[0]


def number_of(job_number: str, stage: str) -> str:
    """The sheet's own number: job and stage.

    >>> number_of("26-031", "framing"), number_of("26-031", "handover")
    ('26-031-2', '26-031-7')
    """
    return f"{job_number}-{STAGES.index(stage) + 1}"


def speak(amount: Amount) -> str:
    return quantities.say(amount.value, amount.unit, current.units()).replace(" ", "\u00a0")


def cut(length_in: float) -> str:
    """A length to saw or to measure: to the sixteenth, or in millimetres."""
    return speak(Amount(round(length_in, 4), "in_cut"))


def small(height_in: float) -> str:
    """A freeboard or a gap."""
    return speak(Amount(height_in, "in_small"))


def level(level_in: float | None) -> str:
    return quantities.say(level_in, "ft_level", current.units()).replace(" ", "\u00a0")


def pounds(weight_lb: float) -> str:
    return speak(Amount(weight_lb, "lb"))


def tolerance(length_in: float) -> str:
    """How much a measure may be off: 1/4 in, or 6 mm.

    >>> tolerance(0.25)
    '1/4 in'
    """
    if current.units() == "metric":
        return f"{round(length_in * 25.4)} mm"
    return f"{quantities.format_length(length_in, 'imperial').rstrip('″')} in"


def crew_sheet(prefix: str, *, height_px: float = 400.0) -> CrewSheet:
    """A drawing in the firm's units that fits its paper."""
    firm = current.firm()
    wide = 690.0 if firm is not None and firm.paper == "a4" else 715.0
    return CrewSheet(speak, current.units() == "metric", wide, height_px, prefix)


def ends_of(section: Section) -> tuple[str, str]:
    """What the left end and the lower edge of a section's drawing are, in words."""
    return ("right end", "lake side") if section.turned else ("shore end", "right edge")


def marks_said(marks: list[str]) -> str:
    """
    >>> marks_said(["A"]), marks_said(["A", "B", "D"])
    ('Section A', 'Sections A, B and D, all alike')
    """
    if len(marks) == 1:
        return f"Section {marks[0]}"
    return f"Sections {listed(marks)}, {'both' if len(marks) == 2 else 'all'} alike"
