"""The list of jobs, one job's folder, and what is done to a job as a whole."""

from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import address_of, remember_address, use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.jobs import CallForm, EndForm, JobForm
from jobs.records.models import Job, Stage
from jobs.records.services.folder import folder_of
from jobs.records.services.pictures import picture_of

JOBS_ON_A_PAGE = 50
SHOWN = {"open": "Open", **{stage.value: stage.label.capitalize() for stage in Stage}, "ended": "Ended", "all": "All"}


@signed_in
@require_GET
def jobs(request: HttpRequest) -> HttpResponse:
    shown = request.GET.get("show", "open")
    if shown not in SHOWN:
        raise Http404
    found = Paginator(Job.objects.shown_as(shown).in_full().newest_first(), JOBS_ON_A_PAGE)
    page = found.get_page(request.GET.get("page"))
    today = timezone.localdate()
    context = {
        "filters": SHOWN.items(),
        "shown": shown,
        "page": page,
        "rows": [services.standing_of(job, on=today) for job in services.with_papers(page.object_list)],
    }
    return fragment(request, "jobs/records/jobs.html", context)


@signed_in
@require_GET
def job(request: HttpRequest, number: str) -> HttpResponse:
    return _folder(request, number)


@office_only
@require_POST
def log_call(request: HttpRequest, number: str) -> HttpResponse:
    form = CallForm(request.POST)
    if not form.is_valid():
        return _folder(request, number, call_form=form, status=422)
    called = _job(number)
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            services.log_call(called, by=request.staff, **form.cleaned_data)
    return _folder(request, number) if request.htmx else go(request, f"{called.get_absolute_url()}#calls")


@office_only
@require_http_methods(["GET", "POST"])
def edit(request: HttpRequest, number: str) -> HttpResponse:
    standing, page = _job(number), "jobs/records/job_edit.html"
    shown = {"job": standing, "form": JobForm(request.POST or None, instance=_job(number))}
    form = shown["form"]
    if not form.is_valid():
        return fragment(request, page, shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_job(
            standing, seen_version=seen(request), changes=changes, by=request.staff, on=timezone.localdate()
        )
    except ChangedMeanwhile as conflict:
        return fragment(request, page, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, page, shown, status=422)
    return go(request, standing)


@office_only
@require_http_methods(["GET", "POST"])
def end(request: HttpRequest, number: str) -> HttpResponse:
    standing, form = _job(number), EndForm(request.POST or None)
    shown = {"job": standing, "form": form}
    if not form.is_valid():
        return fragment(request, "jobs/records/job_end.html", shown, status=422 if form.is_bound else 200)
    try:
        services.end_job(standing, by=request.staff, on=timezone.localdate(), **form.cleaned_data)
    except services.JobHasEnded:
        return go(request, standing)
    return go(request, standing)


@office_only
@require_POST
def reopen(request: HttpRequest, number: str) -> HttpResponse:
    return go(request, services.reopen_job(_job(number), by=request.staff))


@office_only
@require_POST
def copy(request: HttpRequest, number: str) -> HttpResponse:
    key = request.POST.get("once", "")
    with transaction.atomic():
        if not use_key(key):
            return go(request, address_of(key) or "records:jobs")
        new = services.copy_job(_job(number), by=request.staff, on=timezone.localdate())
        remember_address(key, new.get_absolute_url())
    return go(request, new)


def _job(number: str) -> Job:
    return get_object_or_404(Job.objects.in_full(), number=number)


def _folder(request: HttpRequest, number: str, *, call_form: CallForm | None = None, status: int = 200) -> HttpResponse:
    today = timezone.localdate()
    folder = folder_of(_job(number), on=today)
    shown = {
        "folder": folder,
        "picture": picture_of(folder.spec, on=today) if folder.spec and not request.htmx else None,
        "call_form": call_form or CallForm(),
    }
    return fragment(request, "jobs/records/job.html#calls", shown, status=status)
