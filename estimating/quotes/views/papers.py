"""The PDFs: a draft's as it stands now, a sent quote's exactly as sent."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import office_only
from contractor.company.models import Staff
from contractor.csp import hand_out
from contractor.htmx import go
from estimating.engine.reasons import SpecFaults
from estimating.quotes.documents.paper import customer_paper
from estimating.quotes.documents.shop_paper import shop_paper
from estimating.quotes.documents.worked import WorkedQuote
from estimating.quotes.models import Quote
from estimating.quotes.services import changes_so_far, work_out


@office_only
@require_GET
def customer(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _quote(pk)
    if not quote.is_draft:
        return _pdf(bytes(quote.customer_pdf), quote, "quote")
    return _drafted(request, quote, lambda worked: _customer(worked, by=request.staff), "quote")


@office_only
@require_GET
def shop(request: HttpRequest, pk: int) -> HttpResponse:
    quote = _quote(pk)
    if not quote.is_draft:
        return _pdf(bytes(quote.shop_pdf), quote, "shop-copy")
    return _drafted(request, quote, lambda worked: _shop(worked, by=request.staff), "shop-copy")


@office_only
@require_GET
def signed_page(request: HttpRequest, pk: int) -> HttpResponse:
    quote = get_object_or_404(Quote, pk=pk)
    return hand_out(quote.scan, as_attachment=True)


def _quote(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job"), pk=pk)


def _drafted(request: HttpRequest, quote: Quote, make: Callable[[WorkedQuote], bytes], name: str) -> HttpResponse:
    """A draft's paper as it would be sent now."""
    try:
        worked = work_out(quote, on=timezone.localdate())
    except SpecFaults:
        return go(request, quote)  # the quote's page says what is wrong
    return _pdf(make(worked), quote, name)


def _customer(worked: WorkedQuote, *, by: Staff) -> bytes:
    return customer_paper(worked, changes=changes_so_far(worked).customer, by=by)


def _shop(worked: WorkedQuote, *, by: Staff) -> bytes:
    return shop_paper(worked, changes=changes_so_far(worked).shop, by=by)


def _pdf(content: bytes, quote: Quote, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}-{quote.job.number}-{quote.letter}.pdf"'
    return response
