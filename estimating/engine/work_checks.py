"""Whether the part of a spec that only costs money makes sense: crew, trips, hours, hires, fees."""

import math
from collections.abc import Iterator
from decimal import Decimal

from .reasons import Fault, Sentence
from .spec import DockSpec

Figure = int | float | Decimal | None


def work_faults(spec: DockSpec) -> tuple[Fault, ...]:
    """A fault at every figure below zero, not a number, or a crew of nobody. None is never a fault: it is open."""
    below = (Fault(path, Sentence(words)) for path, figure, words in _figures(spec) if not _from_zero(figure))
    nobody = spec.work.crew_size is None or spec.work.crew_size < 1
    crew = [Fault("work.crew_size", Sentence("A crew is one person or more."))] if nobody else []
    return (*crew, *below)


def _from_zero(figure: Figure) -> bool:
    return figure is None or (math.isfinite(figure) and figure >= 0)


def _figures(spec: DockSpec) -> Iterator[tuple[str, Figure, str]]:
    work = spec.work
    yield "place.one_way_miles", spec.place.one_way_miles, "Miles must be 0 or more."
    yield "place.carry_in", spec.place.carry_in, "The carry must be 0 or more."
    yield "work.trips", work.trips, "Trips must be 0 or more."
    yield "work.travel_hours", work.travel_hours, "Travel hours must be 0 or more."
    yield "work.launch_hours", work.launch_hours, "Launch hours must be 0 or more."
    yield "work.contingency_percent", work.contingency_percent, "Contingency must be 0 % or more."
    for i, hire in enumerate(work.equipment):
        yield f"work.equipment[{i}].days", hire.days, "Days must be 0 or more."
        yield f"work.equipment[{i}].rate_per_day", hire.rate_per_day, "The rate must be 0 or more."
    for name in ("subcontracts", "permit_fees"):
        for i, allowance in enumerate(getattr(work, name)):
            yield f"work.{name}[{i}].amount", allowance.amount, "The amount must be 0 or more."
