"""The firm's rules for days, and the ice on each water."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.schedule import services
from jobs.schedule.forms.crews import IceForm, RulesForm
from jobs.schedule.models import IceDates

PAGE = "jobs/schedule/rules.html"


@office_only
@require_http_methods(["GET", "POST"])
def rules(request: HttpRequest) -> HttpResponse:
    if request.method == "GET":
        return _page(request)
    if request.POST.get("what") == "ice":
        return _ice(request)
    form = RulesForm(request.POST, instance=services.rules_now())
    if not form.is_valid():
        return _page(request, status=422, form=form)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_rules(seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, status=409, form=form, conflict=conflict)
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, status=422, form=form)
    return go(request, "schedule:rules")


def _ice(request: HttpRequest) -> HttpResponse:
    form = IceForm(request.POST, prefix="ice")
    if not form.is_valid():
        return _page(request, status=422, ice_form=form)
    given = dict(form.cleaned_data)
    water, year = given.pop("water_body"), (given["out_on"] or given["in_on"]).year
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            services.note_ice(water_body=water, year=year, facts=given, by=request.staff)
    return go(request, "schedule:rules")


def _page(request: HttpRequest, *, status: int = 200, **typed: Any) -> HttpResponse:
    standing = services.rules_now()
    shown = {
        "rules": standing,
        "form": RulesForm(instance=services.rules_now()),
        "ice_form": IceForm(prefix="ice"),
        "ice": IceDates.objects.all()[:40],
        "holidays": services.holidays_ahead(standing, on=timezone.localdate()),
        "cancellation_is_old": services.cancellation_is_old(standing, on=timezone.localdate()),
    }
    return fragment(request, PAGE, {**shown, **typed}, status=status)
