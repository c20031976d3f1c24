"""What is asked of a floating dock, by whom: each a choice with its source, judged fine, Check or Stop.

Authorities ask for different things of different docks. None of these is a constant of nature, and local rules go
before all of them. The loads that go with a rule are in its `choices`.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from .cases import CaseChoices
from .loads import CaseKind
from .results import Equilibrium, Outcome


class Level(StrEnum):
    FINE = "fine"
    CHECK = "check"
    STOP = "stop"


class Measure(StrEnum):
    """What a criterion looks at; `most` tells which way is worse."""

    AFLOAT = "afloat"
    TILT_DEG = "tilt"
    DECK_FREEBOARD_IN = "water to top of deck"
    FRAME_CLEARANCE_IN = "water to underside of frame"
    FLOAT_TOP_IN = "float tops above water"
    FREEBOARD_LOSS_IN = "freeboard lost"

    @property
    def most(self) -> bool:
        """True if a larger figure is worse.

        >>> Measure.TILT_DEG.most, Measure.FLOAT_TOP_IN.most
        (True, False)
        """
        return self in (Measure.TILT_DEG, Measure.FREEBOARD_LOSS_IN)


@dataclass(frozen=True, slots=True)
class Criterion:
    """One demand: in cases of these kinds the measure stays within `limit` (degrees or inches), else `beyond`.

    Nearer than `margin` to the limit is a Check. For AFLOAT limit and margin say nothing: it asks for a dock that
    neither sinks nor capsizes nor has a deck edge awash. source is a source id.
    """

    id: str
    words: str
    kinds: tuple[CaseKind, ...]
    measure: Measure
    limit: float = 0.0
    margin: float = 0.0
    beyond: Level = Level.STOP
    source: str = "COMMON_PRACTICE"


@dataclass(frozen=True, slots=True)
class RuleSet:
    """What one authority (or the firm) asks, with the loads that go with it."""

    id: str
    name: str
    source: str
    choices: CaseChoices
    criteria: tuple[Criterion, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """How one criterion is met by the worst case it looks at. value is None when that dock is not afloat."""

    criterion: Criterion
    level: Level
    value: float | None
    case: str
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Dimensions:
    """What a measure needs besides the equilibrium: deck surface to underside of frame, inches."""

    frame_depth_in: float


def judge(criteria: Sequence[Criterion], results: Sequence[Equilibrium], dimensions: Dimensions) -> tuple[Verdict, ...]:
    """The verdict on every criterion that some solved case bears on; a criterion without a case is left out.

    FREEBOARD_LOSS_IN compares the same deck corners with the first dead case among the results.
    """
    judged = []
    dead = next((r for r in results if r.case.kind is CaseKind.DEAD and r.bodies), None)
    for criterion in criteria:
        found = [_verdict(criterion, r, dead, dimensions) for r in results if r.case.kind in criterion.kinds]
        if found:
            judged.append(max(found, key=_badness))
    return tuple(judged)


def worst_level(verdicts: Sequence[Verdict]) -> Level:
    """The gravest of some verdicts; fine if there are none."""
    return max((v.level for v in verdicts), key=list(Level).index, default=Level.FINE)


def _badness(verdict: Verdict) -> tuple[int, int, float]:
    value = verdict.value or 0.0
    return (
        list(Level).index(verdict.level),
        verdict.outcome.severity,
        value if verdict.criterion.measure.most else -value,
    )


def _verdict(criterion: Criterion, result: Equilibrium, dead: Equilibrium | None, dimensions: Dimensions) -> Verdict:
    if not result.bodies:
        return Verdict(criterion, Level.STOP, None, result.case.name, result.outcome)
    if criterion.measure is Measure.AFLOAT:
        level = Level.FINE if result.outcome is Outcome.FLOATS else criterion.beyond
        return Verdict(criterion, level, result.least_freeboard_in, result.case.name, result.outcome)
    value = _MEASURES[criterion.measure](result, dead, dimensions)
    over = value - criterion.limit if criterion.measure.most else criterion.limit - value
    level = criterion.beyond if over > 1e-9 else Level.CHECK if over > -criterion.margin else Level.FINE
    return Verdict(criterion, level, value, result.case.name, result.outcome)


def _freeboard_loss_in(result: Equilibrium, dead: Equilibrium | None, dimensions: Dimensions) -> float:
    if dead is None:
        return 0.0
    pairs = zip(dead.bodies, result.bodies, strict=True)
    return max(
        before.freeboard_in - after.freeboard_in
        for light, loaded in pairs
        for before, after in zip(light.corners, loaded.corners, strict=True)
    )


_MEASURES: dict[Measure, Callable[[Equilibrium, Equilibrium | None, Dimensions], float]] = {
    Measure.TILT_DEG: lambda result, dead, dimensions: result.most_tilt_deg or 0.0,
    Measure.DECK_FREEBOARD_IN: lambda result, dead, dimensions: result.least_freeboard_in or 0.0,
    Measure.FRAME_CLEARANCE_IN: lambda result, dead, dimensions: (
        (result.least_freeboard_in or 0.0) - dimensions.frame_depth_in
    ),
    Measure.FLOAT_TOP_IN: lambda result, dead, dimensions: result.least_top_clearance_in or 0.0,
    Measure.FREEBOARD_LOSS_IN: _freeboard_loss_in,
}

_LIVE = (CaseKind.SPREAD, CaseKind.HALF, CaseKind.EDGE, CaseKind.END, CaseKind.POINT, CaseKind.RAMP)
_EVERY = (CaseKind.DEAD, *_LIVE)

FIRM_START = RuleSet(
    "firm",
    "This firm",
    "COMMON_PRACTICE",
    CaseChoices(),
    (
        Criterion("firm-afloat", "Stays afloat and upright, deck dry", _EVERY, Measure.AFLOAT),
        Criterion(
            "firm-float-tops",
            "Float tops stay above water",
            _EVERY,
            Measure.FLOAT_TOP_IN,
            margin=1.0,
            beyond=Level.CHECK,
        ),
        Criterion("firm-tilt", "Tilts no more than 10 degrees", _LIVE, Measure.TILT_DEG, 10.0, 2.0, Level.CHECK),
    ),
)
"""A start for a firm's own criteria: common practice, no source."""

