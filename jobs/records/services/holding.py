"""A dock held against the numbers an authority set."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from estimating.engine.result import Design
from jobs.records.models.limits import DockLimits

Measure = Callable[[Design], float | None]


@dataclass(frozen=True, slots=True)
class LimitBroken:
    """A dock is over a limit: which, what is allowed, what the dock has, in engine units; `by` names the rule."""

    by: str
    words: str
    unit: str
    most: float
    dock: float


def widest_in(dock: Design) -> float:
    """The widest section, across its own length."""
    return max(section.width_in for section in dock.spec.sections)


def reach_in(dock: Design) -> float:
    """From the shore end of the ramp, or the shore itself, to the outermost edge of the dock."""
    outermost = max(
        section.x_in + (section.width_in if section.turned else section.length_in) for section in dock.spec.sections
    )
    return outermost - min(dock.ramp.shore_x_in, 0.0) if dock.ramp else outermost


def walkway_in(dock: Design) -> float | None:
    return dock.ramp.width_in if dock.ramp else None


def area_sqft(dock: Design) -> float:
    return dock.deck_area_sqft


MEASURES: tuple[tuple[str, str, str, Measure], ...] = (
    ("most_width_in", "wide", "in", widest_in),
    ("most_area_sqft", "of deck", "sqft", area_sqft),
    ("most_reach_in", "out from the shore", "in", reach_in),
    ("most_walkway_width_in", "of ramp width", "in", walkway_in),
)


def broken_limits(dock: Design, limits: Iterable[tuple[str, DockLimits]]) -> list[LimitBroken]:
    """The limits this dock is over, in the order given. Each comes with the name of who set it."""
    return [
        LimitBroken(by, words, unit, most, found)
        for by, limit in limits
        for field, words, unit, measure in MEASURES
        if (most := getattr(limit, field)) is not None and (found := measure(dock)) is not None and found > most
    ]
