"""Gauges of a site: their files taken in, their year drawn, their percentiles made the site's levels."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.engine.water import FileNotUnderstood
from jobs.records import services
from jobs.records.documents.gauge_page import gauge_facts
from jobs.records.forms.gauges import GaugeFileForm, GaugeForm, OnDayForm, PickForm
from jobs.records.models import Gauge, LevelRange, Site

FILE_PAGE = "jobs/records/gauge_file.html"
PAGE = "jobs/records/gauge.html"
DAY_PAGE = "jobs/records/level_on.html"


@office_only
@require_http_methods(["GET", "POST"])
def read_gauge(request: HttpRequest, site_id: int) -> HttpResponse:
    """Take a gauge file in."""
    site = _site(site_id)
    form = GaugeFileForm(request.POST or None, request.FILES or None, site=site)
    if form.is_bound and form.is_valid() and (imported := _taken_in(request, site, form)):
        return go(request, imported)
    shown = {"site": site, "jobs": site.jobs.in_full().open_first(), "form": form}
    return fragment(request, FILE_PAGE, shown, status=422 if form.is_bound else 200)


@office_only
@require_http_methods(["GET", "POST"])
def gauge(request: HttpRequest, site_id: int, gauge_id: int) -> HttpResponse:
    """The gauge's year as it was asked for; a post says what the gauge measures from."""
    standing = _gauge(site_id, gauge_id)
    if request.method == "GET":
        return _page(request, standing, GaugeForm(instance=standing))
    typed = GaugeForm(request.POST, instance=_gauge(site_id, gauge_id))
    if not typed.is_valid():
        return _page(request, standing, typed, status=422)
    try:
        changes = settled(typed.changes(), request.POST)
        services.save_gauge(standing, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        typed.take_theirs(conflict)
        return _page(request, _gauge(site_id, gauge_id), typed, conflict=conflict, status=409)
    except ValidationError as refused:
        typed.blame(refused)
        return _page(request, standing, typed, status=422)
    return go(request, standing)


@office_only
@require_POST
def take_over(request: HttpRequest, site_id: int, gauge_id: int) -> HttpResponse:
    """The percentiles picked become the site's low, normal and high."""
    standing, pick = _gauge(site_id, gauge_id), PickForm(request.POST)
    form = GaugeForm(instance=standing)
    if not pick.is_valid():
        return _page(request, standing, form, pick=pick, status=422)
    version = seen(request, "levels-version")
    try:
        services.take_over_levels(standing, picked=pick.picked(), seen_version=version, by=request.staff)
    except services.DatumsApart:
        return _page(request, standing, form, pick=pick, apart=True, status=422)
    except ChangedMeanwhile as conflict:
        return _page(request, standing, form, pick=pick, overtaken=conflict, status=409)
    except ValidationError as refused:
        return _page(request, standing, form, pick=pick, refused=refused.messages, status=422)
    return go(request, f"{reverse('records:water', args=[site_id])}#levels")


@office_only
@require_POST
def strike_out_gauge(request: HttpRequest, site_id: int, gauge_id: int) -> HttpResponse:
    services.strike_out_gauge(_gauge(site_id, gauge_id), by=request.staff)
    return go(request, f"{reverse('records:water', args=[site_id])}#gauges")


@signed_in
@require_GET
def level_on(request: HttpRequest, site_id: int) -> HttpResponse:
    """What the water stands at on a day, and how that is known."""
    site, form = _site(site_id), OnDayForm(request.GET or None)
    shown: dict[str, Any] = {"site": site, "jobs": site.jobs.in_full().open_first(), "on_form": form}
    if form.is_bound and form.is_valid():
        day = form.cleaned_data["on"]
        shown |= {"day": day, "level_on": services.level_on(site, day)}
    return fragment(request, f"{DAY_PAGE}#on-day", shown, status=422 if form.errors else 200)


def _taken_in(request: HttpRequest, site: Site, form: GaugeFileForm) -> Gauge | None:
    try:
        imported = services.import_gauge_file(site, upload=form.upload(), by=request.staff)
    except FileNotUnderstood as wrong:
        form.blame_file(wrong)
    except ValidationError as refused:
        form.blame(refused)
    else:
        return imported.gauge
    return None


def _page(
    request: HttpRequest,
    standing: Gauge,
    form: GaugeForm,
    *,
    pick: PickForm | None = None,
    status: int = 200,
    **more: Any,
) -> HttpResponse:
    pick = pick or PickForm(request.GET if "low" in request.GET else PickForm.STARTING)
    levels = LevelRange.objects.filter(site=standing.site).first() or LevelRange(site=standing.site, version=0)
    picked = pick.picked() if pick.is_valid() else services.Picked()
    shown = {
        "site": standing.site,
        "jobs": standing.site.jobs.in_full().open_first(),
        "gauge": standing,
        "form": form,
        "pick": pick,
        "levels": levels,
        "facts": gauge_facts(standing, levels, percents=picked.percents, season=picked.season),
        **more,
    }
    status = 422 if pick.errors and status == 200 else status
    return fragment(request, f"{PAGE}#year", shown, status=status)


def _site(site_id: int) -> Site:
    return get_object_or_404(Site.objects.select_related("level_range"), pk=site_id)


def _gauge(site_id: int, gauge_id: int) -> Gauge:
    return get_object_or_404(Gauge.objects.select_related("site"), pk=gauge_id, site_id=site_id)
