"""What to order today, orders, their papers and promises."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.catalogue.models import Supplier
from jobs.supply import services
from jobs.supply.documents.order_paper import order_csv
from jobs.supply.forms.orders import CancelForm, LineForm, OrderForm, PromiseForm
from jobs.supply.models import Order, OrderLine
from jobs.supply.services.finishing import finish_page
from jobs.supply.services.order_page import order_page, orders_page

ORDERS, ORDER = "jobs/supply/orders.html", "jobs/supply/order.html"


@signed_in
@require_GET
def orders(request: HttpRequest) -> HttpResponse:
    return fragment(request, ORDERS, {"page": orders_page(on=timezone.localdate())})


@signed_in
@require_GET
def finish(request: HttpRequest) -> HttpResponse:
    return fragment(request, "jobs/supply/finish.html", {"page": finish_page(on=timezone.localdate())})


@office_only
@require_POST
def draft(request: HttpRequest) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=request.POST.get("supplier") or None)
    ids = [int(pk) for pk in request.POST.getlist("stock") if pk.isdecimal()]
    try:
        made = services.draft_order(supplier, stock_ids=ids, by=request.staff, on=timezone.localdate())
    except services.NothingToOrder:
        return go(request, "supply:orders")
    return go(request, made)


@signed_in
@require_http_methods(["GET", "POST"])
def order(request: HttpRequest, order_id: int) -> HttpResponse:
    found = get_object_or_404(Order.objects.in_full(), pk=order_id)
    if request.method == "POST":
        return _save(request, found)
    return fragment(request, ORDER, _shown(found))


@office_only
def _save(request: HttpRequest, found: Order) -> HttpResponse:
    form = OrderForm(request.POST, instance=Order.objects.get(pk=found.pk))
    lines = [LineForm(request.POST, line=line) for line in found.lines.all()]
    shown = {**_shown(found), "form": form, "line_forms": lines}
    if not (form.is_valid() and all([line.is_valid() for line in lines])):
        return fragment(request, ORDER, shown, status=422)
    try:
        services.save_order(
            found,
            seen_version=seen(request),
            changes=settled(form.changes(), request.POST),
            lines={line.line.pk: line.cleaned_data for line in lines},
            by=request.staff,
        )
        if "send" in request.POST:
            services.send_order(found, by=request.staff, on=timezone.localdate())
    except ChangedMeanwhile as conflict:
        return fragment(request, ORDER, {**shown, "conflict": conflict}, status=409)
    except services.OrderGone:
        return go(request, found)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, ORDER, shown, status=422)
    return go(request, found)


@office_only
@require_POST
def drop(request: HttpRequest, order_id: int) -> HttpResponse:
    found = get_object_or_404(Order, pk=order_id)
    try:
        services.drop_order(found, by=request.staff)
    except services.OrderGone:
        return go(request, found)
    return go(request, "supply:orders")


@office_only
@require_POST
def promise(request: HttpRequest, order_id: int, line_id: int) -> HttpResponse:
    line = _line(order_id, line_id)
    form = PromiseForm(request.POST)
    if not form.is_valid():
        return fragment(request, ORDER, _shown(line.order, promise_form=form, at_line=line.pk), status=422)
    given = form.cleaned_data
    services.promise(line, expected_on=given["expected_on"], note=given["note"], by=request.staff)
    return go(request, line.order)


@office_only
@require_POST
def promise_all(request: HttpRequest, order_id: int) -> HttpResponse:
    """One day for everything the order still owes."""
    found = get_object_or_404(Order.objects.in_full(), pk=order_id)
    form = PromiseForm(request.POST)
    if not form.is_valid():
        return fragment(request, ORDER, _shown(found, promise_form=form, at_line=0), status=422)
    given = form.cleaned_data
    services.promise_all(found, expected_on=given["expected_on"], note=given["note"], by=request.staff)
    return go(request, found)


@office_only
@require_http_methods(["GET", "POST"])
def cancel(request: HttpRequest, order_id: int, line_id: int) -> HttpResponse:
    line = _line(order_id, line_id)
    form = CancelForm(request.POST or None, initial={"quantity": line.owed})
    shown = {
        "form": form,
        "title": f"Cancel {line.stock} on order {line.order.number}",
        "words": "The supplier will not send these any more. The jobs that wait for them need another order.",
        "back": line.order.get_absolute_url(),
        "press": "Cancel them",
    }
    if not (form.is_bound and form.is_valid()):
        return fragment(request, "jobs/supply/act.html", shown, status=422 if form.is_bound else 200)
    try:
        services.cancel_owed(line, **form.cleaned_data, by=request.staff)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, "jobs/supply/act.html", shown, status=422)
    return go(request, line.order)


@office_only
@require_GET
def pdf(request: HttpRequest, order_id: int) -> HttpResponse:
    found = get_object_or_404(Order.objects.in_full(), pk=order_id, number__isnull=False)
    paper = services.paper_of(found, on=timezone.localdate())
    answer = HttpResponse(paper, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="order-{found.number}.pdf"'
    return answer


@office_only
@require_GET
def table(request: HttpRequest, order_id: int) -> HttpResponse:
    found = get_object_or_404(Order.objects.in_full(), pk=order_id, number__isnull=False)
    answer = HttpResponse(order_csv(found), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="order-{found.number}.csv"'
    return answer


def _line(order_id: int, line_id: int) -> OrderLine:
    lines = OrderLine.objects.select_related("order__supplier", "stock__item")
    return get_object_or_404(lines, pk=line_id, order_id=order_id)


def _shown(found: Order, **more: Any) -> dict[str, Any]:
    page = order_page(found)
    shown = {"order": found, "page": page, "promise_form": PromiseForm(), **more}
    if found.state == "draft":
        shown |= {"form": OrderForm(instance=found), "line_forms": [LineForm(line=line) for line in page.lines]}
    return shown
