from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.forms.suppliers import SupplierForm
from estimating.catalogue.models import Supplier

PAGE = "estimating/catalogue/supplier.html"


@office_only
@require_GET
def suppliers(request: HttpRequest) -> HttpResponse:
    found = Supplier.objects.with_counts()
    return fragment(request, "estimating/catalogue/suppliers.html", {"suppliers": found})


@office_only
@require_http_methods(["GET", "POST"])
def new_supplier(request: HttpRequest) -> HttpResponse:
    form = SupplierForm(request.POST or None)
    if not form.is_valid():
        return fragment(request, PAGE, {"form": form}, status=422 if form.is_bound else 200)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                services.make_supplier(facts=form.cleaned_data, by=request.staff)
    except services.FactsRefused as refused:
        form.blame_faults(refused.faults)
        return fragment(request, PAGE, {"form": form}, status=422)
    return go(request, "catalogue:suppliers")


@office_only
@require_http_methods(["GET", "POST"])
def supplier(request: HttpRequest, supplier_id: int) -> HttpResponse:
    thing = get_object_or_404(Supplier, pk=supplier_id)
    form = SupplierForm(request.POST or None, supplier=thing)
    shown = {"form": form, "supplier": thing}
    if not form.is_valid():
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.cleaned_data, request.POST)
        services.change_supplier(thing, facts=changes, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, PAGE, {**shown, "conflict": conflict}, status=409)
    except services.FactsRefused as refused:
        form.blame_faults(refused.faults)
        return fragment(request, PAGE, shown, status=422)
    return go(request, "catalogue:suppliers")


@office_only
@require_POST
def put_aside(request: HttpRequest, supplier_id: int) -> HttpResponse:
    """Stop offering a supplier, or offer it again."""
    thing = get_object_or_404(Supplier, pk=supplier_id)
    services.set_supplier_active(
        thing, active=request.POST.get("active") == "yes", seen_version=thing.version, by=request.staff
    )
    return go(request, "catalogue:suppliers")
