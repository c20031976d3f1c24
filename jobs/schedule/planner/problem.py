"""What the planner is told and what it answers: work, gates, crews and boats in; days, lateness and a bound out.

Days are dates; a duration is counted in days the crew works. Nothing here knows a database.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date

YARD = ""
TOO_WIDE_PERCENT = 200.0  # a gap that says nothing


@dataclass(frozen=True, slots=True)
class Window:
    """Days on which work may stand, both ends included; None leaves that end open."""

    opens: date | None = None
    closes: date | None = None

    def holds(self, day: date) -> bool:
        return (self.opens is None or self.opens <= day) and (self.closes is None or day <= self.closes)


@dataclass(frozen=True, slots=True)
class Place:
    """Where work is done. Miles by road from the yard; between two sites with known coordinates the straight way."""

    key: str
    from_yard_mi: float = 0.0
    latitude: float | None = None
    longitude: float | None = None


@dataclass(frozen=True, slots=True)
class PlanCrew:
    """People who work together. `works_on` are its days after week-ends, holidays and days the whole crew is away.

    `fewer` names days on which only so many of its people are there, `lacking` days on which a skill is missing.
    """

    key: str
    name: str
    works_on: frozenset[date]
    people: int = 2
    skills: frozenset[str] = frozenset()
    fewer: tuple[tuple[date, int], ...] = ()
    lacking: tuple[tuple[date, str], ...] = ()


@dataclass(frozen=True, slots=True)
class PlanBoat:
    """A boat, crane or other thing stages ask for by kind; one stage at a time has it. `out_on`: days in repair."""

    key: str
    kind: str
    out_on: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class PlanStage:
    """One stage of one job.

    `after`: keys of stages that must end on an earlier day. `earliest` with `governor`: the latest of the gates known
    beforehand and its words. `windows`: every day of the work lies in one of them (none given: any day). `not_on`:
    days on which no work may lie (level, blocked weeks). `crew`: only this crew may do it. `pinned`: the owner put
    the start there; it stays, and what that breaks is told in `Plan.broken`. `place`: None means the job's own.
    `current`: the start standing on the board today, used as a hint and to tell what moves.
    """

    key: str
    duration_days: int
    name: str = ""
    after: tuple[str, ...] = ()
    earliest: date | None = None
    governor: str = ""
    windows: tuple[Window, ...] = ()
    not_on: frozenset[date] = frozenset()
    people: int = 1
    skills: frozenset[str] = frozenset()
    boats: tuple[str, ...] = ()
    crew: str = ""
    pinned: date | None = None
    place: str | None = None
    current: date | None = None
    current_crew: str = ""


@dataclass(frozen=True, slots=True)
class PlanJob:
    """A job: lateness is calendar days from `due` to the last day of its last stage, times `weight`."""

    key: str
    name: str
    stages: tuple[PlanStage, ...]
    due: date | None = None
    weight: float = 1.0
    place: str = YARD


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """All open work. `late_day_miles`: how many miles of travel weigh as much as one day late at weight 1."""

    first_day: date
    last_day: date
    jobs: tuple[PlanJob, ...]
    crews: tuple[PlanCrew, ...]
    boats: tuple[PlanBoat, ...] = ()
    places: tuple[Place, ...] = ()
    late_day_miles: float = 100.0


@dataclass(frozen=True, slots=True)
class Start:
    """Where a stage stands in a plan: its first and last day (both worked), who does it, which boats it has.

    `governor` says in words what kept it from starting earlier.
    """

    stage: str
    job: str
    crew: str
    first: date
    last: date
    boats: tuple[str, ...] = ()
    governor: str = ""


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A stage the plan could not place before `last_day`, and why."""

    stage: str
    job: str
    why: str


@dataclass(frozen=True, slots=True)
class Broken:
    """A gate that a pin of the owner breaks, in words. The planner itself breaks none."""

    stage: str
    why: str


@dataclass(frozen=True, slots=True)
class Plan:
    """Days for every stage. `cost` = weighted late days + miles / late_day_miles; no plan is below `bound`.

    `travel_mi`: miles the crews move between places, from the yard and back to it.
    """

    starts: tuple[Start, ...]
    lateness: tuple[tuple[str, int], ...]  # job, days late; jobs on time are left out
    travel_mi: float
    cost: float
    bound: float
    unplaced: tuple[Unplaced, ...] = ()
    broken: tuple[Broken, ...] = ()
    stopped: bool = False
    by_stage: dict[str, Start] = field(default_factory=dict, compare=False, repr=False)

    @property
    def gap_percent(self) -> float:
        """How far above the bound the plan may be at most, in percent of the bound. inf when the bound is nothing."""
        if self.cost <= self.bound + 1e-6:
            return 0.0
        return (self.cost - self.bound) / self.bound * 100 if self.bound > 0 else float("inf")

    @property
    def words(self) -> str:
        """The gap as a colleague says it: 'at most 8 % from the best possible'."""
        gap = self.gap_percent
        if gap == 0:
            return "the best possible"
        if gap > TOO_WIDE_PERCENT:
            return "how far from the best possible is not known yet"
        return f"at most {-(-gap // 1):.0f} % from the best possible"


@dataclass(frozen=True, slots=True)
class Change:
    """A move the owner thinks about: this stage starts on that day, with that crew if one is named."""

    stage: str
    start: date
    crew: str = ""


@dataclass(frozen=True, slots=True)
class Moved:
    """A stage that would stand elsewhere, before and after, and why."""

    stage: str
    job: str
    was: Start
    now: Start | None
    why: str


Progress = Callable[[float, float], bool | None]
"""Called with (best cost so far, proven bound); answer True to stop: the best plan so far is kept."""
