"""What shares the day columns of the board: deliveries to the yard, and the water where work is to be done on it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from jobs.records.models import Site
from jobs.schedule.models import JobStage
from jobs.supply.models import OrderLine

from .facts import LEVEL_STAGES, levels_at

MOST_WATERS = 3


@dataclass(frozen=True, slots=True)
class Delivery:
    """Orders promised for one day, in words."""

    day: date
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WaterRow:
    """The level at one site on each day shown; None where nobody can say."""

    site: Site
    datum: str
    levels_in: tuple[float | None, ...]


def deliveries_on(days: Sequence[date]) -> tuple[Delivery, ...]:
    """What suppliers promised for each day; empty when none of these days brings anything."""
    if not days:
        return ()
    lines = (
        OrderLine.objects.owed()
        .filter(expected_on__range=(days[0], days[-1]))
        .values_list("expected_on", "order__number", "order__supplier__name")
    )
    by_day: dict[date, set[str]] = defaultdict(set)
    for day, number, supplier in lines:
        by_day[day].add(f"Order {number}, {supplier}")
    return tuple(Delivery(day, tuple(sorted(by_day[day]))) for day in days) if by_day else ()


def waters_on(days: Sequence[date], stages: Iterable[JobStage], *, today: date) -> tuple[WaterRow, ...]:
    """The water at the sites where something is launched or anchored on these days."""
    sites = {one.job.site_id: one.job.site for one in stages if one.stage in LEVEL_STAGES and not one.is_done}
    rows = []
    for site in list(sites.values())[:MOST_WATERS]:
        at = levels_at(site, today=today)
        levels = tuple(at(day) for day in days)
        if any(level is not None for level in levels):
            rows.append(WaterRow(site, site.levels.datum, levels))
    return tuple(rows)
