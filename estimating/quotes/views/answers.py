"""The customer's answer, entered by the office."""

import contextlib

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.company.models import Staff
from contractor.htmx import fragment, go
from estimating.quotes import services
from estimating.quotes.documents.options import groups_offered
from estimating.quotes.forms import AcceptForm, RefuseForm
from estimating.quotes.models import Quote, QuoteState


@office_only
@require_http_methods(["GET", "POST"])
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _sent(pk)
    if quote.state != QuoteState.SENT:
        return go(request, quote)
    start = {"on": timezone.localdate(), "name": " and ".join(quote.job.quote_facts().signers)}
    form = AcceptForm(
        request.POST or None, request.FILES or None, quote=quote, groups=groups_offered(quote), initial=start
    )
    if form.is_valid() and _enter(quote, form, by=request.staff):
        return go(request, quote)
    context = {"quote": quote, "form": form, "has_run_out": quote.has_run_out(on=timezone.localdate())}
    return fragment(request, "estimating/quotes/accept.html", context, status=422 if form.is_bound else 200)


@office_only
@require_http_methods(["GET", "POST"])
def refuse(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _sent(pk)
    if quote.state != QuoteState.SENT:
        return go(request, quote)
    form = RefuseForm(request.POST or None, quote=quote, initial={"on": timezone.localdate()})
    if not form.is_valid():
        context = {"quote": quote, "form": form}
        return fragment(request, "estimating/quotes/refuse.html", context, status=422 if form.is_bound else 200)
    with contextlib.suppress(services.AlreadyAnswered):
        services.refuse_quote(quote, reason=form.cleaned_data["reason"], on=form.cleaned_data["on"], by=request.staff)
    return go(request, quote)


def _enter(quote: Quote, form: AcceptForm, *, by: Staff) -> bool:
    """Whether the quote has its answer now; if not, the form says why."""
    facts = form.cleaned_data
    acceptance = services.Acceptance(facts["name"], facts["on"], facts["how"], form.taken, facts["scan"])
    try:
        services.accept_quote(quote, acceptance, by=by)
    except ValidationError as refused:
        form.blame(refused)
        return False
    except services.AlreadyAnswered:
        return True
    return True


def _sent(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site").sent(), pk=pk)
