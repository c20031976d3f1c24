"""The crew's start page, and the way from a sheet number to its page."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from contractor.htmx import fragment, go
from jobs.fieldwork import services
from jobs.fieldwork.forms.defects import FindSheetForm
from jobs.fieldwork.models import WorkOrder

PAGE = "jobs/fieldwork/today.html"


@signed_in
@require_GET
def today(request: HttpRequest) -> HttpResponse:
    return _page(request, FindSheetForm())


@signed_in
@require_GET
def find(request: HttpRequest) -> HttpResponse:
    form = FindSheetForm(request.GET)
    if form.is_valid():
        order = services.find_order(form.cleaned_data["number"])
        if order is not None:
            return go(request, order)
        form.add_error("number", "There is no such sheet. It stands at the top left, like 26-031-2.")
    return _page(request, form, status=422)


@signed_in
@require_GET
def sheet(request: HttpRequest, number: str) -> HttpResponse:
    return go(request, get_object_or_404(WorkOrder, pk=getattr(services.find_order(number), "pk", None)))


def _page(request: HttpRequest, form: FindSheetForm, *, status: int = 200) -> HttpResponse:
    day = timezone.localdate()
    shown = {"form": form, "today": day, "board": services.crew_board(request.staff, on=day)}
    return fragment(request, PAGE, shown, status=status)
