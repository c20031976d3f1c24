"""What the weather took and what was late: added, struck out, never changed."""

from typing import Any

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.htmx import fragment, go
from jobs.schedule import services
from jobs.schedule.forms.crews import WeatherForm
from jobs.schedule.models import DelayLog, DepositIn, Waiver, WeatherLog

PAGE = "jobs/schedule/log.html"
LINES = {"weather": WeatherLog, "delay": DelayLog, "deposit": DepositIn, "risk": Waiver}
SHOWN = 100


@signed_in
@require_http_methods(["GET", "POST"])
def log(request: HttpRequest) -> HttpResponse:
    """Whoever is out there writes the weather down."""
    if request.method == "GET":
        return _page(request)
    form = WeatherForm(request.POST, prefix="weather")
    if not form.is_valid():
        return _page(request, status=422, form=form)
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            services.log_weather(facts=form.cleaned_data, by=request.staff)
    return go(request, "schedule:log")


@office_only
@require_POST
def strike_out(request: HttpRequest, kind: str, line_id: int) -> HttpResponse:
    if kind not in LINES:
        raise Http404
    line = get_object_or_404(LINES[kind], pk=line_id)
    services.strike_out(line, by=request.staff)
    number = line.job.number if hasattr(line, "job") else ""
    return go(request, "schedule:job", number) if number else go(request, "schedule:log")


def _page(request: HttpRequest, *, status: int = 200, **typed: Any) -> HttpResponse:
    first = {"day": timezone.localdate(), "decided_by_name": request.staff.name}
    shown = {
        "weather": WeatherLog.objects.select_related("crew")[:SHOWN],
        "delays": DelayLog.objects.select_related("job__client")[:SHOWN],
        "rules": services.rules_now(),
        "form": WeatherForm(prefix="weather", initial=first),
    }
    return fragment(request, PAGE, {**shown, **typed}, status=status)
