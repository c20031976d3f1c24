"""Sheets put to paper: made once for a stage and a letter, printed as often as they get wet."""

import datetime
from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from jobs.fieldwork.documents.facts import number_of
from jobs.fieldwork.documents.paper import square_code
from jobs.fieldwork.documents.sheet import Sheet, make_sheet
from jobs.fieldwork.models import STAGE_NUMBERS, WorkOrder, WorkStage
from jobs.records.models import Job
from jobs.records.services import level_on

from .basis import Basis, Worked, basis_of, work_of, worked_out
from .before import left_by
from .bought import as_bought
from .planned import plan_of

LEVEL_STAGES = ("launch", "anchoring", "handover")


@transaction.atomic
def print_orders(job: Job, *, stages: Sequence[str], by: Staff) -> list[WorkOrder]:
    """The work orders of these stages from what the job is built from now, each logged as printed.

    Raises NothingToBuild, and SpecFaults when the spec cannot be worked out.
    """
    locked = Job.objects.select_for_update().in_full().get(pk=job.pk)
    basis = basis_of(locked)
    worked_out(basis.document, on=timezone.localdate(), proof=False)
    return [_print(basis, stage, by=by) for stage in sorted(stages, key=STAGE_NUMBERS.__getitem__)]


def sheets_of(orders: Sequence[WorkOrder], *, address: str) -> list[Sheet]:
    """The sheets of printed orders, as of the day they were printed. `address` is this machine's, for the code.

    Raises SpecFaults.
    """
    worked: dict[tuple[str, datetime.date], Worked] = {}
    made = []
    for order in orders:
        key = order.letter, timezone.localtime(order.printed_at).date()
        if key not in worked:
            worked[key] = worked_out(order.document, on=key[1])
        cuts = order.stage == WorkStage.FRAMING
        own = as_bought(worked[key], order.job, letter=order.letter) if cuts else worked[key]
        work = work_of(order, own, before=left_by(order))
        code = square_code(f"{address.rstrip('/')}{order.get_absolute_url()}")
        made.append(make_sheet(work, printed_at=timezone.localtime(order.printed_at), code=code))
    return made


def later_letter(order: WorkOrder) -> str:
    """The letter that has taken this sheet's place: accepted, or printed since; empty while it stands."""
    later = WorkOrder.objects.filter(job_id=order.job_id, stage=order.stage, position__gt=order.position)
    newest = later.newest_first().first()
    basis = basis_of(order.job)
    if basis.position > order.position and basis.sold:
        return basis.letter
    return newest.letter if newest else ""


def _print(basis: Basis, stage: str, *, by: Staff) -> WorkOrder:
    now, facts = timezone.now(), _level(basis.job, stage)
    order = WorkOrder.objects.filter(job=basis.job, stage=stage, letter=basis.letter).first()
    fresh = {"document": dict(basis.document), "sold": basis.sold, "printed_at": now, "printed_by": by, **facts}
    if order is None:
        number = number_of(basis.job.number, stage)
        order = WorkOrder(
            job=basis.job, stage=stage, number=number, letter=basis.letter, position=basis.position, **fresh
        )
        order.full_clean()
        order.save()
        log_made(order, by=by, facts={"number": number, "letter": basis.letter, "printed_at": now})
        return order
    before = {"printed_at": order.printed_at, "level_in": order.level_in}
    for name, value in fresh.items():
        setattr(order, name, value)
    order.version += 1
    order.save()
    after = {"printed_at": now, "level_in": order.level_in, "version": order.version}
    log_change(order, did="printed again", by=by, before=before, after=after)
    return order


def _level(job: Job, stage: str) -> dict[str, object]:
    if stage not in LEVEL_STAGES:
        return {"level_in": None, "level_on": None, "level_words": ""}
    day = plan_of(job, stage).on or timezone.localdate()
    found = level_on(job.site, day)
    return {"level_in": found.value_in, "level_on": day, "level_words": found.words[:200]}
