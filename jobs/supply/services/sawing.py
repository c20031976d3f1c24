"""What the saw left: offcuts it took from the yard, and those that go back by their length."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from django.db import transaction

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.models import Item
from jobs.records.models import Job

from .cutting import CutWork
from .ledger import cut_up, keep_offcut, shelf_called, stock_of

OFFCUTS = "Offcuts"


@dataclass(frozen=True, slots=True)
class SawnLine:
    """So many offcuts of a lumber item and a length, taken to the saw or back from it."""

    way: Literal["taken", "back"]
    item: Item
    length_in: float
    count: int


def as_planned(work: CutWork) -> list[SawnLine]:
    """What the cut list takes from the offcuts and puts back, item by item."""
    items = {item.code: item for item in Item.objects.filter(code__in=[one.plan.item for one in work.items])}
    lines = []
    for one in work.items:
        item = items[one.plan.item]
        lines += [SawnLine("taken", item, float(length), count) for length, count in one.plan.from_yard]
        lines += [SawnLine("back", item, float(length), count) for length, count in one.plan.to_yard]
    return lines


@transaction.atomic
def enter_sawing(job: Job, *, lines: Iterable[SawnLine], shelf: str, by: Staff) -> None:
    """The sticks are cut: enter what the yard gave and what it got. Raises NotOnHand."""
    done = [line for line in lines if line.count]
    for line in done:
        stock = stock_of(line.item, line.length_in)
        if line.way == "taken":
            cut_up(stock, count=line.count, by=by, job=job)
        else:
            keep_offcut(stock, count=line.count, shelf=shelf_called(shelf or OFFCUTS), by=by, job=job)
    said = [f"{line.count} {line.item} {line.length_in:g} in {line.way}" for line in done]
    log_change(job, did="sawed", by=by, after={"offcuts": said})
