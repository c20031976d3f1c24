"""The customer's answer, entered by the office."""

import contextlib

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.htmx import fragment, go
from estimating.quotes import services
from estimating.quotes.forms import AcceptForm, RefuseForm
from estimating.quotes.models import Quote


@office_only
@require_http_methods(["GET", "POST"])
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _waiting(pk)
    start = {"on": timezone.localdate(), "name": " and ".join(quote.job.quote_facts().signers)}
    form = AcceptForm(request.POST or None, request.FILES or None, quote=quote, initial=start)
    context = {"quote": quote, "form": form, "today": timezone.localdate()}
    if not form.is_valid():
        return fragment(request, "estimating/quotes/accept.html", context, status=422 if form.is_bound else 200)
    facts = form.cleaned_data
    taken = frozenset(int(pk) for pk in facts.get("taken", []))
    acceptance = services.Acceptance(facts["name"], facts["on"], facts["how"], taken, facts["scan"])
    try:
        services.accept_quote(quote, acceptance, by=request.staff)
    except services.AlreadyAnswered:
        return go(request, quote)
    except ValidationError as refused:
        form.add_error(None, refused.messages)
        return fragment(request, "estimating/quotes/accept.html", context, status=422)
    return go(request, quote)


@office_only
@require_http_methods(["GET", "POST"])
def refuse(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _waiting(pk)
    form = RefuseForm(request.POST or None, initial={"on": timezone.localdate()})
    if not form.is_valid():
        context = {"quote": quote, "form": form}
        return fragment(request, "estimating/quotes/refuse.html", context, status=422 if form.is_bound else 200)
    with contextlib.suppress(services.AlreadyAnswered):
        services.refuse_quote(quote, reason=form.cleaned_data["reason"], on=form.cleaned_data["on"], by=request.staff)
    return go(request, quote)


def _waiting(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site").sent(), pk=pk)
