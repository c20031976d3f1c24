from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_http_methods

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.forms.items import PartLines, part_lines
from estimating.catalogue.forms.rules import JointRuleForm, LabourForm, StandingForm
from estimating.catalogue.models import Item, JointRule, LabourFactor, LabourRate, Place
from estimating.catalogue.services import PartLine
from estimating.catalogue.wording import rules_by_place, say_rule

RULE = "estimating/catalogue/rule.html"
LABOUR = "estimating/catalogue/labour.html"
STANDING = "estimating/catalogue/standing.html"


@signed_in
@require_GET
def joints(request: HttpRequest) -> HttpResponse:
    places = rules_by_place(JointRule.objects.with_parts().in_order())
    shown = {
        "joint_places": places,
        "uncovered": services.uncovered_places(),
        "nothing_yet": not any(rules for _, rules in places),
    }
    return fragment(request, "estimating/catalogue/joints.html", shown)


@office_only
@require_http_methods(["GET", "POST"])
def new_rule(request: HttpRequest) -> HttpResponse:
    data = request.POST if request.method == "POST" else None
    place = request.GET.get("place", "")
    form = JointRuleForm(data, place=place if place in Place.values else "")
    lists = _lists(data, None)
    if data is None:
        return _rule_page(request, form, lists)
    if not _all_valid(form, lists):
        return _rule_page(request, form, lists, status=422)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                services.make_joint_rule(facts=form.facts(), parts=_parts(lists), by=request.staff)
    except services.FactsRefused as refused:
        return _refused(request, form, lists, refused)
    return go(request, "catalogue:joints")


@office_only
@require_http_methods(["GET", "POST"])
def rule(request: HttpRequest, rule_id: int) -> HttpResponse:
    thing = get_object_or_404(JointRule.objects.with_parts(), pk=rule_id)
    data = request.POST if request.method == "POST" else None
    form, lists = JointRuleForm(data, rule=thing), _lists(data, thing)
    if data is None:
        return _rule_page(request, form, lists, rule=thing)
    if not _all_valid(form, lists):
        return _rule_page(request, form, lists, rule=thing, status=422)
    changes = settled({**form.facts(), "takes": _parts(lists)}, data)
    facts = {name: changes.get(name, getattr(thing, name)) for name in form.facts()}
    parts = changes.get("takes", _kept_parts(thing))
    try:
        services.change_joint_rule(thing, facts=facts, parts=parts, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return _rule_page(request, form, lists, rule=thing, conflict=conflict, status=409)
    except services.FactsRefused as refused:
        return _refused(request, form, lists, refused, rule=thing)
    except ValidationError as refused:
        form.blame(refused)
        return _rule_page(request, form, lists, rule=thing, status=422)
    return go(request, "catalogue:joints")


@office_only
@require_http_methods(["GET", "POST"])
def drop_rule(request: HttpRequest, rule_id: int) -> HttpResponse:
    thing = get_object_or_404(JointRule.objects.with_parts(), pk=rule_id)
    shown: dict[str, Any] = {"said": say_rule(thing), "rule": thing}
    if request.method == "GET":
        return fragment(request, "estimating/catalogue/drop_rule.html", shown)
    try:
        services.drop_joint_rule(thing, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, "estimating/catalogue/drop_rule.html", {**shown, "conflict": conflict}, status=409)
    return go(request, "catalogue:joints")


@office_only
@require_http_methods(["GET", "POST"])
def standing(request: HttpRequest) -> HttpResponse:
    row = services.standing_choices()
    form = StandingForm(request.POST if request.method == "POST" else None, row=row)
    shown = {"form": form, "row": row, "gaps": services.catalogue_gaps()}
    if not form.is_valid():
        return fragment(request, STANDING, shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.changes(), request.POST)
        services.save_standing_choices(changes=changes, seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, STANDING, {**shown, "conflict": conflict}, status=409)
    except services.FactsRefused as refused:
        form.blame_faults(refused.faults)
        return fragment(request, STANDING, shown, status=422)
    return go(request, "catalogue:standing")


@office_only
@require_http_methods(["GET", "POST"])
def labour(request: HttpRequest) -> HttpResponse:
    rates, factors = list(LabourRate.objects.all()), list(LabourFactor.objects.all())
    form = LabourForm(request.POST if request.method == "POST" else None, rates=rates, factors=factors)
    if not form.is_valid():
        return fragment(request, LABOUR, {"form": form}, status=422 if form.is_bound else 200)
    try:
        services.save_labour(rates=form.typed(rates), factors=form.typed(factors), by=request.staff)
    except services.LabourChangedMeanwhile as conflict:
        form = LabourForm(form.seen_again(conflict), rates=rates, factors=factors)
        return fragment(request, LABOUR, {"form": form, "conflict": conflict}, status=409)
    return go(request, "catalogue:labour")


def _lists(data: Any, thing: JointRule | None) -> tuple[PartLines, PartLines]:
    """The parts of the joint and the parts of each bolt, two lists of lines."""
    kept: dict[bool, list[tuple[Item, Any]]] = {False: [], True: []}
    for part in thing.parts.all() if thing else ():
        kept[part.per_bolt].append((part.item, part.quantity))
    return part_lines(data, prefix="joint", given=kept[False]), part_lines(data, prefix="bolt", given=kept[True])


def _all_valid(form: JointRuleForm, lists: tuple[PartLines, PartLines]) -> bool:
    return all([form.is_valid(), *(lines.is_valid() for lines in lists)])


def _parts(lists: tuple[PartLines, PartLines]) -> list[PartLine]:
    joint, bolt = lists
    return [
        *(PartLine(item, quantity) for item, quantity in joint.lines()),
        *(PartLine(item, quantity, per_bolt=True) for item, quantity in bolt.lines()),
    ]


def _kept_parts(thing: JointRule) -> list[PartLine]:
    return [PartLine(part.item, part.quantity, part.per_bolt) for part in thing.parts.all()]


def _rule_page(
    request: HttpRequest, form: JointRuleForm, lists: tuple[PartLines, PartLines], *, status: int = 200, **more: Any
) -> HttpResponse:
    shown = {"form": form, "joint_lines": lists[0], "bolt_lines": lists[1], **more}
    return fragment(request, RULE, shown, status=status)


def _refused(
    request: HttpRequest, form: JointRuleForm, lists: Any, refused: services.FactsRefused, **more: Any
) -> HttpResponse:
    if "parts" in refused.faults:
        lists[0].refused = refused.faults["parts"]
    form.blame_faults(refused.faults)
    return _rule_page(request, form, lists, status=422, **more)
