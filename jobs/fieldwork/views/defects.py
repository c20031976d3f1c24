"""Defects: written down, handed on, signed off."""

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from contractor.company.access import signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.fieldwork import services
from jobs.fieldwork.forms.defects import DefectForm, SignOffForm
from jobs.fieldwork.models import Defect
from jobs.records.models import Job


@signed_in
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    form = DefectForm(request.POST or None, initial={"stage": request.GET.get("stage", "")})
    if not form.is_valid():
        shown = {"job": job, "form": form}
        return fragment(request, "jobs/fieldwork/defect_new.html", shown, status=422 if form.is_bound else 200)
    facts = dict(form.cleaned_data)
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            stage = facts.pop("stage")
            services.open_defect(job, services.Found(**facts), stage=stage, by=request.staff)
    return go(request, "fieldwork:orders", job.number)


@signed_in
@require_http_methods(["GET", "POST"])
def defect(request: HttpRequest, defect_id: int) -> HttpResponse:
    found = get_object_or_404(Defect.objects.select_related("job__client", "owner", "order"), pk=defect_id)
    form = SignOffForm(request.POST or None)
    shown = {"defect": found, "job": found.job, "form": form}
    if not form.is_valid():
        return fragment(request, "jobs/fieldwork/defect.html", shown, status=422 if form.is_bound else 200)
    try:
        services.sign_off(found, reason=form.cleaned_data["reason"], seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, "jobs/fieldwork/defect.html", {**shown, "conflict": conflict}, status=409)
    return go(request, "fieldwork:orders", found.job.number)
