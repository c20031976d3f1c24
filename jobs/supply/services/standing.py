"""Whether a stage has its goods, and what a job's goods have cost."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import F, Sum

from jobs.records.models import Job
from jobs.records.models.saying import day_said
from jobs.supply.models import Movement, Need, Stock

from .coming import Cover, covers


@dataclass(frozen=True, slots=True)
class MaterialsStanding:
    """`ready`: all is set aside or with the crew. `expected_on`: when the last of it is promised, if that is known."""

    ready: bool
    expected_on: date | None
    words: str


def materials_for(job: Job, *, stage: str) -> MaterialsStanding:
    """Whether this stage of this job has its goods, else what it waits for and until when."""
    return materials_by_stage(job).get(stage) or _all_here(
        Need.objects.standing().filter(job=job, stage=stage).exists()
    )


def materials_by_stage(job: Job) -> dict[str, MaterialsStanding]:
    """The stages whose goods are not all here. A handful of questions, whatever the job."""
    by_stage: dict[str, list[Cover]] = {}
    for one in covers([job.pk]):
        by_stage.setdefault(one.need.stage, []).append(one)
    ids = {one.need.stock_id for rows in by_stage.values() for one in rows}
    stocks = Stock.objects.in_full().in_bulk(ids)
    return {stage: _waiting(rows, stocks) for stage, rows in by_stage.items()}


def value_of(job: Job) -> Decimal:
    """What the goods taken to this job, less those brought back, cost on average, to the cent."""
    moved = Movement.objects.filter(job=job, kind__in=["issued", "back", "cut"], unit_cost__isnull=False)
    cost = moved.aggregate(cost=Sum(-F("quantity") * F("unit_cost")))["cost"] or 0
    return Decimal(str(cost)).quantize(Decimal("0.01"))


def _all_here(any_needed: bool) -> MaterialsStanding:
    return MaterialsStanding(True, None, "All goods are here and set aside." if any_needed else "It needs no goods.")


def _waiting(rows: list[Cover], stocks: dict[int, Stock]) -> MaterialsStanding:
    worst = max(
        rows,
        key=lambda one: (one.unordered > 0, one.expected_on is None and one.promised > 0, one.expected_on or date.min),
    )
    unsure = any(one.unordered or (one.promised and one.expected_on is None) for one in rows)
    expected = None if unsure else max((one.expected_on for one in rows if one.expected_on), default=None)
    goods = stocks[worst.need.stock_id].so_many(worst.need.missing)
    others = f" and {len(rows) - 1} more" if len(rows) > 1 else ""
    return MaterialsStanding(False, expected, f"Waits for {goods}{others}, {_promise(worst)}.")


def _promise(worst: Cover) -> str:
    if worst.unordered:
        return "not ordered"
    if worst.promised:
        day = worst.expected_on
        return f"promised {day_said(day, short=True, weekday=True)}" if day else "on order, no day promised"
    return "in the yard, not set aside"
