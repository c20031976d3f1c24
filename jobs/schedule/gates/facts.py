"""What is known about one stage of one job, and what follows from it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Literal

from .days import CancellationRule, WorkDays, YearRange

Kind = Literal[
    "signature",
    "cancellation",
    "deposit",
    "permit",
    "hold",
    "previous",
    "materials",
    "crew",
    "people",
    "boat",
    "window",
    "ice",
    "level",
    "workday",
    "today",
]


@dataclass(frozen=True, slots=True)
class Gate:
    """One thing a stage waits for.

    `opens`: the first day it allows; None when nobody can say. `met`: it is so already, not merely expected.
    """

    kind: Kind
    opens: date | None
    words: str
    met: bool = False


@dataclass(frozen=True, slots=True)
class Gates:
    """All gates of one stage. `earliest` is None while a gate has no date; `governor` names the one that governs."""

    earliest: date | None
    governor: str
    kind: Kind
    all: tuple[Gate, ...]

    @property
    def certain(self) -> bool:
        """Nothing is merely expected."""
        return self.earliest is not None and all(gate.met for gate in self.all)

    @property
    def open_gates(self) -> tuple[Gate, ...]:
        return tuple(gate for gate in self.all if not gate.met)


@dataclass(frozen=True, slots=True)
class DepositFacts:
    due: Decimal = Decimal(0)
    cleared: Decimal = Decimal(0)
    cleared_on: date | None = None  # the day the whole of it had cleared

    @property
    def is_in(self) -> bool:
        return self.cleared >= self.due


@dataclass(frozen=True, slots=True)
class PermitFacts:
    """`starts_on`: in force from. `known` is False where nobody noted whether a permit is needed."""

    authority: str
    needed: bool = True
    applied_on: date | None = None
    issued_on: date | None = None
    starts_on: date | None = None
    expires_on: date | None = None
    expected_on: date | None = None


@dataclass(frozen=True, slots=True)
class IceFacts:
    """First and last open day of a year's season, its margin already in it; a usual date is not a seen one."""

    opens: date
    closes: date | None = None
    seen: bool = False


@dataclass(frozen=True, slots=True)
class PreviousFacts:
    """The stage before: done, or planned to end on a day, or not planned."""

    stage: str
    done_on: date | None = None
    ends_on: date | None = None
    same_crew: bool = True


@dataclass(frozen=True, slots=True)
class MaterialsFacts:
    ready: bool
    expected_on: date | None = None
    words: str = ""


@dataclass(frozen=True, slots=True)
class HoldFacts:
    """Something somebody said this stage waits for; `until` is the day it is promised for."""

    words: str
    until: date | None = None


@dataclass(frozen=True, slots=True)
class LevelFacts:
    """Whether the water suits on a day, and how that is said."""

    suits: Callable[[date], bool]
    words: str
    measured: bool = False


@dataclass(frozen=True, slots=True)
class StageFacts:
    """Everything that decides when one stage may start. What does not apply stays at its default."""

    stage: str
    today: date
    days: int = 1
    signed_on: date | None = None
    cancellation: CancellationRule = field(default_factory=CancellationRule)
    holidays: frozenset[date] = frozenset()  # those that stop the days of cancellation
    deposit: DepositFacts = field(default_factory=DepositFacts)
    permits: tuple[PermitFacts, ...] | None = ()  # None: nobody noted whether one is needed
    windows: tuple[YearRange, ...] = ()
    ice: tuple[IceFacts, ...] = ()  # one a year, in order; empty: no ice
    previous: PreviousFacts | None = None
    materials: MaterialsFacts | None = None
    level: LevelFacts | None = None
    work_days: WorkDays = field(default_factory=WorkDays)
    crew_name: str = ""
    crew_free: Callable[[date], bool] | None = None
    people: int = 2
    people_needed: int = 1
    lacking_skill: str = ""
    boat_kind: str = ""  # a kind of boat this stage needs
    boat_free: Callable[[date], bool] | None = None
    boat_known: bool = True
    held_why: str = ""
    holds: tuple[HoldFacts, ...] = ()
    waived: frozenset[str] = frozenset()
    built_in_yard: bool = True
    launch_first: bool = True
    done_on: date | None = None
    say_day: Callable[[date], str] = date.isoformat
