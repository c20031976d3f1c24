"""The yard: what lies where, its history, counts, and what goes back."""

from decimal import Decimal
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
from jobs.supply import services
from jobs.supply.forms.fields import ShelfField
from jobs.supply.forms.goods import AdjustForm, CarryForm, CountShelfForm, PutForm, ReturnForm, SendBackForm
from jobs.supply.models import Return, Stock
from jobs.supply.services.yard_page import history_of, yard_page

YARD, HISTORY, RETURN, ACT = (f"jobs/supply/{name}.html" for name in ("yard", "history", "return", "act"))
FORMS = {"count": CountShelfForm, "adjust": AdjustForm, "carry": CarryForm, "back": SendBackForm}


@signed_in
@require_GET
def yard(request: HttpRequest) -> HttpResponse:
    find = request.GET.get("find", "").strip()[:80]
    return fragment(
        request, YARD, {"page": yard_page(find=find), "find": find, "least_offcut": services.least_offcut()}
    )


@signed_in
@require_GET
def history(request: HttpRequest, stock_id: int) -> HttpResponse:
    return fragment(request, HISTORY, _shown(_stock(stock_id)))


@office_only
@require_POST
def change(request: HttpRequest, stock_id: int, what: str) -> HttpResponse:
    """Count a shelf, adjust, carry to another shelf, or send back to the supplier."""
    stock = _stock(stock_id)
    form = FORMS[what](request.POST, prefix=what)
    if not form.is_valid():
        return fragment(request, HISTORY, {**_shown(stock), what: form}, status=422)
    try:
        _do(stock, what, form.cleaned_data, form, by=request.staff)
    except services.NotOnHand as short:
        form.add_error(None, short.sentence)
        return fragment(request, HISTORY, {**_shown(stock), what: form}, status=422)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, HISTORY, {**_shown(stock), what: form}, status=422)
    return go(request, stock)


def _do(stock: Stock, what: str, given: dict[str, Any], form: Any, *, by: Any) -> None:
    if what == "back":
        services.send_back(stock, supplier=given["supplier"], quantity=given["quantity"], facts=form.facts(), by=by)
        return
    if what == "carry":
        shelves = {name: services.shelf_called(given[name]) for name in ("from_shelf", "to_shelf")}
        services.move_shelf(stock, **shelves, quantity=given["quantity"], by=by)
        return
    shelf = services.shelf_called(given["shelf"])
    if what == "count":
        services.count_shelf(stock, shelf=shelf, counted=given["counted"], reason=given["reason"], by=by)
    else:
        services.adjust_stock(stock, shelf=shelf, quantity=given["quantity"], reason=given["reason"], by=by)


@office_only
@require_http_methods(["GET", "POST"])
def put(request: HttpRequest) -> HttpResponse:
    form = PutForm(request.POST or None)
    least = services.least_offcut()
    shown = {
        "form": form,
        "title": "Put something on a shelf",
        "words": f"For a first count, a thing that was found, or offcuts by their length, {least} and longer.",
        "back": "/yard/",
        "press": "Put it there",
        "shelves": ShelfField.names(),
    }
    if not (form.is_bound and form.is_valid()):
        return fragment(request, ACT, shown, status=422 if form.is_bound else 200)
    given = form.cleaned_data
    try:
        stock = services.put_on_shelf(
            given["item"],
            length_in=given["length_in"] or 0.0,
            quantity=given["quantity"],
            where=(given["shelf"], given["reason"]),
            by=request.staff,
        )
    except services.NotOnHand as short:
        form.add_error("length_in", short.sentence)
        return fragment(request, ACT, shown, status=422)
    return go(request, stock)


@office_only
@require_http_methods(["GET", "POST"])
def back(request: HttpRequest, return_id: int) -> HttpResponse:
    """One return: that it went, what is expected for it, what came."""
    standing = get_object_or_404(Return.objects.select_related("stock__item", "supplier"), pk=return_id)
    form = ReturnForm(request.POST or None, instance=Return.objects.get(pk=standing.pk))
    shown = {"back": standing, "form": form, "what": standing.stock.so_many(standing.quantity)}
    if not (form.is_bound and form.is_valid()):
        return fragment(request, RETURN, shown, status=422 if form.is_bound else 200)
    try:
        services.follow_return(
            standing, seen_version=seen(request), changes=settled(form.changes(), request.POST), by=request.staff
        )
    except ChangedMeanwhile as conflict:
        return fragment(request, RETURN, {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, RETURN, shown, status=422)
    return go(request, "supply:yard")


def _stock(stock_id: int) -> Stock:
    return get_object_or_404(Stock.objects.in_full(), pk=stock_id)


def _shown(stock: Stock) -> dict[str, Any]:
    page = history_of(stock)
    fullest = max(page.row.shelves, key=lambda row: row[1], default=(stock.item.shelf or "Yard", Decimal(0)))[0]
    return {
        "stock": stock,
        "page": page,
        "shelves": ShelfField.names(),
        "count": CountShelfForm(prefix="count", initial={"shelf": fullest}),
        "adjust": AdjustForm(prefix="adjust", initial={"shelf": fullest}),
        "carry": CarryForm(prefix="carry", initial={"from_shelf": fullest}),
        "back": SendBackForm(prefix="back", initial={"went_on": timezone.localdate()}),
    }
