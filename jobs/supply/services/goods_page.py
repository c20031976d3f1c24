"""A job's goods, stage by stage, gathered once for its page."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.records.models import Job
from jobs.supply.models import STAGES, Hold, Need, SetAside

from .coming import Cover, covers
from .holds import holds_of
from .standing import MaterialsStanding, materials_by_stage, value_of

STAGE_WORDS = {"handover": "hand-over"}


@dataclass(frozen=True, slots=True)
class NeedLine:
    need: Need
    cover: Cover | None  # None: nothing is missing
    others: tuple[Need, ...]  # other jobs' set-aside goods of the same kind

    @property
    def may_set_aside(self) -> Decimal:
        return self.cover.free if self.cover else Decimal(0)


@dataclass(frozen=True, slots=True)
class StageGoods:
    stage: str
    needed_by: date
    standing: MaterialsStanding | None  # None: all is here
    lines: tuple[NeedLine, ...]


@dataclass(frozen=True, slots=True)
class GoodsPage:
    job: Job
    stages: tuple[StageGoods, ...]
    cancelled: tuple[Need, ...]
    holds: tuple[Hold, ...]
    cleared: tuple[Hold, ...]
    asides: tuple[SetAside, ...]
    free_to_set_aside: bool
    value: Decimal


def goods_of(job: Job) -> GoodsPage:
    """Everything the goods page of a job says."""
    rows = list(Need.objects.filter(job=job).in_full().order_by("stock__item__kind", "stock__item__name", "pk"))
    standing = [need for need in rows if need.cancelled_at is None]
    by_need = {one.need.need_id: one for one in covers([job.pk])}
    waiting = materials_by_stage(job)
    short = {need.stock_id for need in standing if need.pk in by_need and by_need[need.pk].free < need.missing}
    others = _others(job, short)
    lines = [NeedLine(need, by_need.get(need.pk), tuple(others.get(need.stock_id, ()))) for need in standing]
    return GoodsPage(
        job=job,
        stages=tuple(_stage(stage, lines, waiting) for stage in STAGES if any(x.need.stage == stage for x in lines)),
        cancelled=tuple(need for need in rows if need.cancelled_at),
        holds=tuple(holds_of(job)),
        cleared=tuple(Hold.objects.filter(job=job, cleared_on__isnull=False).order_by("-cleared_on")),
        asides=tuple(SetAside.objects.filter(need__job=job).select_related("need__stock__item").order_by("-pk")[:40]),
        free_to_set_aside=any(line.may_set_aside for line in lines),
        value=value_of(job),
    )


def _stage(stage: str, lines: list[NeedLine], waiting: dict[str, MaterialsStanding]) -> StageGoods:
    of_stage = tuple(line for line in lines if line.need.stage == stage)
    first = min(line.need.needed_by for line in of_stage)
    return StageGoods(STAGE_WORDS.get(stage, stage), first, waiting.get(stage), of_stage)


def _others(job: Job, stocks: set[int]) -> dict[int, list[Need]]:
    holders = Need.objects.standing().of_open_jobs().in_full().filter(stock__in=stocks, set_aside__gt=0)
    found: dict[int, list[Need]] = {}
    for need in holders.exclude(job=job):
        found.setdefault(need.stock_id, []).append(need)
    return found
