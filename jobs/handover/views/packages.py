"""The hand-over of a job: made in one press, signed once."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile
from contractor.company.views.firm import seen
from contractor.csp import hand_out
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.fieldwork.services import NothingToBuild, faults_said
from jobs.handover import services
from jobs.handover.forms.handover import MakeForm, SignForm
from jobs.handover.models import HandOver
from jobs.handover.services.packages import defects_said
from jobs.records.models import Job

PAGE = "jobs/handover/job.html"
NO_SPEC = "This job has no spec yet: there is nothing to hand over."


@signed_in
@require_GET
def hand_over(request: HttpRequest, number: str) -> HttpResponse:
    return _page(request, _job(number))


@signed_in
@require_POST
def make(request: HttpRequest, number: str) -> HttpResponse:
    job, form = _job(number), MakeForm(request.POST)
    if not form.is_valid():
        return _page(request, job, make_form=form, status=422)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                services.make_package(job, by=request.staff, open_why=form.cleaned_data["open_why"])
    except NothingToBuild:
        return _page(request, job, trouble=NO_SPEC, status=422)
    except SpecFaults as faults:
        return _page(request, job, trouble=faults_said(faults), status=422)
    except services.AlreadySigned as signed:
        return _page(request, job, trouble=signed.messages[0], status=422)
    except services.DefectsOpen as refused:
        form.blame(refused)
        return _page(request, job, make_form=form, status=422)
    return go(request, "handover:job", job.number)


@signed_in
@require_POST
def sign(request: HttpRequest, number: str, edition: int) -> HttpResponse:
    made = get_object_or_404(HandOver.objects.defer("pdf"), job__number=number, edition=edition)
    job, form = _job(number), SignForm(request.POST, request.FILES)
    if not form.is_valid():
        return _page(request, job, form=form, status=422)
    try:
        signature = services.Signature(**form.cleaned_data)
        services.sign_package(made, signature, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, job, form=form, conflict=conflict, status=409)
    except services.AlreadySigned as signed:
        return _page(request, job, trouble=signed.messages[0], status=422)
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, job, form=form, status=422)
    return go(request, "handover:job", job.number)


@signed_in
@require_GET
def paper(request: HttpRequest, number: str, edition: int) -> HttpResponse:
    made = get_object_or_404(HandOver, job__number=number, edition=edition)
    response = HttpResponse(bytes(made.pdf), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="hand-over-{number}-{edition}.pdf"'
    return response


@office_only
@require_GET
def signed_page(request: HttpRequest, number: str, edition: int) -> HttpResponse:
    """The page the customer signed: handed out as a file, never shown as a page of ours."""
    made = get_object_or_404(HandOver.objects.defer("pdf", "record"), job__number=number, edition=edition)
    return hand_out(made.scan, as_attachment=True)


def _page(request: HttpRequest, job: Job, *, status: int = 200, **more: object) -> HttpResponse:
    editions = list(job.hand_overs.newest_first().defer("pdf", "record"))
    open_count, closed_count = defects_said(job)
    shown = {
        "job": job,
        "newest": editions[0] if editions else None,
        "older": editions[1:],
        "form": SignForm(initial={"on": timezone.localdate()}),
        "make_form": MakeForm(initial={"open_why": editions[0].open_why if editions else ""}),
        "visits": job.season_visits.all(),
        "open_defects": open_count,
        "closed_defects": closed_count,
        **more,
    }
    return fragment(request, PAGE, shown, status=status)


def _job(number: str) -> Job:
    return get_object_or_404(Job.objects.in_full(), number=number)
