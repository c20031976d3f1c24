"""The schedule of one job: every gate of every stage, and what was paid, risked, held and done."""

from collections.abc import Callable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from contractor.company.access import office_only, owner_only, signed_in
from contractor.company.forms import FirmForm
from contractor.company.models import Staff
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records.models import Job
from jobs.schedule import services
from jobs.schedule.forms.moves import DelayForm, DepositForm, DoneForm, HoldForm, PlanForm, RiskForm

PAGE = "jobs/schedule/job.html"
PARTS = {"deposit": "deposit", "risk": "risks", "delay": "delays"}


@signed_in
@require_GET
def job(request: HttpRequest, number: str) -> HttpResponse:
    return _page(request, _job(number))


@office_only
@require_POST
def plan(request: HttpRequest, number: str) -> HttpResponse:
    found = _job(number)
    shown = services.job_schedule(found, on=timezone.localdate())
    form = PlanForm(request.POST, instance=shown.plan)
    if not form.is_valid():
        return _page(request, found, status=422, plan_form=form)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_plan(found, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, found, status=409, plan_form=form, plan_conflict=conflict)
    return _back(request, found, "plan")


@office_only
@require_POST
def deposit(request: HttpRequest, number: str) -> HttpResponse:
    form = DepositForm(request.POST, prefix="deposit")
    return _added(request, _job(number), "deposit", form, services.take_deposit)


@owner_only
@require_POST
def risk(request: HttpRequest, number: str) -> HttpResponse:
    return _added(request, _job(number), "risk", RiskForm(request.POST, prefix="risk"), services.take_risk)


@office_only
@require_POST
def delay(request: HttpRequest, number: str) -> HttpResponse:
    def keep(found: Job, *, by: Staff, **facts: Any) -> None:
        services.log_delay(found, facts=facts, by=by)

    return _added(request, _job(number), "delay", DelayForm(request.POST, prefix="delay"), keep)


@signed_in
@require_POST
def done(request: HttpRequest, number: str, stage: str) -> HttpResponse:
    found, form = _job(number), DoneForm(request.POST, prefix=stage)
    if not form.is_valid():
        return _page(request, found, status=422, stage=stage, done_form=form)
    try:
        services.stage_done(found, stage, form.cleaned_data["on"], request.staff)
    except services.NoSuchStage as missing:
        raise Http404 from missing
    except ValidationError as refused:
        form.blame(ValidationError({"on": refused.messages}))
        return _page(request, found, status=422, stage=stage, done_form=form)
    return _back(request, found, stage)


@office_only
@require_POST
def not_done(request: HttpRequest, number: str, stage: str) -> HttpResponse:
    return _changed(request, _job(number), stage, services.stage_not_done)


@office_only
@require_POST
def hold(request: HttpRequest, number: str, stage: str) -> HttpResponse:
    found, form = _job(number), HoldForm(request.POST, prefix=stage)
    if not form.is_valid():
        return _page(request, found, status=422, stage=stage, hold_form=form)
    return _changed(
        request, found, stage, lambda job, which, by: services.hold_stage(job, which, form.cleaned_data["why"], by)
    )


@office_only
@require_POST
def release(request: HttpRequest, number: str, stage: str) -> HttpResponse:
    return _changed(request, _job(number), stage, services.release_stage)


def _added(request: HttpRequest, found: Job, what: str, form: FirmForm, keep: Callable[..., Any]) -> HttpResponse:
    """One line more in a log of the job, once however often the button is pressed."""
    if not form.is_valid():
        return _page(request, found, status=422, **{f"{what}_form": form})
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            keep(found, **form.cleaned_data, by=request.staff)
    return _back(request, found, PARTS[what])


def _changed(request: HttpRequest, found: Job, stage: str, act: Callable[[Job, str, Staff], Any]) -> HttpResponse:
    try:
        act(found, stage, request.staff)
    except services.NoSuchStage as missing:
        raise Http404 from missing
    except ValidationError as refused:
        return _page(request, found, status=422, stage=stage, refused=refused.messages[0])
    return _back(request, found, stage)


def _job(number: str) -> Job:
    return get_object_or_404(Job.objects.in_full(), number=number)


def _back(request: HttpRequest, found: Job, part: str) -> HttpResponse:
    return go(request, f"{reverse('schedule:job', args=[found.number])}#{part}")


def _page(request: HttpRequest, found: Job, *, status: int = 200, stage: str = "", **typed: Any) -> HttpResponse:
    today = timezone.localdate()
    shown = services.job_schedule(found, on=today)
    forms = {
        "plan_form": PlanForm(instance=shown.plan),
        "deposit_form": DepositForm(prefix="deposit", initial={"cleared_on": today}),
        "risk_form": RiskForm(prefix="risk"),
        "delay_form": DelayForm(prefix="delay"),
    }
    rows = [
        {
            "row": row,
            "done_form": DoneForm(prefix=row.stage.stage, initial={"on": today}),
            "hold_form": HoldForm(prefix=row.stage.stage),
            **(typed if row.stage.stage == stage else {}),
        }
        for row in shown.rows
    ]
    context = {"schedule": shown, "job": found, "rows": rows, "today": today, **forms, **typed}
    return fragment(request, PAGE, context, status=status)
