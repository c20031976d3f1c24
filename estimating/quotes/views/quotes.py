"""The quote's page: typed on the left, what the customer reads on the right; kept and sent by one form."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.htmx import fragment, go, wants_piece
from estimating.engine.reasons import SpecFaults
from estimating.quotes import services
from estimating.quotes.documents.listing import quote_list
from estimating.quotes.documents.payments import kept_payments
from estimating.quotes.models import Quote
from estimating.quotes.views.desk import Desk, seen

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
        return _sent_page(request, found)
    if request.method == "GET":
        return fragment(request, PAGE, Desk(found).context())
    desk = Desk(found, request.POST)
    return _keep(request, desk) or go(request, found)


@office_only
@require_POST
def preview(request: HttpRequest, pk: int) -> HttpResponse:
    """The page as it would be with what is typed; nothing is saved. Troubles go to their boxes, the rest stays."""
    found = _found(pk)
    if not found.is_draft:
        return go(request, found)
    desk = Desk(found, request.POST)
    if desk.is_valid() or not wants_piece(request):
        return fragment(request, f"{PAGE}#answer", desk.context(oob=True), status=200 if desk.is_valid() else 422)
    response = fragment(request, f"{PAGE}#troubled", desk.context(oob=True), status=422)
    response.headers["HX-Retarget"], response.headers["HX-Reswap"] = "#troubles", "outerHTML"
    return response


@office_only
@require_POST
def send(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep what is typed and send it, if it comes to what was last seen on the page."""
    found = _found(pk)
    if not found.is_draft:
        return go(request, found)
    desk = Desk(found, request.POST)
    return _keep(request, desk) or _send(request, found.pk)


@office_only
@require_POST
def revise(request: HttpRequest, pk: int) -> HttpResponse:
    """The next letter, from the spec as it is now; the one being written, if there is one."""
    job = _found(pk).job
    letter, document = job.spec_to_quote()
    try:
        made = services.draft_quote(
            job, spec_letter=letter, spec_document=document, by=request.staff, on=timezone.localdate()
        )
    except services.DraftExists as standing:
        return go(request, standing.quote)
    return go(request, made)


@office_only
@require_http_methods(["GET", "POST"])
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(pk)
    if not found.is_draft:
        return go(request, found)
    if request.method == "GET":
        return fragment(request, "estimating/quotes/drop.html", {"quote": found})
    try:
        services.drop_draft(found, seen_version=seen(request.POST), by=request.staff)
    except ChangedMeanwhile as conflict:
        changed = {"quote": found, "conflict": conflict}
        return fragment(request, "estimating/quotes/drop.html", changed, status=409)
    except services.QuoteFrozen:
        return go(request, found)
    return go(request, found.job)


def _keep(request: HttpRequest, desk: Desk) -> HttpResponse | None:
    """Save what is typed; None when it was saved, otherwise the answer that says why not."""
    if not desk.is_valid():
        return fragment(request, PAGE, desk.context(), status=422)
    typed = settled({**desk.terms.cleaned_data, "offered": desk.options.facts()}, request.POST)
    options = typed.pop("offered", None)
    try:
        services.save_draft(
            desk.quote, seen_version=desk.seen_version, changes=typed, options=options, by=request.staff
        )
    except ChangedMeanwhile as conflict:
        desk.take_theirs(conflict)
        return fragment(request, PAGE, desk.context(conflict=conflict), status=409)
    except services.QuoteFrozen:
        return go(request, desk.quote)
    except ValidationError as refused:
        desk.terms.blame(refused)
        return fragment(request, PAGE, desk.context(), status=422)
    return None


def _send(request: HttpRequest, pk: int) -> HttpResponse:
    kept = _found(pk)
    try:
        services.send_quote(
            kept,
            seen_version=kept.version,
            by=request.staff,
            on=timezone.localdate(),
            seen_mark=request.POST.get("seen", ""),
        )
    except services.NotReadyToSend as refused:
        desk = Desk(_found(pk))
        return fragment(request, PAGE, desk.context(not_sent=refused), status=422)
    except services.NotAsSeen:
        return fragment(request, PAGE, Desk(_found(pk)).context(not_as_seen=True), status=409)
    except services.JobIsSigned as signed:
        return fragment(request, PAGE, Desk(_found(pk)).context(signed=signed.quote), status=409)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, Desk(_found(pk)).context(overtaken=conflict), status=409)
    except SpecFaults:
        return fragment(request, PAGE, Desk(_found(pk)).context(), status=422)
    return go(request, kept)


def _sent_page(request: HttpRequest, found: Quote) -> HttpResponse:
    context = {
        "quote": found,
        "today": timezone.localdate(),
        "has_run_out": found.has_run_out(on=timezone.localdate()),
        "payments": kept_payments(found),
        "open_draft": found.job.quotes.drafts().first(),
        "may_revise": not found.job.quotes.filter(state="accepted").exists(),
    }
    return fragment(request, "estimating/quotes/sent.html", context)


def _found(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site", "sent_by"), pk=pk)
