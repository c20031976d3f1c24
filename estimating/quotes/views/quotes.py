"""The quote's page: typed on the left, what the customer reads on the right; sent once."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.htmx import fragment, go
from estimating.quotes import services
from estimating.quotes.documents.listing import quote_list
from estimating.quotes.models import Quote
from estimating.quotes.views.desk import Desk

PAGE = "estimating/quotes/quote.html"


@office_only
@require_GET
def quotes(request: HttpRequest) -> HttpResponse:
    return fragment(request, "estimating/quotes/quotes.html", {"groups": quote_list(on=timezone.localdate())})


@office_only
@require_http_methods(["GET", "POST"])
def quote(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(pk)
    if not found.is_draft:
        return fragment(request, "estimating/quotes/sent.html", {"quote": found, "today": timezone.localdate()})
    desk = Desk(found, request.POST if request.method == "POST" else None)
    if request.method == "GET":
        return fragment(request, PAGE, desk.context())
    return _keep(request, desk)


@office_only
@require_POST
def preview(request: HttpRequest, pk: int) -> HttpResponse:
    """The page as it would be with what is typed; nothing is saved."""
    desk = Desk(_found(pk), request.POST)
    return fragment(request, f"{PAGE}#worked", desk.context(), status=200 if desk.is_valid() else 422)


@office_only
@require_POST
def send(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(pk)
    try:
        services.send_quote(found, seen_version=_seen(request), by=request.staff, on=timezone.localdate())
    except services.NotReadyToSend as refused:
        return fragment(request, PAGE, Desk(found).context(not_ready=refused.sentences), status=422)
    except services.CANNOT_WORK_OUT:
        return fragment(request, PAGE, Desk(found).context(), status=422)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, Desk(conflict.thing).context(sent_late=conflict), status=409)
    return go(request, found)


@office_only
@require_http_methods(["GET", "POST"])
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(pk)
    job = found.job
    if request.method == "GET":
        return fragment(request, "estimating/quotes/drop.html", {"quote": found})
    try:
        services.drop_draft(found, seen_version=_seen(request), by=request.staff)
    except (services.QuoteFrozen, ChangedMeanwhile):
        return go(request, found)
    return go(request, job)


def _keep(request: HttpRequest, desk: Desk) -> HttpResponse:
    if not desk.is_valid():
        return fragment(request, PAGE, desk.context(), status=422)
    try:
        services.save_draft(
            desk.quote,
            seen_version=_seen(request),
            changes=settled(desk.terms.cleaned_data, request.POST),
            options=desk.options.facts(),
            by=request.staff,
        )
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, desk.context(conflict=conflict), status=409)
    except services.QuoteFrozen:
        return go(request, desk.quote)
    except ValidationError as refused:
        desk.blame(refused)
        return fragment(request, PAGE, desk.context(), status=422)
    return go(request, desk.quote)


def _found(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site", "sent_by"), pk=pk)


def _seen(request: HttpRequest) -> int:
    return int(request.POST.get("version") or 0)
