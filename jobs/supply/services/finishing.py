"""Which jobs and sections all goods in the yard and on the way can finish first, over everything that is missing."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from estimating.engine.finishing import Share
from jobs.records.models.saying import day_said
from jobs.supply.models import Stock

from .advice import Named, advice_on, named
from .coming import free_stock, missing_needs, owed_on_orders

MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class FinishLine:
    """A job or a section the goods can finish: when its last thing is here, and what it takes from where."""

    job: Named
    part: str  # of the job, when it is not all of it
    needed_by: date
    ready_on: date | None  # None: all of it lies in the yard
    in_time: bool
    goods: tuple[str, ...]  # the first few
    more: int


@dataclass(frozen=True, slots=True)
class WaitLine:
    job: Named
    part: str  # of the job, when it is not all of it
    needed_by: date
    lacks: tuple[str, ...]  # the first few; none: the goods left over would do, yet serve others better
    more: int


@dataclass(frozen=True, slots=True)
class FinishPage:
    words: str
    proven: bool
    now: tuple[FinishLine, ...]
    later: tuple[FinishLine, ...]
    wait: tuple[WaitLine, ...]


def finish_page(*, on: date) -> FinishPage:
    """Most needed-by dates met, then fewest jobs left waiting: solved over every missing need of every open job."""
    needs = missing_needs()
    advice = advice_on(needs, free_stock(), owed_on_orders(), on)
    jobs = named(need.job_id for need in needs)
    stocks = Stock.objects.in_full().in_bulk({need.stock_id for need in needs})
    divided = {str(need.job_id) for need in needs if need.section}
    found = [
        FinishLine(
            jobs[int(one.job)],
            _part(one.section, one.job in divided),
            one.needed_by,
            one.ready_on,
            one.in_time,
            tuple(_share(share, stocks) for share in one.shares[:MOST_NAMED]),
            max(len(one.shares) - MOST_NAMED, 0),
        )
        for one in advice.finish
    ]
    wait = [
        WaitLine(
            jobs[int(one.job)],
            _part(one.section, one.job in divided),
            one.needed_by,
            tuple(stocks[int(item)].so_many(quantity) for item, quantity in one.lacks[:MOST_NAMED]),
            max(len(one.lacks) - MOST_NAMED, 0),
        )
        for one in advice.wait
    ]
    return FinishPage(
        str(advice.words) if needs else "",
        advice.proven,
        tuple(one for one in found if one.ready_on is None),
        tuple(one for one in found if one.ready_on),
        tuple(wait),
    )


def _part(section: str, is_divided: bool) -> str:
    if section:
        return f", section {section}"
    return ", all but the floats" if is_divided else ""


def _share(share: Share, stocks: Mapping[int, Stock]) -> str:
    stock = stocks[int(share.item)]
    if share.on is None:
        return stock.so_many(share.quantity)
    return f"{stock.so_many(share.quantity)} coming {day_said(share.on, short=True)}"
