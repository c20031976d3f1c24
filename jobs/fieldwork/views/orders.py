"""A job's work orders: print them, look at what stands."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from contractor.company.access import signed_in
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.fieldwork import services
from jobs.fieldwork.documents.paper import lists_pdf as print_lists
from jobs.fieldwork.documents.paper import sheets_pdf
from jobs.fieldwork.models import WorkOrder, WorkStage
from jobs.records.models import Job

PAGE = "jobs/fieldwork/orders.html"


@signed_in
@require_GET
def orders(request: HttpRequest, number: str) -> HttpResponse:
    return _page(request, _job(number))


@signed_in
@require_POST
def print_sheets(request: HttpRequest, number: str) -> HttpResponse:
    job, asked = _job(number), request.POST.get("stage", "all")
    stages = WorkStage.values if asked == "all" else [stage for stage in WorkStage.values if stage == asked]
    try:
        printed = services.print_orders(job, stages=stages, by=request.staff)
    except services.NothingToBuild:
        return _page(request, job, trouble="This job has no spec yet: there is nothing to build from.", status=422)
    except SpecFaults as faults:
        return _page(request, job, trouble=services.faults_said(faults), status=422)
    if len(printed) == 1:
        return go(request, "fieldwork:sheet_pdf", printed[0].number, printed[0].letter)
    return go(request, "fieldwork:all_pdf", job.number, printed[0].letter) if printed else _page(request, job)


@signed_in
@require_GET
def sheet_pdf(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    order = get_object_or_404(WorkOrder.objects.in_full(), number=number, letter=letter)
    return _pdf(_sheets(request, [order]), f"sheet-{order.number}-{order.letter}.pdf")


@signed_in
@require_GET
def all_pdf(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    printed = list(WorkOrder.objects.in_full().filter(job__number=number, letter=letter).order_by("number"))
    if not printed:
        return _page(request, _job(number), status=404)
    return _pdf(_sheets(request, printed), f"sheets-{number}-{letter}.pdf")


@signed_in
@require_GET
def lists_pdf(request: HttpRequest, number: str) -> HttpResponse:
    job = _job(number)
    try:
        load, pick = services.lists_of(job, on=timezone.localdate())
    except services.NothingToBuild:
        return _page(request, job, trouble="This job has no spec yet: there is nothing to load.", status=422)
    except SpecFaults as faults:
        return _page(request, job, trouble=services.faults_said(faults), status=422)
    return _pdf(print_lists(load, pick), f"pick-and-load-{job.number}.pdf")


def _sheets(request: HttpRequest, printed: list[WorkOrder]) -> bytes:
    return sheets_pdf(services.sheets_of(printed, address=request.build_absolute_uri("/")))


def _page(request: HttpRequest, job: Job, *, trouble: str = "", status: int = 200) -> HttpResponse:
    shown = {"job": job, "board": services.orders_board(job), "trouble": trouble}
    return fragment(request, PAGE, shown, status=status)


def _job(number: str) -> Job:
    return get_object_or_404(Job.objects.in_full(), number=number)


def _pdf(pdf: bytes, name: str) -> HttpResponse:
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response