LANDING_FLOAT = RuleSet(
    "landing-float",
    "Landing floats for people, US military criteria",
    "UFC_4_152_01",
    CaseChoices(spread_psf=50.0, half_psf=0.0, edge_people=0, end_people=0, point_lb=500.0, point_inset_in=0.0),
    (
        Criterion(
            "ufc-afloat",
            "Carries 50 psf, or 500 lb at any point",
            (CaseKind.SPREAD, CaseKind.POINT),
            Measure.AFLOAT,
            source="UFC_4_152_01",
        ),
        Criterion(
            "ufc-tilt",
            "Tilts no more than 6 degrees",
            (CaseKind.SPREAD, CaseKind.POINT),
            Measure.TILT_DEG,
            6.0,
            0.5,
            source="UFC_4_152_01",
        ),
    ),
)
"""UFC 4-152-01 (28 Jul 2005), 7-3.3: 50 psf, or 500 lb at any point; the float not to tilt more than 6 degrees."""

RESERVOIR_DOCK = RuleSet(
    "reservoir-dock",
    "Docks on a licensed power reservoir",
    "RESERVOIR_DOCKS",
    CaseChoices(spread_psf=20.0, half_psf=0.0, edge_people=0, end_people=0, point_lb=400.0, end_point_lb=400.0),
    (
        Criterion(
            "reservoir-load",
            "Carries 20 psf, or 400 lb at one place",
            (CaseKind.SPREAD, CaseKind.POINT),
            Measure.AFLOAT,
            source="RESERVOIR_DOCKS",
        ),
        Criterion(
            "reservoir-frame",
            "Dock alone: 7 in from water to underside of frame",
            (CaseKind.DEAD,),
            Measure.FRAME_CLEARANCE_IN,
            7.0,
            0.5,
            source="RESERVOIR_DOCKS",
        ),
        Criterion(
            "reservoir-end",
            "A finger end loses at most 4 in under 400 lb 2 ft from the end",
            (CaseKind.FINGER_END,),
            Measure.FREEBOARD_LOSS_IN,
            4.0,
            0.25,
            source="RESERVOIR_DOCKS",
        ),
    ),
)
"""A federal reservoir licensee's dock specification: 20 psf or 400 lb, 7 in dead, 4 in at a finger end."""

LAKE_TOWN = RuleSet(
    "lake-town",
    "A lake town's code",
    "LAKE_TOWN_CODE",
    CaseChoices(),
    (
        Criterion(
            "town-freeboard",
            "At least 10 in from water to top of deck",
            (CaseKind.DEAD,),
            Measure.DECK_FREEBOARD_IN,
            10.0,
            1.0,
            source="LAKE_TOWN_CODE",
        ),
    ),
)
"""A lake town's code (Lake St. Croix Beach, Minnesota): at least 10 in from water to top of deck."""

RULE_SETS: dict[str, RuleSet] = {rules.id: rules for rules in (FIRM_START, LANDING_FLOAT, RESERVOIR_DOCK, LAKE_TOWN)}


def changed(rules: RuleSet, **limits: float) -> RuleSet:
    """The same rules with some limits changed, by criterion id with underscores: `changed(rules, ufc_tilt=5.0)`.

    Raises KeyError for an id that is not among them.
    """
    known = {c.id.replace("-", "_"): c.id for c in rules.criteria}
    wanted = {known[name]: limit for name, limit in limits.items()}
    return replace(rules, criteria=tuple(replace(c, limit=wanted.get(c.id, c.limit)) for c in rules.criteria))
