"""A site's water: the range of levels, what was read, how deep it is."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.current import units
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.gauges import OnDayForm
from jobs.records.forms.water import BLANK_ROWS, WaterForms
from jobs.records.models import LevelReading, Site, saying
from jobs.records.services.folder import site_facts

PAGE = "jobs/records/water.html"


@office_only
@require_http_methods(["GET", "POST"])
def water(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(site_id)
    if request.method == "GET":
        return _page(request, site, WaterForms(site, read_by=request.staff.name))
    posted = _with_more_rows(request.POST) if "more" in request.POST else request.POST
    typed = WaterForms(site, posted, read_by=request.staff.name)
    if "more" in request.POST:
        return _page(request, site, typed)
    if not typed.are_valid():
        return _page(request, site, typed, status=422)
    return _save(request, site, typed)


@office_only
@require_POST
def strike_out(request: HttpRequest, site_id: int, reading_id: int) -> HttpResponse:
    reading = get_object_or_404(LevelReading, pk=reading_id, site_id=site_id)
    services.strike_out_reading(reading, by=request.staff)
    return go(request, f"{reverse('records:water', args=[site_id])}#readings")


def _save(request: HttpRequest, site: Site, typed: WaterForms) -> HttpResponse:
    try:
        with transaction.atomic():
            _save_parts(request, site, typed)
    except ChangedMeanwhile as conflict:
        return _page(request, site, typed, levels_conflict=conflict, status=409)
    except services.DepthsChangedMeanwhile as conflict:
        shown = {"depths_conflict": conflict, "depths_version": conflict.version}
        return _page(request, site, typed, status=409, **shown)
    except services.CalendarChangedMeanwhile as conflict:
        shown = {"calendar_conflict": conflict, "calendar_version": conflict.version}
        return _page(request, site, typed, status=409, **shown)
    except ValidationError as refused:
        typed.levels.blame(refused)
        return _page(request, site, typed, status=422)
    newest = site.jobs.in_full().open_first().first()
    if "stay" in request.POST or newest is None:
        return go(request, f"{reverse('records:water', args=[site.pk])}#readings")
    return go(request, f"{newest.get_absolute_url()}#site")


def _save_parts(request: HttpRequest, site: Site, typed: WaterForms) -> None:
    by = request.staff
    if typed.has_levels:
        changes = settled(typed.levels.changes(), request.POST)
        services.save_levels(site, seen_version=seen(request, "levels-version"), changes=changes, by=by)
    if typed.has_reading and use_key(request.POST.get("once", "")):
        services.record_reading(site, facts=typed.reading.facts(), by=by)
    if typed.calendar.is_bound:
        seen_calendar = seen(request, "calendar-version")
        services.save_calendar(site, seen_version=seen_calendar, rows=typed.calendar.rows(), by=by)
    services.save_depths(site, seen_version=seen(request, "depths-version"), rows=typed.depths.rows(), by=by)


def _site(site_id: int) -> Site:
    return get_object_or_404(Site.objects.select_related("level_range"), pk=site_id)


def _with_more_rows(posted: Any) -> Any:
    grown = posted.copy()
    name = f"{_wanting_rows(posted)}-TOTAL_FORMS"
    count = posted.get(name, "0")
    grown[name] = str((int(count) if count.isdecimal() else 0) + BLANK_ROWS)
    return grown


def _wanting_rows(posted: Any) -> str:
    return "calendar" if posted["more"] == "calendar" else "depth"


def _page(request: HttpRequest, site: Site, typed: WaterForms, *, status: int = 200, **more: Any) -> HttpResponse:
    shown = {
        "site": site,
        "facts": site_facts(site),
        "levels": typed.standing,
        "readings": site.readings.all(),
        "jobs": site.jobs.in_full().open_first(),
        "typed": typed,
        "depths_version": site.depths_version,
        "calendar_version": site.calendar_version,
        "bottoms": saying.bottoms_said(site.depths_standing(), typed.standing, units()),
        "gauges": site.gauges.standing(),
        "on_form": OnDayForm(),
        **more,
    }
    piece = f"#{_wanting_rows(request.POST)}-rows" if "more" in request.POST else ""
    return fragment(request, f"{PAGE}{piece}", shown, status=status)
