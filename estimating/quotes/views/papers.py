"""The PDFs: a draft's as it stands now, a sent quote's exactly as sent."""

import mimetypes
from collections.abc import Callable

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import office_only
from contractor.csp import UPLOAD_POLICY
from contractor.htmx import go
from estimating.quotes.documents.paper import customer_paper, shop_paper
from estimating.quotes.models import Quote
from estimating.quotes.services import CANNOT_WORK_OUT, changes_so_far, work_out


@office_only
@require_GET
def customer(request: HttpRequest, pk: int) -> HttpResponse:
    return _paper(request, pk, kept="customer_pdf", make=customer_paper, name="quote")


@office_only
@require_GET
def shop(request: HttpRequest, pk: int) -> HttpResponse:
    return _paper(request, pk, kept="shop_pdf", make=shop_paper, name="shop-copy")


@office_only
@require_GET
def signed_page(request: HttpRequest, pk: int) -> HttpResponse:
    quote = get_object_or_404(Quote, pk=pk)
    if not quote.scan:
        raise Http404
    kind = mimetypes.guess_type(quote.scan.name)[0] or "application/octet-stream"
    response = FileResponse(quote.scan.open("rb"), content_type=kind, as_attachment=True)
    response["Content-Security-Policy"] = UPLOAD_POLICY
    return response


def _paper(request: HttpRequest, pk: int, *, kept: str, make: Callable[..., bytes], name: str) -> HttpResponse:
    quote = get_object_or_404(Quote.objects.select_related("job"), pk=pk)
    if not quote.is_draft:
        return _pdf(bytes(getattr(quote, kept)), quote, name)
    try:
        worked = work_out(quote, on=timezone.localdate())
    except CANNOT_WORK_OUT:
        return go(request, quote)  # the quote's page says what is wrong
    return _pdf(make(worked, changes=changes_so_far(worked), by=request.staff), quote, name)


def _pdf(content: bytes, quote: Quote, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}-{quote.job.number}-{quote.letter}.pdf"'
    return response
