"""The board on the screen, on the wall and on a phone's calendar."""

from datetime import date

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company import current
from contractor.company.access import public, signed_in
from contractor.htmx import fragment
from jobs.schedule import services
from jobs.schedule.documents.board_paper import board_pdf
from jobs.schedule.documents.feed import crew_calendar
from jobs.schedule.models import CrewFeed, JobStage, PlanRun


@signed_in
@require_GET
def board(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    shown = services.board_from(_day(request, today), today=today)
    moving = _moving(request)
    last_run = PlanRun.objects.first() if request.staff.has_money else None
    context = {"board": shown, "moving": moving, "today": today, "last_run": last_run}
    return fragment(request, "jobs/schedule/board.html", context)


@signed_in
@require_GET
def paper(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    shown = services.board_from(_day(request, today), today=today)
    response = HttpResponse(board_pdf(shown), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="wall-chart-{shown.first}.pdf"'
    return response


@public
@require_GET
def feed(request: HttpRequest, secret: str) -> HttpResponse:
    """A crew's calendar, to whoever has its address."""
    found = get_object_or_404(CrewFeed.objects.open().select_related("crew"), secret=secret)
    now = timezone.now()
    CrewFeed.objects.filter(pk=found.pk).update(last_read_at=now)
    stages = services.days_of_crew(found.crew, on=timezone.localdate())
    firm = current.firm()
    text = crew_calendar(found.crew, stages, now=now, firm_name=firm.name if firm else "")
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Robots-Tag"] = "noindex"
    return response


def _day(request: HttpRequest, today: date) -> date:
    try:
        return date.fromisoformat(request.GET.get("from") or today.isoformat())
    except ValueError as wrong:
        raise Http404 from wrong


def _moving(request: HttpRequest) -> JobStage | None:
    """The stage that was picked to be moved; only owner and office move."""
    wanted = request.GET.get("move", "")
    if not wanted.isdigit() or not request.staff.has_money:
        return None
    return JobStage.objects.open().in_full().filter(pk=int(wanted)).first()
