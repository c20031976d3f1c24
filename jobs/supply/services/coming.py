"""Who gets what when: free goods and promised deliveries laid against needs, first for who needs them first.

Nothing here moves anything; it says what the yard and the orders can cover.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from django.db.models import F

from jobs.supply.models import Need, OrderLine, Stock

ZERO = Decimal(0)
NEVER = date.max


class Missing(NamedTuple):
    """A need not yet covered, as read from the database in one row."""

    need_id: int
    job_id: int
    stock_id: int
    stage: str
    section: str
    needed_by: date
    signed_on: date
    missing: Decimal


class Owed(NamedTuple):
    """What a sent order still owes of a stock."""

    stock_id: int
    order_id: int
    expected_on: date | None
    owed: Decimal
    sent_on: date


@dataclass(frozen=True, slots=True)
class Cover:
    """How a missing need will be met: so many lie free, so many are promised, the rest nobody ordered."""

    need: Missing
    free: Decimal
    promised: Decimal
    unordered: Decimal
    expected_on: date | None  # of the last delivery it takes; None if that has no day
    sent_on: date | None  # when the first order it leans on went out
    order_id: int | None

    @property
    def is_here(self) -> bool:
        return not self.promised and not self.unordered


def missing_needs() -> list[Missing]:
    """Needs of open jobs not yet covered, first needed first."""
    found = Need.objects.missing().of_open_jobs()
    rows = found.first_needed_first().values_list(
        "pk",
        "job_id",
        "stock_id",
        "stage",
        "section",
        "needed_by",
        "signed_on",
        F("quantity") - F("set_aside") - F("issued"),
    )
    return [Missing(*row) for row in rows]


def owed_on_orders(stocks: Iterable[int] | None = None) -> list[Owed]:
    """Lines of sent orders still owing (of these stocks), soonest promised first, those without a day last."""
    lines = OrderLine.objects.owed() if stocks is None else OrderLine.objects.owed().filter(stock__in=list(stocks))
    rows = lines.values_list(
        "stock_id",
        "order_id",
        "expected_on",
        F("quantity") - F("accepted") - F("cancelled"),
        "order__sent_at",
    )
    found = [Owed(*row[:4], row[4].date()) for row in rows]
    return soonest_first(found)


def soonest_first(owed: Iterable[Owed]) -> list[Owed]:
    return sorted(owed, key=lambda one: (one.expected_on or NEVER, one.order_id))


def free_stock(ids: Iterable[int] | None = None) -> dict[int, Decimal]:
    """How many of each stock nobody spoke for."""
    found = Stock.objects.filter(on_hand__gt=F("set_aside"))
    if ids is not None:
        found = found.filter(pk__in=list(ids))
    return dict(found.values_list("pk", F("on_hand") - F("set_aside")))


def cover(needs: Sequence[Missing], free: dict[int, Decimal], owed: Sequence[Owed]) -> list[Cover]:
    """Lay free goods, then deliveries in the order they are promised, against needs in the order given."""
    left = dict(free)
    coming: dict[int, list[list]] = defaultdict(list)
    for one in owed:
        coming[one.stock_id].append([one.owed, one])
    return [_cover(need, left, coming.get(need.stock_id, [])) for need in needs]


def covers(jobs: Iterable[int] | None = None) -> list[Cover]:
    """Every missing need of open jobs with how it will be met. Three questions, however many jobs."""
    found = cover(missing_needs(), free_stock(), owed_on_orders())
    wanted = None if jobs is None else set(jobs)
    return found if wanted is None else [one for one in found if one.need.job_id in wanted]


def _cover(need: Missing, left: dict[int, Decimal], coming: list[list]) -> Cover:
    free = min(left.get(need.stock_id, ZERO), need.missing)
    if free:
        left[need.stock_id] -= free
    wants, promised, used = need.missing - free, ZERO, []
    while wants > promised and coming:
        part = min(coming[0][0], wants - promised)
        promised += part
        used.append(coming[0][1])
        coming[0][0] -= part
        if not coming[0][0]:
            coming.pop(0)
    return Cover(
        need=need,
        free=free,
        promised=promised,
        unordered=wants - promised,
        expected_on=used[-1].expected_on if used else None,
        sent_on=min((one.sent_on for one in used), default=None),
        order_id=used[-1].order_id if used else None,
    )
