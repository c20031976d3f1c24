"""What the flotation proof answers: how the dock lies under each load, whom it holds, what it weighs to lift.

Inches, pounds, degrees. Corners are named as in plan: shore or lake end, left or right looking out.
"""

from dataclasses import dataclass
from typing import NamedTuple

from .reasons import Finding, Reason, Sentence

OUTCOMES = ("floats", "deck edge awash", "capsizes", "sinks")
LEVELS = ("fine", "check", "stop")


class CornerAfloat(NamedTuple):
    """One deck corner: water to top of deck, and how deep the lowest float bottom of its group lies below it."""

    corner: str
    x_in: float
    y_in: float
    freeboard_in: float
    draft_in: float


@dataclass(frozen=True, slots=True)
class SectionAfloat:
    """How one section lies. Heel is positive with its left side (+y) down, trim with its lake end (+x) down."""

    section: str
    heel_deg: float
    trim_deg: float
    tilt_deg: float
    corners: tuple[CornerAfloat, ...]

    @property
    def least_freeboard_in(self) -> float:
        return min(corner.freeboard_in for corner in self.corners)


class FloatAfloat(NamedTuple):
    """One float: what it carries besides itself, how much of it is wet; `number` is its place in Design.floats.

    top_clearance_in is the water to the lowest corner of its top, below zero once that is under.
    """

    number: int
    section: str
    x_in: float
    y_in: float
    carried_lb: float
    buoyancy_lb: float
    immersed_share: float
    draft_in: float
    top_clearance_in: float


@dataclass(frozen=True, slots=True)
class Turn:
    """From so much live load upwards the dock is in this state, or worse."""

    outcome: str
    live_lb: float


@dataclass(frozen=True, slots=True)
class CaseVerdict:
    """How one criterion is met in a case: fine, check or stop. Value and limit are in `unit`: deg, in_small or none.

    value is None when the dock is not afloat.
    """

    criterion: str
    words: str
    rule_set: str
    source: str
    level: str
    value: float | None
    limit: float
    unit: str


@dataclass(frozen=True, slots=True)
class CaseProof:
    """One load case, at the place where it is worst. kind: dead_wet, dead_seasoned, spread, half, edge, end, point,
    finger_end, ramp; own-1, own-2 and so on are the firm's own, `name` whatever the firm calls it.

    `sections` and `floats` are empty when the dock sinks or capsizes. `turns` says at which live load it changes
    state; empty when it floats. gm_across_in and gm_along_in are of a dock of one rigid group only. reserve_lb is
    what the floats could still carry (below zero when it sinks).
    """

    kind: str
    name: Sentence
    where: str
    rule_set: str
    people: int
    live_lb: float
    weight_lb: float
    outcome: str
    turns: tuple[Turn, ...]
    sections: tuple[SectionAfloat, ...]
    floats: tuple[FloatAfloat, ...]
    reserve_lb: float
    gm_across_in: float | None
    gm_along_in: float | None
    verdicts: tuple[CaseVerdict, ...]

    @property
    def level(self) -> str:
        """The gravest of its verdicts.

        A dock that sinks or turns over is a Stop whatever was asked for.
        """
        own = max((LEVELS.index(v.level) for v in self.verdicts), default=0)
        return LEVELS[own] if self.sections else "stop"

    @property
    def least_freeboard_in(self) -> float | None:
        return min((section.least_freeboard_in for section in self.sections), default=None)

    @property
    def most_tilt_deg(self) -> float | None:
        return max((section.tilt_deg for section in self.sections), default=None)

    @property
    def least_top_in(self) -> float | None:
        """The float top nearest to the water, or furthest under it."""
        return min((each.top_clearance_in for each in self.floats), default=None)


@dataclass(frozen=True, slots=True)
class PeopleCount:
    """How many people before float tops or a deck edge go under. crowd: spread, section (spread
    over one section of several), edge, end or ramp.

    `holds` leaves all dry, one more does what `why` says: "float tops under" or an outcome. `posted` is the firm's
    share of that next number, rounded down. Tilt and freeboard are with `holds` aboard; None if the empty dock fails.
    """

    crowd: str
    where: str
    holds: int
    posted: int
    why: str
    person_lb: float
    tilt_deg: float | None
    freeboard_in: float | None
    reason: Reason


@dataclass(frozen=True, slots=True)
class SectionLift:
    """What one section weighs on land, wet: bare frame, decked, whole with floats; and people to lift it by hand."""

    section: str
    bare_lb: float
    decked_lb: float
    whole_lb: float
    hands_bare: int
    hands_whole: int
    reason: Reason


@dataclass(frozen=True, slots=True)
class GroupAfloat:
    """One rigid group: weight with floats and its share of the ramp, where it acts (z up from the top of the frame),
    lift, and the initial metacentric heights of the group alone, wet and level (None where it cannot float level)."""

    sections: tuple[str, ...]
    wet_lb: float
    seasoned_lb: float
    x_in: float
    y_in: float
    z_in: float
    lift_lb: float
    gm_across_in: float | None
    gm_along_in: float | None


@dataclass(frozen=True, slots=True)
class HingeLine:
    """How far out of line a hinge would be if its sections floated apart, wet, nobody aboard: second above first, at
    the two ends of the hinge line. None where one of them would not float by itself."""

    first: str
    second: str
    start_in: float | None
    end_in: float | None

    @property
    def step_in(self) -> float | None:
        if self.start_in is None or self.end_in is None:
            return None
        return max(self.start_in, self.end_in, key=abs)


@dataclass(frozen=True, slots=True)
class FloatProof:
    """The whole proof. `cases` come in a fixed order, each kind once for each rule set that asks for it.

    `aside` is the dock alone where the firm leaves it out and nothing is wrong with it; `not_tried` names the cases
    that the firm leaves out.
    """

    water: str
    water_lb_per_cuft: float
    person_lb: float
    cases: tuple[CaseProof, ...]
    people: tuple[PeopleCount, ...]
    groups: tuple[GroupAfloat, ...]
    lifts: tuple[SectionLift, ...]
    trailer_lb: float
    trailer_reason: Reason
    hinges: tuple[HingeLine, ...]
    findings: tuple[Finding, ...]
    aside: tuple[CaseProof, ...] = ()
    not_tried: tuple[Sentence, ...] = ()

    def case(self, kind: str) -> CaseProof | None:
        """The first case of a kind, shown or aside, or None."""
        return next((case for case in (*self.cases, *self.aside) if case.kind == kind), None)

    def crowd(self, crowd: str) -> PeopleCount | None:
        """The count of a crowd, or None where it cannot stand."""
        return next((count for count in self.people if count.crowd == crowd), None)

    @property
    def level(self) -> str:
        """The gravest of its cases."""
        return max((case.level for case in self.cases), key=LEVELS.index, default="fine")
