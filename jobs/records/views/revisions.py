"""Spec revisions as a list: started, carried on, copied, compared, written to a file and read from one."""

import json
from typing import Any

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.once import address_of, remember_address, use_key
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.records import services
from jobs.records.documents.spec_results import speak
from jobs.records.forms.revisions import CopySpecForm, SpecFileForm
from jobs.records.models import Job, SpecRevision


@office_only
@require_POST
def start(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job, number=number)
    return _made_once(request, lambda: services.start_spec(job, by=request.staff))


@office_only
@require_POST
def carry_on(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    revision = _revision(number, letter)
    return _made_once(request, lambda: services.next_revision(revision, by=request.staff))


@office_only
@require_http_methods(["GET", "POST"])
def copy(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    revision, form = _revision(number, letter), CopySpecForm(request.POST or None)
    if not form.is_valid():
        shown = {"revision": revision, "job": revision.job, "form": form}
        return fragment(request, "jobs/records/copy_revision.html", shown, status=422 if form.is_bound else 200)
    to = form.cleaned_data["to"]
    return _made_once(request, lambda: services.copy_spec(revision, to=to, by=request.staff))


@office_only
@require_http_methods(["GET", "POST"])
def read_file(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    form = SpecFileForm(request.POST or None, request.FILES or None)
    shown: dict[str, Any] = {"job": job, "form": form}
    page = "jobs/records/read_file.html"
    if not form.is_valid():
        return fragment(request, page, shown, status=422 if form.is_bound else 200)
    key, document = request.POST.get("once", ""), form.cleaned_data["file"]
    try:
        with transaction.atomic():
            if not use_key(key):
                return go(request, address_of(key) or job)
            revision, overruled = services.import_spec(job, document=document, by=request.staff)
            remember_address(key, revision.get_absolute_url())
    except SpecFaults as wrong:
        faults = [(fault.field, fault.message.say(speak)) for fault in wrong.faults]
        return fragment(request, page, {**shown, "faults": faults}, status=422)
    if not overruled:
        return go(request, revision)
    shown |= {"revision": revision, "overruled": [said.say(speak) for said in overruled]}
    return fragment(request, page, shown)


@office_only
@require_GET
def compare(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    revisions = list(job.spec_revisions.newest_first())
    by_letter = {revision.letter: revision for revision in revisions}
    older, newer = request.GET.get("a", ""), request.GET.get("b", "")
    if older not in by_letter or newer not in by_letter:
        raise Http404
    first, second = services.spec_of(by_letter[older]), services.spec_of(by_letter[newer])
    found = services.compare_specs(first, second, names=services.catalogue_names())
    shown = {
        "job": job,
        "revisions": revisions,
        "older": by_letter[older],
        "newer": by_letter[newer],
        "differences": [difference.say(speak) for difference in found],
    }
    return fragment(request, "jobs/records/compare.html", shown)


@office_only
@require_GET
def save_file(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    document = services.export_spec(_revision(number, letter))
    text = json.dumps(document, indent=2, ensure_ascii=False) + "\n"
    response = HttpResponse(text, content_type="application/json; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="spec-{number}-{letter}.json"'
    return response


def _revision(number: str, letter: str) -> SpecRevision:
    return get_object_or_404(SpecRevision.objects.select_related("job__client"), job__number=number, letter=letter)


def _made_once(request: HttpRequest, make: Any) -> HttpResponse:
    """Make one revision however often the button is pressed, and go to it."""
    key = request.POST.get("once", "")
    with transaction.atomic():
        if not use_key(key):
            return go(request, address_of(key) or "records:jobs")
        revision = make()
        remember_address(key, revision.get_absolute_url())
    return go(request, revision)
