"""One stage moved by hand: first what else would move, then the move."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.schedule import services
from jobs.schedule.forms.moves import MoveForm, WhyForm
from jobs.schedule.models import JobStage

PAGE = "jobs/schedule/move.html"


@office_only
@require_http_methods(["GET", "POST"])
def move(request: HttpRequest, stage_id: int) -> HttpResponse:
    stage = get_object_or_404(JobStage.objects.open().in_full(), pk=stage_id)
    typed = request.POST if request.method == "POST" else request.GET if "start" in request.GET else None
    first = {"crew": stage.crew_id, "start": stage.starts_on, "pin": True}
    form = MoveForm(typed, initial=first)
    why = WhyForm(request.POST if request.method == "POST" else None)
    shown = {"stage": stage, "form": form, "why": why, "gates": services.gates_of(stage.job, stage.stage)}
    if not form.is_bound or not form.is_valid():
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    wanted = services.Wanted(stage, form.cleaned_data["crew"], form.cleaned_data["start"], form.cleaned_data["pin"])
    if request.method == "POST" and why.is_valid():
        return _move(request, wanted, shown)
    return _preview(request, wanted, shown, status=422 if request.method == "POST" else 200)


@office_only
@require_POST
def unpin(request: HttpRequest, stage_id: int) -> HttpResponse:
    stage = get_object_or_404(JobStage.objects.open().select_related("job"), pk=stage_id)
    try:
        services.let_move(stage, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile:
        return fragment(request, "jobs/schedule/changed.html", {"back": stage.get_absolute_url()}, status=409)
    return go(request, stage.get_absolute_url())


def _move(request: HttpRequest, wanted: services.Wanted, shown: dict) -> HttpResponse:
    said = services.Said(shown["why"].cleaned_data["cause"], shown["why"].cleaned_data["words"])
    mark = request.POST.get("mark", "")
    try:
        services.move_stage(wanted, seen_mark=mark, said=said, by=request.staff, on=timezone.localdate())
    except (services.BoardChanged, ChangedMeanwhile):
        return _preview(request, wanted, {**shown, "changed": True}, status=409)
    except services.NotThere as refused:
        shown["form"].blame(refused)
        return fragment(request, PAGE, shown, status=422)
    except ValidationError as refused:
        shown["why"].blame(refused)
        return _preview(request, wanted, shown, status=422)
    return go(request, f"{reverse('schedule:board')}?from={wanted.start.isoformat()}#crew-{wanted.crew.pk}")


def _preview(request: HttpRequest, wanted: services.Wanted, shown: dict, *, status: int) -> HttpResponse:
    try:
        preview = services.preview_move(wanted, on=timezone.localdate())
    except services.NotThere as refused:
        shown["form"].blame(refused)
        return fragment(request, PAGE, shown, status=422)
    return fragment(request, PAGE, {**shown, "preview": preview}, status=status)
