"""One client."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.clients import ClientForm
from jobs.records.models import Client

PAGE = "jobs/records/client.html"


@office_only
@require_http_methods(["GET", "POST"])
def client(request: HttpRequest, client_id: int) -> HttpResponse:
    somebody = get_object_or_404(Client, pk=client_id)
    form = ClientForm(request.POST or None, instance=get_object_or_404(Client, pk=client_id))
    shown = {"client": somebody, "form": form, "jobs": somebody.jobs.in_full().open_first()}
    if not form.is_valid():
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_client(somebody, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, PAGE, shown, status=422)
    newest = shown["jobs"].first()
    return go(request, newest or somebody)
