"""The pick list and the load list of a job, from what it is built from now."""

import datetime

from django.utils import timezone

from estimating.catalogue.models import Item
from jobs.fieldwork.documents.lists import LoadList, PickList, load_list, pick_list
from jobs.fieldwork.models import WorkOrder, WorkStage
from jobs.records.models import Job

from .basis import basis_of, work_of, worked_out
from .bought import as_bought


def lists_of(job: Job, *, on: datetime.date) -> tuple[LoadList, PickList]:
    """Raises NothingToBuild, SpecFaults."""
    basis = basis_of(job)
    order = WorkOrder(
        job=job,
        stage=WorkStage.LAYOUT,
        letter=basis.letter,
        position=basis.position,
        sold=basis.sold,
        document=dict(basis.document),
        printed_at=timezone.now(),
    )
    worked = as_bought(worked_out(basis.document, on=on), job, letter=basis.letter)
    work = work_of(order, worked)
    items = Item.objects.prefetch_related("substitutes")
    shelves = {item.code: item.shelf for item in items if item.shelf}
    swaps = {item.code: ", ".join(other.name for other in item.substitutes.all()) for item in items}
    return load_list(work), pick_list(work, shelves=shelves, substitutes=swaps)
