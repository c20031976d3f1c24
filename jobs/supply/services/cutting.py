"""The cut list of one job or of several together: pieces of their docks, sticks and prices, the yard's offcuts."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from contractor.company.current import firm
from contractor.company.models import Company
from estimating.catalogue.models import Item
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.cutting import CutPlan, Piece, ShopRules, StockLength, exact_in, plan_cuts, yard_offcut
from estimating.engine.parts import Catalogue
from estimating.engine.pipeline import estimate
from estimating.engine.result_file import estimate_as_dict
from estimating.engine.spec_file import load_spec
from jobs.records.models import Job

from .ledger import offcuts_on_hand
from .needs import figures_accepted

SECONDS_A_LIST = 6.0
BOARD = "board"


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
    name: str
    plan: CutPlan


@dataclass(frozen=True, slots=True)
class CutWork:
    """All lumber of the jobs, one plan for each item; pieces of all jobs share sticks."""

    jobs: tuple[SawnJob, ...]
    items: tuple[ItemCuts, ...]

    @property
    def cost(self) -> Decimal:
        return sum((one.plan.cost for one in self.items), Decimal(0))

    @property
    def proven(self) -> bool:
        return all(one.plan.proven for one in self.items)


def cut_work(jobs: Sequence[Job], *, on: date) -> CutWork:
    """The cheapest sticks for these jobs at a day's prices, and how to cut each.

    Raises NothingToCut for a job without a spec, SpecFaults for one that cannot be worked out.
    """
    catalogue = engine_catalogue(on=on)
    sawn, pieces = [], []
    for job in jobs:
        letter, sold, figures = _figures(job, catalogue, on)
        sawn.append(SawnJob(job, letter, sold))
        pieces += _pieces(job.number, figures)
    names = dict(Item.objects.values_list("code", "name"))
    rules = shop_rules(firm() or Company())
    by_code: dict[str, list[Piece]] = {}
    for code, piece in pieces:
        by_code.setdefault(code, []).append(piece)
    offcuts = offcuts_on_hand() if rules.offcuts_first else []
    items = tuple(
        ItemCuts(
            names.get(code, code),
            plan_cuts(
                wanted, _stock(code, catalogue, offcuts), rules, item=code, seconds=SECONDS_A_LIST / len(by_code)
            ),
        )
        for code, wanted in by_code.items()
    )
    return CutWork(tuple(sawn), items)


def shop_rules(company: Company) -> ShopRules:
    """How the firm says it saws."""
    return ShopRules(
        kerf_in=exact_in(company.kerf_in),
        end_trim_in=exact_in(company.end_trim_in),
        over_in=exact_in(company.stick_over_in),
        keep_from_in=exact_in(company.keep_offcut_in),
        offcuts_first=company.offcuts_first,
    )


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


def _pieces(number: str, figures: Mapping[str, Any]) -> Iterator[tuple[str, Piece]]:
    for piece in figures["pieces"]:
        length = exact_in(piece["length_in"])
        yield piece["item"], Piece(piece["mark"], length, job=number, section=piece["section"])
    for run in figures["boards"]:
        for _ in range(run["count"]):
            yield run["item"], Piece(BOARD, exact_in(run["length_in"]), job=number, section=run["section"])


def _stock(code: str, catalogue: Catalogue, offcuts: Iterable[tuple[str, float, int]]) -> list[StockLength]:
    item = catalogue.lumber.get(code)
    sticks = item.sticks if item else ()
    priced = [
        StockLength(
            exact_in(stick.length_in),
            stick.price.amount if stick.price and stick.price.currency == catalogue.currency else None,
        )
        for stick in sticks
    ]
    return [*priced, *(yard_offcut(exact_in(length), count) for of, length, count in offcuts if of == code)]
