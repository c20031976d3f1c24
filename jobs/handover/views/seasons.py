"""Whose dock is due when, each visit's sheet, and what was found."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.versions import ChangedMeanwhile
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.fieldwork.services import NothingToBuild
from jobs.handover import services
from jobs.handover.documents.papers import season_pdf
from jobs.handover.documents.season_sheet import SeasonSheet, season_sheet
from jobs.handover.forms.handover import DatesForm, DropForm, VisitForm
from jobs.handover.models import SeasonVisit
from jobs.records.models.saying import day_said

LIST, VISIT, DATES = (f"jobs/handover/{name}.html" for name in ("season", "visit", "dates"))


@signed_in
@require_GET
def season(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    visits = SeasonVisit.objects.in_full()
    shown = {
        "reminders": services.reminders_on(today),
        "later": visits.open().filter(due_on__gt=today),
        "closed": visits.exclude(done_on__isnull=True, dropped_why="").order_by("-due_on")[:30],
        "dates": services.dates_now(),
    }
    soon = {reminder.visit.pk for reminder in shown["reminders"]}
    shown["later"] = [visit for visit in shown["later"] if visit.pk not in soon]
    return fragment(request, LIST, shown)


@office_only
@require_http_methods(["GET", "POST"])
def dates(request: HttpRequest) -> HttpResponse:
    standing = services.dates_now()
    form = DatesForm(request.POST or None, instance=standing)
    shown = {"form": form, "dates": standing}
    if not form.is_valid():
        return fragment(request, DATES, shown, status=422 if form.is_bound else 200)
    try:
        services.save_dates(seen_version=seen(request), changes=form.changes(), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, DATES, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, DATES, shown, status=422)
    return go(request, "handover:season")


@signed_in
@require_http_methods(["GET", "POST"])
def visit(request: HttpRequest, visit_id: int) -> HttpResponse:
    found = _visit(visit_id)
    form = VisitForm(request.POST or None, sheet=_sheet(found), initial={"done_on": timezone.localdate()})
    if not form.is_valid():
        return _page(request, found, form=form, status=422 if form.is_bound else 200)
    try:
        services.visit_done(found, seen_version=seen(request), facts=form.facts(), by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, found, form=form, conflict=conflict, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, found, form=form, status=422)
    return go(request, found)


@office_only
@require_POST
def drop(request: HttpRequest, visit_id: int) -> HttpResponse:
    found, form = _visit(visit_id), DropForm(request.POST)
    if not form.is_valid():
        return _page(request, found, drop_form=form, status=422)
    try:
        services.drop_visit(found, seen_version=seen(request), why=form.cleaned_data["why"], by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, found, drop_form=form, conflict=conflict, status=409)
    return go(request, "handover:season")


@signed_in
@require_GET
def sheet(request: HttpRequest, visit_id: int) -> HttpResponse:
    found = _visit(visit_id)
    printed = _sheet(found)
    if printed is None:
        return _page(request, found, trouble="The dock of this job cannot be worked out any more.", status=422)
    pdf = season_pdf(printed)
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{found.kind}-{found.job.number}.pdf"'
    return response


def _page(request: HttpRequest, found: SeasonVisit, *, status: int = 200, **more: object) -> HttpResponse:
    shown = {"visit": found, "job": found.job, "sheet": _sheet(found), "drop_form": DropForm(), **more}
    if "form" not in shown:
        shown["form"] = VisitForm(sheet=shown["sheet"], initial={"done_on": timezone.localdate()})
    return fragment(request, VISIT, shown, status=status)


def _sheet(found: SeasonVisit) -> SeasonSheet | None:
    try:
        package = services.handed_over(found.job)
    except (NothingToBuild, SpecFaults):
        return None
    return season_sheet(found, package, due=day_said(found.due_on), before=services.last_visit(found))


def _visit(visit_id: int) -> SeasonVisit:
    return get_object_or_404(SeasonVisit.objects.in_full(), pk=visit_id)
