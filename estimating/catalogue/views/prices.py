from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.company.once import use_key
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.forms.prices import PriceForm, StrikeForm
from estimating.catalogue.models import Item, Price
from estimating.catalogue.views.items import item_page


@office_only
@require_POST
def add_price(request: HttpRequest, item_id: int) -> HttpResponse:
    thing = get_object_or_404(Item, pk=item_id)
    form = PriceForm(request.POST, item=thing)
    if not form.is_valid():
        return item_page(request, thing, form=form, status=422)
    try:
        _add(request, thing, form)
    except services.FactsRefused as refused:
        for name, sentence in refused.faults.items():
            form.add_error(name if name in form.fields else None, sentence)
        return item_page(request, thing, form=form, status=422)
    return go(request, f"{thing.get_absolute_url()}#prices")


@office_only
@require_http_methods(["GET", "POST"])
def strike_price(request: HttpRequest, price_id: int) -> HttpResponse:
    price = get_object_or_404(Price.objects.standing().select_related("item", "stick", "supplier"), pk=price_id)
    form = StrikeForm(request.POST or None)
    if not form.is_valid():
        shown = {"form": form, "price": price}
        return fragment(request, "estimating/catalogue/strike.html", shown, status=422 if form.is_bound else 200)
    services.strike_price(price, reason=form.cleaned_data["reason"], by=request.staff)
    return go(request, f"{price.item.get_absolute_url()}#prices")


@transaction.atomic
def _add(request: HttpRequest, thing: Item, form: PriceForm) -> None:
    if use_key(request.POST.get("once", "")):
        for stick, supplier, facts in form.prices():
            services.add_price(thing, facts, stick=stick, supplier=supplier, by=request.staff)
