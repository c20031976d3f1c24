from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.forms.items import ItemForm, KindForm, draft_from, kept_fixings, part_lines, takes_fixings
from estimating.catalogue.forms.prices import PriceForm
from estimating.catalogue.models import Item, Kind
from estimating.catalogue.shelf import LOOKS, price_book, shelf
from estimating.catalogue.wording import item_line, said_facts

LIST = "estimating/catalogue/items.html"
PAGE = "estimating/catalogue/item.html"
EDIT = "estimating/catalogue/item_form.html"


@signed_in
@require_GET
def items(request: HttpRequest) -> HttpResponse:
    asked = {
        "kind": request.GET.get("kind", ""),
        "words": request.GET.get("q", ""),
        "look": request.GET.get("look", ""),
    }
    asked["kind"] = asked["kind"] if asked["kind"] in Kind.values else ""
    asked["look"] = asked["look"] if asked["look"] in LOOKS else ""
    found = shelf(on=timezone.localdate(), with_prices=request.staff.has_money, **asked)
    gaps = services.catalogue_gaps() if request.staff.has_money else []
    return fragment(request, f"{LIST}#found", {"shelf": found, "asked": asked, "kinds": Kind.choices, "gaps": gaps})


@signed_in
@require_GET
def item(request: HttpRequest, item_id: int) -> HttpResponse:
    return item_page(request, get_object_or_404(Item, pk=item_id))


def item_page(request: HttpRequest, thing: Item, *, form: PriceForm | None = None, status: int = 200) -> HttpResponse:
    """The item with its facts; for owner and office also its prices and the box for a new one."""
    shown: dict[str, Any] = {
        "item": thing,
        "line": item_line(thing),
        "facts": said_facts(thing),
        "fixings": thing.fixings.select_related("part"),
        "substitutes": thing.substitutes.all(),
        "uses": services.uses_of(thing),
    }
    if request.staff.has_money:
        length = request.GET.get("length", "")
        shown["book"] = price_book(
            thing, on=timezone.localdate(), length_pk=int(length) if length.isdecimal() else None
        )
        shown["form"] = form or PriceForm(item=thing)
    return fragment(request, PAGE, shown, status=status)


@office_only
@require_GET
def choose_kind(request: HttpRequest) -> HttpResponse:
    form = KindForm(request.GET or None)
    if form.is_bound and form.is_valid():
        return go(request, "catalogue:new_item", form.cleaned_data["kind"])
    return fragment(request, "estimating/catalogue/kind.html", {"form": form}, status=422 if form.is_bound else 200)


@office_only
@require_http_methods(["GET", "POST"])
def new_item(request: HttpRequest, kind: str) -> HttpResponse:
    if kind not in Kind.values:
        raise Http404
    form, lines = _forms(request, kind, None)
    shown = {"form": form, "lines": lines, "kind": Kind(kind)}
    if request.method == "GET":
        return fragment(request, EDIT, shown)
    if not _both_valid(form, lines):
        return fragment(request, EDIT, shown, status=422)
    try:
        made = _make(request, kind, form, lines)
    except services.FactsRefused as refused:
        _blame(form, lines, refused)
        return fragment(request, EDIT, shown, status=422)
    return go(request, made or "catalogue:items")


@office_only
@require_http_methods(["GET", "POST"])
def edit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    thing = get_object_or_404(Item, pk=item_id)
    form, lines = _forms(request, thing.kind, thing)
    shown = {"form": form, "lines": lines, "kind": Kind(thing.kind), "item": thing}
    if request.method == "GET":
        return fragment(request, EDIT, shown)
    if not _both_valid(form, lines):
        return fragment(request, EDIT, shown, status=422)
    changes = settled(_changes(form, lines), request.POST)
    try:
        services.change_item(thing, draft_from(thing.kind, changes), seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, EDIT, {**shown, "conflict": conflict}, status=409)
    except services.FactsRefused as refused:
        _blame(form, lines, refused)
        return fragment(request, EDIT, shown, status=422)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, EDIT, shown, status=422)
    return go(request, thing)


@office_only
@require_http_methods(["GET", "POST"])
def retire_item(request: HttpRequest, item_id: int) -> HttpResponse:
    thing = get_object_or_404(Item, pk=item_id)
    shown: dict[str, Any] = {"item": thing, "uses": services.uses_of(thing)}
    if request.method == "GET":
        return fragment(request, "estimating/catalogue/retire.html", shown)
    try:
        services.retire_item(thing, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        shown = {**shown, "conflict": conflict, "item": conflict.thing}
        return fragment(request, "estimating/catalogue/retire.html", shown, status=409)
    except services.StillUsed:
        return fragment(request, "estimating/catalogue/retire.html", shown, status=422)
    return go(request, thing)


@office_only
@require_POST
def reinstate_item(request: HttpRequest, item_id: int) -> HttpResponse:
    thing = get_object_or_404(Item, pk=item_id)
    services.reinstate_item(thing, seen_version=thing.version, by=request.staff)
    return go(request, thing)


@office_only
@require_GET
def retired(request: HttpRequest) -> HttpResponse:
    rows = [(each, item_line(each)) for each in Item.objects.retired().with_parts().by_kind_and_name()]
    return fragment(request, "estimating/catalogue/retired.html", {"rows": rows})


def _forms(request: HttpRequest, kind: str, thing: Item | None) -> tuple[ItemForm, Any]:
    data = request.POST if request.method == "POST" else None
    lines = part_lines(data, prefix="fix", given=kept_fixings(thing)) if takes_fixings(kind) else None
    return ItemForm(data, kind=kind, item=thing), lines


def _both_valid(form: ItemForm, lines: Any) -> bool:
    return all([form.is_valid(), lines is None or lines.is_valid()])


def _changes(form: ItemForm, lines: Any) -> dict[str, Any]:
    return {**form.changes(), **({} if lines is None else {"fitted_with": lines.lines()})}


@transaction.atomic
def _make(request: HttpRequest, kind: str, form: ItemForm, lines: Any) -> Item | None:
    """The new item, or None when this very form made it a moment ago."""
    if not use_key(request.POST.get("once", "")):
        return Item.objects.filter(code__iexact=form.cleaned_data["code"]).first()
    draft = draft_from(kind, _changes(form, lines), code=form.cleaned_data["code"])
    return services.make_item(draft, by=request.staff)


def _blame(form: ItemForm, lines: Any, refused: services.FactsRefused) -> None:
    faults = dict(refused.faults)
    if lines is not None and "fixings" in faults:
        lines.refused = faults["fixings"]
    form.blame_faults(faults)
