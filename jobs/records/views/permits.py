"""Permits of a job, one authority at a time, and the papers they came on."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_http_methods

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.csp import hand_out
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.permits import PermitForm
from jobs.records.forms.sites import WindowsForm
from jobs.records.models import Job, Permit

PAGE = "jobs/records/permit.html"


@office_only
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    form = PermitForm(request.POST or None, request.FILES or None, job=job)
    windows = WindowsForm(request.POST or None, prefix="window")
    shown = {"job": job, "form": form, "windows": windows}
    if not (form.is_bound and form.is_valid() and windows.is_valid()):
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                services.record_permit(job, facts=form.changes(), windows=windows.windows(), by=request.staff)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, PAGE, shown, status=422)
    return go(request, f"{job.get_absolute_url()}#permits")


@office_only
@require_http_methods(["GET", "POST"])
def permit(request: HttpRequest, number: str, permit_id: int) -> HttpResponse:
    standing, typed = _permit(number, permit_id), _permit(number, permit_id)
    form = PermitForm(request.POST or None, request.FILES or None, instance=typed, job=standing.job)
    windows = WindowsForm(request.POST or None, prefix="window", initial=WindowsForm.initial_of(standing))
    shown = {"job": standing.job, "permit": standing, "form": form, "windows": windows}
    if not (form.is_bound and form.is_valid() and windows.is_valid()):
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    return _save(request, standing, shown)


@signed_in
@require_GET
def paper(request: HttpRequest, number: str, permit_id: int) -> FileResponse:
    return hand_out(_permit(number, permit_id).file, filename=f"permit-{number}-{permit_id}")


def _permit(number: str, permit_id: int) -> Permit:
    return get_object_or_404(Permit.objects.select_related("job__client"), pk=permit_id, job__number=number)


def _save(request: HttpRequest, standing: Permit, shown: dict[str, Any]) -> HttpResponse:
    form, windows = shown["form"], shown["windows"].windows()
    try:
        changes = settled(form.changes(), request.POST)
        services.save_permit(standing, seen_version=seen(request), changes=changes, windows=windows, by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, PAGE, shown, status=422)
    return go(request, f"{standing.job.get_absolute_url()}#permits")
