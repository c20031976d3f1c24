"""A plan for all open work: looked for, watched, stopped, put on the board."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile
from contractor.htmx import fragment, go
from jobs.schedule import services
from jobs.schedule.models import PlanRun

PAGE = "jobs/schedule/run.html"
SECONDS = {"5": 5, "10": 10, "30": 30}


@office_only
@require_http_methods(["GET", "POST"])
def start(request: HttpRequest) -> HttpResponse:
    """What a new plan would do, and the press that begins to look for it."""
    if request.method == "GET":
        return fragment(request, "jobs/schedule/plan.html", {"last_run": PlanRun.objects.first(), "seconds": SECONDS})
    seconds = SECONDS.get(request.POST.get("seconds", ""), 10)
    try:
        run = services.start_run(by=request.staff, on=timezone.localdate(), seconds=seconds)
    except services.NothingToPlan as refused:
        shown = {"refused": str(refused), "seconds": SECONDS}
        return fragment(request, "jobs/schedule/plan.html", shown, status=422)
    return go(request, run)


@office_only
@require_GET
def run(request: HttpRequest, run_id: int) -> HttpResponse:
    found = get_object_or_404(PlanRun, pk=run_id)
    return _page(request, found)


@office_only
@require_POST
def stop(request: HttpRequest, run_id: int) -> HttpResponse:
    found = get_object_or_404(PlanRun, pk=run_id)
    services.stop_run(found)
    return go(request, found)


@office_only
@require_POST
def fix(request: HttpRequest, run_id: int) -> HttpResponse:
    found = get_object_or_404(PlanRun, pk=run_id)
    try:
        services.fix_run(found, by=request.staff)
    except (services.BoardChanged, ChangedMeanwhile):
        return _page(request, found, changed=True, status=409)
    return go(request, "schedule:board")


def _page(request: HttpRequest, found: PlanRun, *, changed: bool = False, status: int = 200) -> HttpResponse:
    visits = services.proposed(found)
    shown = {
        "run": found,
        "visits": visits,
        "moving": [visit for visit in visits if visit.moves],
        "lost": services.is_lost(found),
        "changed": changed,
    }
    return fragment(request, f"{PAGE}#progress", shown, status=status)
