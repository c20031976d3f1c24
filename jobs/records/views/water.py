"""A site's water: the range of levels, what was read, how deep it is."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from contractor.company.access import office_only
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.water import BLANK_ROWS, LevelsForm, ReadingForm, depths_form
from jobs.records.models import LevelRange, LevelReading, Site
from jobs.records.services.folder import site_facts

PAGE = "jobs/records/water.html"


@office_only
@require_GET
def water(request: HttpRequest, site_id: int) -> HttpResponse:
    return _page(request, _site(site_id))


@office_only
@require_POST
def levels(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(site_id)
    form = LevelsForm(request.POST, instance=_range(site), prefix="levels")
    if not form.is_valid():
        return _page(request, site, levels_form=form, status=422)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_levels(site, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, site, levels_form=form, levels_conflict=conflict, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, site, levels_form=form, status=422)
    return go(request, "records:water", site.pk)


@office_only
@require_POST
def add_reading(request: HttpRequest, site_id: int) -> HttpResponse:
    site, form = _site(site_id), ReadingForm(request.POST, prefix="reading")
    if not form.is_valid():
        return _page(request, site, reading_form=form, status=422)
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            services.record_reading(site, facts=form.facts(), by=request.staff)
    return go(request, f"{reverse('records:water', args=[site.pk])}#readings")


@office_only
@require_POST
def strike_out(request: HttpRequest, site_id: int, reading_id: int) -> HttpResponse:
    reading = get_object_or_404(LevelReading, pk=reading_id, site_id=site_id)
    services.strike_out_reading(reading, by=request.staff)
    return go(request, f"{reverse('records:water', args=[site_id])}#readings")


@office_only
@require_POST
def depths(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(site_id)
    if "more" in request.POST:
        return _page(request, site, depths=depths_form(site, _with_more_rows(request.POST)))
    form = depths_form(site, request.POST)
    if not form.is_valid():
        return _page(request, site, depths=form, depths_refused=True, status=422)
    try:
        services.save_depths(site, seen_version=seen(request), rows=form.rows(), by=request.staff)
    except services.DepthsChangedMeanwhile as conflict:
        shown = {"depths_conflict": conflict, "depths_version": conflict.version}
        return _page(request, site, depths=form, status=409, **shown)
    return go(request, f"{reverse('records:water', args=[site.pk])}#depths")


def _site(site_id: int) -> Site:
    return get_object_or_404(Site.objects.select_related("level_range"), pk=site_id)


def _range(site: Site) -> LevelRange:
    return LevelRange.objects.filter(site=site).first() or LevelRange(site=site, version=0)


def _with_more_rows(posted: Any) -> Any:
    grown = posted.copy()
    count = posted.get("depth-TOTAL_FORMS", "0")
    grown["depth-TOTAL_FORMS"] = str((int(count) if count.isdecimal() else 0) + BLANK_ROWS)
    return grown


def _page(request: HttpRequest, site: Site, *, status: int = 200, **more: Any) -> HttpResponse:
    now, levels = timezone.localtime(), _range(site)
    first = {"day": now.date(), "time": f"{now:%H:%M}", "datum": levels.datum, "observer": request.staff.name}
    shown = {
        "site": site,
        "facts": site_facts(site),
        "levels": levels,
        "readings": site.readings.all(),
        "jobs": site.jobs.in_full().open_first(),
        "levels_form": LevelsForm(instance=levels, prefix="levels"),
        "reading_form": ReadingForm(prefix="reading", initial=first),
        "depths": depths_form(site),
        "depths_version": site.depths_version,
        **more,
    }
    return fragment(request, f"{PAGE}#depth-rows" if "more" in request.POST else PAGE, shown, status=status)
