"""How much load it takes: the load factor at which a dock changes state, and how many people it holds.

Loads grow in steps that are solved together, and the step in which the change comes is cut finer until it is small
enough. It is taken that more of the same load is never better.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import floor

import numpy as np
from numpy.typing import NDArray

from .equilibrium import DockAfloat
from .geometry import FlotationInputError, PointLoad
from .immersion import Array
from .loads import LoadCase, dead_weights, live_weights
from .prepared import Settled
from .results import Outcome, Stage

_STEPS = 12
_OUTCOMES = tuple(Outcome)


class Under(StrEnum):
    """When float tops count as under water."""

    FIRST_CORNER = "the first top corner of a float"
    WHOLE_FLOAT = "the whole top of a float"


@dataclass(frozen=True, slots=True)
class PeopleLimit:
    """How many of a crowd the dock holds. `holds` still leaves float tops and deck edge dry, one more does not.

    why: what the next one does: "float tops under", "deck edge awash", "capsizes" or "sinks". tilt_deg and
    freeboard_in are with `holds` aboard, None if the empty dock already fails.
    """

    holds: int
    why: str
    person_lb: float
    tilt_deg: float | None
    freeboard_in: float | None

    def posted(self, share: float = 2 / 3) -> int:
        """The number to post: `share` of the count that puts it under, rounded down.

        The share is a firm's setting; two thirds is common practice, no source.

        >>> PeopleLimit(15, "float tops under", 175, 0.0, 8.2).posted()
        10
        """
        return floor(share * (self.holds + 1) + 1e-9)


def loading_stages(dock: DockAfloat, case: LoadCase, *, tolerance: float = 1e-3) -> tuple[Stage, ...]:
    """What becomes of the dock as the case's live load grows from nothing to all of it.

    One Stage for every worse state met on the way, from the load factor where it begins (to `tolerance`); the first
    one is the state without live load. Raises FlotationInputError, DidNotSettle.
    """
    state = _growing(dock, case)
    first = int(state(np.zeros(1)).severity[0])
    last = int(state(np.ones(1)).severity.max())
    whole = sum(load.weight_lb for load in case.live)
    stages = [Stage(_OUTCOMES[first], 0.0, 0.0)]
    reached = first
    while reached < last:
        factor, reached = _next_change(state, reached, tolerance)
        stages.append(Stage(_OUTCOMES[reached], factor, factor * whole))
    return tuple(stages)


def _growing(dock: DockAfloat, case: LoadCase) -> Callable[[Array], Settled]:
    dead, live = dead_weights(dock.assembly, case), live_weights(dock.assembly, case.live)
    water = case.water.lb_per_in3

    def at(factors: Array) -> Settled:
        return dock.settle(dead + factors[:, None, None] * live, np.full(len(factors), water))

    return at


def _next_change(state: Callable[[Array], Settled], reached: int, tolerance: float) -> tuple[float, int]:
    low, high, worse = 0.0, 1.0, reached + 1
    while high - low > tolerance:
        factors = np.linspace(low, high, _STEPS + 1)[1:]
        severity = state(factors).severity
        first = int(np.argmax(severity > reached))
        worse = int(severity[first])
        low, high = float(factors[first - 1]) if first else low, float(factors[first])
    return high, worse


def most_people(
    dock: DockAfloat, case: LoadCase, person: tuple[PointLoad, ...], *, under: Under = Under.FIRST_CORNER
) -> PeopleLimit:
    """How many people, each adding the loads `person`, the dock holds besides what `case` already puts on it.

    The loads of one person may be shared over places (a crowd spread out) or be less than a man (a ramp's shore
    end takes the rest). Raises FlotationInputError if a person weighs nothing, and DidNotSettle.
    """
    weight = sum(load.weight_lb for load in person)
    if weight <= 0:
        raise FlotationInputError("person", "a person must weigh something")
    crowd = LoadCase(case.name, person, case.standing + case.live, case.frames, case.water, case.kind)
    state = _growing(dock, crowd)
    most = _too_many(dock, crowd, weight)
    holds = _last_holding(state, most, under)
    after = state(np.array([float(max(holds, 0)), float(holds + 1)]))
    return PeopleLimit(max(holds, 0), _why(after, 1), weight, *_standing(dock, after, holds))


def _too_many(dock: DockAfloat, crowd: LoadCase, weight: float) -> int:
    lift = sum(group.full_lift_in3 for group in dock.prepared.groups) * crowd.water.lb_per_in3
    spare = lift - dead_weights(dock.assembly, crowd)[:, 3].sum()
    return max(floor(spare / weight), 0) + 2


def _last_holding(state: Callable[[Array], Settled], most: int, under: Under) -> int:
    """The largest count that holds; -1 if not even nobody. `most` does not hold."""
    low, high = -1, most
    while high - low > 1:
        counts = np.unique(np.linspace(low, high, min(2 * _STEPS, high - low) + 1).astype(int))[1:-1]
        fails = _fails(state(counts.astype(float)), under)
        if fails.any():
            first = int(np.argmax(fails))
            low, high = int(counts[first - 1]) if first else low, int(counts[first])
        else:
            low = int(counts[-1])
    return low


def _fails(settled: Settled, under: Under) -> NDArray[np.bool_]:
    top = settled.lowest_top_in if under is Under.FIRST_CORNER else settled.whole_top_in
    return (settled.severity > 0) | (top <= 0)


def _why(settled: Settled, row: int) -> str:
    severity = int(settled.severity[row])
    return _OUTCOMES[severity].value if severity else "float tops under"


def _standing(dock: DockAfloat, settled: Settled, holds: int) -> tuple[float | None, float | None]:
    if holds < 0:
        return None, None
    tilt = float(np.degrees(np.arccos(np.clip(settled.attitude[0, :, 2].min(), -1, 1))))
    return tilt, float(dock.prepared.deck_heights_in(settled.attitude[:1]).min())
