"""The cut list of one job or of several together: pieces of their docks, sticks and prices, the yard's offcuts."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from estimating.catalogue.models import Item
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.cutting import CutPlan, Piece, StockLength, exact_in, yard_offcut
from estimating.engine.parts import Catalogue
from estimating.engine.pipeline import estimate
from estimating.engine.result_file import estimate_as_dict
from estimating.engine.spec_file import load_spec
from jobs.records.models import Job
from jobs.supply.models import Need

from .ledger import offcuts_on_hand
from .needs import figures_accepted
from .sticks import lengths_sold, pieces_of, planned, shop_rules


class NothingToCut(Exception):
    """The job has no dock to cut for yet."""

    def __init__(self, job: Job):
        self.job = job
        super().__init__(f"{job} has no spec yet.")


@dataclass(frozen=True, slots=True)
class SawnJob:
    """A job on the list, the letter of the spec its pieces come from, and whether a customer signed it."""

    job: Job
    letter: str
    sold: bool


@dataclass(frozen=True, slots=True)
class ItemCuts:
    """One lumber item. `whole`: sticks bought for the jobs that stay whole, by length."""

    name: str
    plan: CutPlan
    waste_percent: Decimal
    whole: tuple[tuple[Fraction, int], ...] = ()


@dataclass(frozen=True, slots=True)
class CutWork:
    """All lumber of the jobs, one plan for each item; pieces of all jobs share sticks.

    `bought`: cut from the sticks that the jobs have been given, not from what could be bought today.
    """

    jobs: tuple[SawnJob, ...]
    items: tuple[ItemCuts, ...]
    bought: bool

    @property
    def cost(self) -> Decimal:
        return sum((one.plan.cost for one in self.items), Decimal(0))

    @property
    def proven(self) -> bool:
        return all(one.plan.proven for one in self.items)


def cut_work(jobs: Sequence[Job], *, on: date, anew: bool = False) -> CutWork:
    """How to cut the lumber of these jobs: from the sticks in their goods once all are sold, so that the saw finds what
    was bought; else, or asked `anew`, from the cheapest sticks at a day's prices. The yard's offcuts come first.

    Raises NothingToCut for a job without a spec, SpecFaults for one that cannot be worked out.
    """
    catalogue = engine_catalogue(on=on)
    sawn: list[SawnJob] = []
    pieces: dict[str, list[Piece]] = {}
    for job in jobs:
        letter, sold, figures = _figures(job, catalogue, on)
        sawn.append(SawnJob(job, letter, sold))
        for code, own in pieces_of(job.number, figures).items():
            pieces.setdefault(code, []).extend(own)
    bought = {} if anew or not all(one.sold for one in sawn) else _bought(jobs)
    names, rules = dict(Item.objects.values_list("code", "name")), shop_rules()
    offcuts = offcuts_on_hand() if rules.offcuts_first else []
    items = []
    for code, wanted in pieces.items():
        sold, given = lengths_sold(code, catalogue), bought.get(code)
        stock = [*(_given(given, sold) if given else sold), *_in_yard(code, offcuts)]
        plan = planned(tuple(wanted), tuple(stock), rules, code)
        waste = catalogue.lumber[code].waste_percent if code in catalogue.lumber else Decimal(0)
        items.append(ItemCuts(names.get(code, code), plan, waste, _whole(given or {}, plan)))
    return CutWork(tuple(sawn), tuple(items), bool(bought))


def _bought(jobs: Sequence[Job]) -> dict[str, dict[Fraction, int]]:
    """The sticks among the jobs' goods, by item and length."""
    rows = Need.objects.standing().of_sticks().filter(job__in=jobs)
    found: dict[str, dict[Fraction, int]] = {}
    for code, length, count in rows.values_list("stock__item__code", "stock__length_in", "quantity"):
        of_item = found.setdefault(code, {})
        of_item[exact_in(length)] = of_item.get(exact_in(length), 0) + int(count)
    return found


def _given(given: Mapping[Fraction, int], sold: Iterable[StockLength]) -> Iterator[StockLength]:
    """So many of each length and no more; the price tells which had better stay whole."""
    prices = {one.length_in: one.price for one in sold}
    return (StockLength(length, prices.get(length) or Decimal(0), count) for length, count in given.items())


def _in_yard(code: str, offcuts: Iterable[tuple[str, float, int]]) -> Iterator[StockLength]:
    return (yard_offcut(exact_in(length), count) for of, length, count in offcuts if of == code)


def _whole(given: Mapping[Fraction, int], plan: CutPlan) -> tuple[tuple[Fraction, int], ...]:
    used = dict(plan.to_buy)
    left = {length: count - used.get(length, 0) for length, count in given.items()}
    return tuple((length, count) for length, count in sorted(left.items(), reverse=True) if count > 0)


def sawn_together(job: Job) -> list[Job]:
    """Other open jobs a customer has signed: their lumber can be cut from the same sticks."""
    signed = Job.objects.open().in_full().filter(quotes__state="accepted").exclude(pk=job.pk)
    return list(signed.distinct().order_by("year", "sequence"))


def _figures(job: Job, catalogue: Catalogue, on: date) -> tuple[str, bool, Mapping[str, Any]]:
    """The dock as the customer accepted it, else as the newest spec has it."""
    quote = job.quotes.filter(state="accepted").first()
    if quote is not None:
        return quote.spec_letter, True, figures_accepted(quote)
    newest = job.spec_revisions.order_by("-position").first()
    if newest is None:
        raise NothingToCut(job)
    worked = estimate(load_spec(newest.document), catalogue, firm_rules(on=on), proof=False)
    return newest.letter, False, estimate_as_dict(worked)
