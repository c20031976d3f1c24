"""Counting a delivery, looking at a count, sharing out what came."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import NoFormKey
from contractor.csp import hand_out
from contractor.htmx import fragment, go
from jobs.supply import services
from jobs.supply.documents.receiving_sheet import receiving_sheet
from jobs.supply.forms.receipts import DeliveryForm, ShareForm, StrayForm, VoidForm, count_forms
from jobs.supply.models import Order, Receipt, ReceiptPhoto
from jobs.supply.services.advice import proposals
from jobs.supply.services.receiving import Count, Delivery
from jobs.supply.services.substituting import came_instead

COUNT, RECEIPT = "jobs/supply/count.html", "jobs/supply/receipt.html"


@signed_in
@require_http_methods(["GET", "POST"])
def count(request: HttpRequest, order_id: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.in_full(), pk=order_id, state__in=["sent", "done"])
    typed = request.POST or None
    delivery = DeliveryForm(typed, request.FILES or None, initial={"received_on": timezone.localdate()})
    lines, stray = count_forms(order, typed), StrayForm(typed, prefix="stray")
    shown = {"order": order, "form": delivery, "lines": lines, "stray": stray}
    is_valid = request.method == "POST" and all([form.is_valid() for form in (delivery, *lines, stray)])
    if not is_valid:
        return fragment(request, COUNT, shown, status=422 if typed else 200)
    if "look" in request.POST:
        looked = services.look_at(form.count() for form in lines)
        return fragment(request, f"{COUNT}#worked", {**shown, "looked": looked})
    return _post(request, shown)


def _post(request: HttpRequest, shown: dict[str, Any]) -> HttpResponse:
    key = request.POST.get("once", "")
    try:
        with transaction.atomic():
            counts: list[Count] = [*(form.count() for form in shown["lines"]), *shown["stray"].counts()]
            delivery: Delivery = shown["form"].delivery()
            made = services.receive(shown["order"], counts=counts, delivery=delivery, key=key, by=request.staff)
    except ValueError as wrong:
        raise NoFormKey("The form has no key.") from wrong
    except ValidationError as refused:
        shown["form"].blame(refused)
        return fragment(request, COUNT, shown, status=422)
    return go(request, made)


@signed_in
@require_GET
def receipt(request: HttpRequest, receipt_id: int) -> HttpResponse:
    return fragment(request, RECEIPT, _shown(_receipt(receipt_id)))


@office_only
@require_POST
def share(request: HttpRequest, receipt_id: int) -> HttpResponse:
    found = _receipt(receipt_id)
    shown = _shown(found)
    form = ShareForm(request.POST, proposals=shown["proposals"])
    if not form.is_valid():
        return fragment(request, RECEIPT, {**shown, "share": form}, status=422)
    try:
        services.share_out(form.gives(), by=request.staff)
    except services.NotOnHand as short:
        form.add_error(None, short.sentence)
        return fragment(request, RECEIPT, {**shown, "share": form}, status=422)
    return go(request, found)


@office_only
@require_http_methods(["GET", "POST"])
def void(request: HttpRequest, receipt_id: int) -> HttpResponse:
    found = _receipt(receipt_id)
    form = VoidForm(request.POST or None)
    shown = {
        "form": form,
        "title": f"Void the count of order {found.order.number}",
        "words": "What was accepted leaves the yard again, and the supplier owes it again. Goods set aside for jobs "
        "are given up, latest needed first. The count stays readable.",
        "back": found.get_absolute_url(),
        "press": "Void this count",
    }
    if not (form.is_bound and form.is_valid()):
        return fragment(request, "jobs/supply/act.html", shown, status=422 if form.is_bound else 200)
    try:
        services.void_receipt(found, reason=form.cleaned_data["reason"], by=request.staff)
    except (ValidationError, services.NotOnHand) as refused:
        form.add_error(None, getattr(refused, "sentence", None) or refused)
        return fragment(request, "jobs/supply/act.html", shown, status=422)
    return go(request, found)


@signed_in
@require_GET
def sheet(request: HttpRequest, order_id: int) -> HttpResponse:
    """The paper to count on at the gate."""
    found = get_object_or_404(Order.objects.in_full(), pk=order_id, number__isnull=False)
    answer = HttpResponse(receiving_sheet(found, on=timezone.localdate()), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="receiving-{found.number}.pdf"'
    return answer


@signed_in
@require_GET
def photo(request: HttpRequest, photo_id: int) -> FileResponse:
    found = get_object_or_404(ReceiptPhoto, pk=photo_id)
    return hand_out(found.file, filename=f"delivery-{photo_id}")


def _receipt(receipt_id: int) -> Receipt:
    receipts = Receipt.objects.select_related("order__supplier").prefetch_related(
        "lines__stock__item", "lines__order_line", "lines__instead_of__item", "lines__shelf", "photos"
    )
    return get_object_or_404(receipts, pk=receipt_id)


def _shown(found: Receipt) -> dict[str, Any]:
    came = {line.stock_id for line in found.lines.all() if line.accepted}
    given = [] if found.voided_at else proposals(came, on=timezone.localdate())
    waiting = [one for one in given if one.need.stock.free > 0]
    instead = [] if found.voided_at else came_instead(found)
    return {"receipt": found, "proposals": waiting, "instead": instead, "share": ShareForm(proposals=waiting)}
