"""What a job was reckoned to take and what it took so far, stage by stage."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import F, Sum
from django.utils import timezone

from contractor.money import to_cents
from estimating.catalogue.services import firm_rules
from estimating.engine.price import burdened_wage
from jobs.fieldwork.documents.facts import STAGE_WORDS, STAGES
from jobs.fieldwork.services import hours_of
from jobs.records.models import Job
from jobs.schedule.services import stages_of
from jobs.supply.models import Movement

ZERO = Decimal(0)
TAKEN = ("issued", "back", "cut")


@dataclass(frozen=True, slots=True)
class Against:
    """A figure as planned and as it is."""

    planned: Decimal
    actual: Decimal

    @property
    def over(self) -> Decimal:
        """Above zero: more than planned."""
        return self.actual - self.planned


@dataclass(frozen=True, slots=True)
class StageCost:
    stage: str
    done: bool
    hours: Against
    labour: Against
    goods: Against

    @property
    def name(self) -> str:
        return STAGE_WORDS[self.stage]

    @property
    def cost(self) -> Against:
        return Against(self.labour.planned + self.goods.planned, self.labour.actual + self.goods.actual)

    @property
    def is_over(self) -> bool:
        return self.cost.over > 0

    @property
    def off(self) -> Decimal:
        """How far from the plan, either way."""
        return abs(self.cost.over)

    @property
    def off_words(self) -> str:
        if self.is_over:
            return "over"
        return ("under" if self.done else "to go") if self.off else "as planned"


@dataclass(frozen=True, slots=True)
class JobCost:
    """The stages, their sum, and what the job sold for before sales tax. Wage as it is today, with its burden."""

    stages: tuple[StageCost, ...]
    wage: Decimal
    price: Decimal | None

    @property
    def total(self) -> StageCost:
        done = bool(self.stages) and all(stage.done for stage in self.stages)
        return StageCost("handover", done, *(self._sum(name) for name in ("hours", "labour", "goods")))

    def _sum(self, name: str) -> Against:
        parts = [getattr(stage, name) for stage in self.stages]
        return Against(sum((one.planned for one in parts), ZERO), sum((one.actual for one in parts), ZERO))

    @property
    def left_of_price(self) -> Decimal | None:
        """Price less labour and goods so far: what is there for everything else."""
        return None if self.price is None else self.price - self.total.cost.actual


def cost_of(job: Job) -> JobCost:
    """Planned from the accepted quote, actual from the sheets keyed in and the goods taken from the yard."""
    figures = job.quotes.filter(state="accepted").values_list("figures", flat=True).first()
    wage = burdened_wage(firm_rules(on=timezone.localdate()))
    planned_goods, actual_goods, worked = _planned_goods(figures), _goods_taken(job), hours_of(job)
    stages = {stage.stage: stage for stage in stages_of(job)} if figures else {}
    lines = []
    for name in STAGES:
        standing = stages.get(name)
        hours = Against(standing.planned_hours if standing else ZERO, Decimal(str(worked.get(name, 0))))
        goods = Against(planned_goods.get(name, ZERO), actual_goods.get(name, ZERO))
        labour = Against(to_cents(hours.planned * wage), to_cents(hours.actual * wage))
        lines.append(StageCost(name, bool(standing and standing.is_done), hours, labour, goods))
    return JobCost(tuple(lines), wage, Decimal(str(figures["price"]["price"])) if figures else None)


def _planned_goods(figures: dict | None) -> dict[str, Decimal]:
    totals: dict[str, Decimal] = {}
    for line in figures["takeoff"]["lines"] if figures else ():
        totals[line["stage"]] = totals.get(line["stage"], ZERO) + Decimal(str(line["cost"]))
    return totals


def _goods_taken(job: Job) -> dict[str, Decimal]:
    """By the stage of the need they were taken for; what was taken for none counts in framing."""
    taken = Movement.objects.filter(job=job, kind__in=TAKEN, unit_cost__isnull=False)
    rows = taken.values_list("need__stage").annotate(cost=Sum(-F("quantity") * F("unit_cost")))
    totals: dict[str, Decimal] = {}
    for stage, cost in rows.order_by():
        name = stage or "framing"
        totals[name] = totals.get(name, ZERO) + to_cents(Decimal(str(cost)))
    return totals
