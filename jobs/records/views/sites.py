"""One site: its facts in blocks, and the days on which work in the water is allowed."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.sites import SiteForm, WindowsForm
from jobs.records.models import Site

PAGE = "jobs/records/site.html"


@office_only
@require_http_methods(["GET", "POST"])
def site(request: HttpRequest, site_id: int) -> HttpResponse:
    place = get_object_or_404(Site, pk=site_id)
    form = SiteForm(request.POST or None, instance=get_object_or_404(Site, pk=site_id))
    windows = WindowsForm(request.POST or None, prefix="window", initial=WindowsForm.initial_of(place))
    shown = {"site": place, "form": form, "windows": windows, "jobs": place.jobs.in_full().open_first()}
    if not form.is_bound:
        return fragment(request, PAGE, shown)
    if not (form.is_valid() and windows.is_valid()):
        return fragment(request, PAGE, shown, status=422)
    return _save(request, place, shown)


def _save(request: HttpRequest, place: Site, shown: dict[str, Any]) -> HttpResponse:
    form, windows = shown["form"], shown["windows"].windows()
    try:
        changes = settled(form.changes(), request.POST)
        services.save_site(place, seen_version=seen(request), changes=changes, windows=windows, by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, PAGE, shown, status=422)
    newest = shown["jobs"].first()
    return go(request, f"{newest.get_absolute_url()}#site" if newest else place)
