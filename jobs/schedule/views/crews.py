"""Crews and their people, days away, skills, boats, and each crew's calendar address."""

from collections.abc import Callable
from typing import Any

from django.core.exceptions import PermissionDenied, ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go
from jobs.schedule import services
from jobs.schedule.forms.crews import AbsenceForm, CrewForm, EquipmentForm, MemberForm, RepairForm, SkillForm
from jobs.schedule.models import Absence, Crew, CrewMember, Equipment, Skill

LIST, PAGE = "jobs/schedule/crews.html", "jobs/schedule/crew.html"
MAKES: dict[str, type] = {"crew": CrewForm, "absence": AbsenceForm, "skill": SkillForm, "equipment": EquipmentForm}


@signed_in
@require_http_methods(["GET", "POST"])
def crews(request: HttpRequest) -> HttpResponse:
    if request.method == "GET":
        return _list(request)
    _office_only(request)
    what = request.POST.get("what", "")
    if what not in MAKES:
        return _list(request, status=422)
    form = MAKES[what](request.POST, prefix=what)
    if not form.is_valid() or not _made(request, form, lambda: _make(what, form, request)):
        return _list(request, status=422, **{f"{what}_form": form})
    return go(request, "schedule:crews")


@signed_in
@require_http_methods(["GET", "POST"])
def crew(request: HttpRequest, crew_id: int) -> HttpResponse:
    found = get_object_or_404(Crew, pk=crew_id)
    if request.method == "GET":
        return _crew(request, found)
    _office_only(request)
    if request.POST.get("what") == "member":
        form = MemberForm(request.POST, prefix="member")
        if not form.is_valid() or not _made(request, form, lambda: _join(found, form, request)):
            return _crew(request, found, status=422, member_form=form)
    elif request.POST.get("what") == "absence":
        form = AbsenceForm(request.POST, prefix="absence", crew=found)
        if not form.is_valid() or not _made(request, form, lambda: _away(form, request)):
            return _crew(request, found, status=422, absence_form=form)
    else:
        return _save(request, found)
    return go(request, found)


@office_only
@require_POST
def member(request: HttpRequest, member_id: int) -> HttpResponse:
    """Somebody leaves, or can do other things by now."""
    person = get_object_or_404(CrewMember.objects.select_related("crew"), pk=member_id)
    if request.POST.get("what") == "leave":
        services.let_member_go(person, by=request.staff)
    else:
        skills = tuple(Skill.objects.filter(pk__in=[one for one in request.POST.getlist("skills") if one.isdigit()]))
        services.set_skills(person, skills=skills, by=request.staff)
    return go(request, person.crew)


@office_only
@require_POST
def take_back(request: HttpRequest, absence_id: int) -> HttpResponse:
    found = get_object_or_404(Absence.objects.select_related("member__crew", "crew"), pk=absence_id)
    crew = found.crew or (found.member.crew if found.member else None)
    services.drop_absence(found, by=request.staff)
    return go(request, crew) if crew else go(request, "schedule:crews")


@office_only
@require_http_methods(["GET", "POST"])
def repair(request: HttpRequest, equipment_id: int) -> HttpResponse:
    """The days a boat or machine is out of use."""
    found = get_object_or_404(Equipment, pk=equipment_id)
    first = {"out_from": found.out_from, "out_until": found.out_until}
    form = RepairForm(request.POST or None, initial=first)
    shown = {"equipment": found, "form": form}
    if not (form.is_bound and form.is_valid()):
        return fragment(request, "jobs/schedule/repair.html", shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.cleaned_data, request.POST)
        services.save_equipment(found, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return fragment(request, "jobs/schedule/repair.html", {**shown, "conflict": conflict}, status=409)
    return go(request, "schedule:crews")


@office_only
@require_POST
def calendar(request: HttpRequest, crew_id: int) -> HttpResponse:
    """A new secret address, or none any more."""
    found = get_object_or_404(Crew, pk=crew_id)
    if request.POST.get("what") == "close":
        services.close_feed(found, by=request.staff)
    else:
        services.open_feed(found, by=request.staff)
    return go(request, f"{found.get_absolute_url()}#calendar")


def _office_only(request: HttpRequest) -> None:
    """The crew reads these pages; owner and office write on them."""
    if not request.staff.has_money:
        raise PermissionDenied


def _made(request: HttpRequest, form: Any, make: Callable[[], Any]) -> bool:
    """Make it once; a refusal goes to its field."""
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                make()
    except ValidationError as refused:
        form.blame(refused)
        return False
    return True


def _make(what: str, form: Any, request: HttpRequest) -> Any:
    given = form.cleaned_data
    if what == "crew":
        return services.form_crew(name=given["name"], by=request.staff)
    if what == "skill":
        return services.name_skill(name=given["name"], stages=given["stages"], by=request.staff)
    if what == "equipment":
        return services.add_equipment(facts=given, by=request.staff)
    return _away(form, request)


def _join(found: Crew, form: Any, request: HttpRequest) -> Any:
    given = form.cleaned_data
    facts = {"name": given["name"], "staff": given["staff"], "skills": tuple(given["skills"])}
    return services.add_member(found, **facts, by=request.staff)


def _away(form: Any, request: HttpRequest) -> Any:
    return services.note_absence(facts=form.facts(), by=request.staff)


def _save(request: HttpRequest, found: Crew) -> HttpResponse:
    form = CrewForm(request.POST, prefix="crew")
    if not form.is_valid():
        return _crew(request, found, status=422, crew_form=form)
    changes = {"name": form.cleaned_data["name"].strip(), "active": request.POST.get("laid_up") != "yes"}
    try:
        changes = settled(changes, request.POST)
        services.save_crew(found, seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        return _crew(request, found, status=409, crew_form=form, conflict=conflict)
    except ValidationError as refused:
        form.blame(refused)
        return _crew(request, found, status=422, crew_form=form)
    return go(request, found)


def _list(request: HttpRequest, *, status: int = 200, **typed: Any) -> HttpResponse:
    today = timezone.localdate()
    shown = {
        "crews": Crew.objects.prefetch_related("members__skills"),
        "skills": Skill.objects.all(),
        "equipment": Equipment.objects.all(),
        "absences": Absence.objects.filter(last_on__gte=today).select_related("member__crew", "crew"),
        "today": today,
        **{f"{what}_form": form(prefix=what) for what, form in MAKES.items()},
    }
    return fragment(request, LIST, {**shown, **typed}, status=status)


def _crew(request: HttpRequest, found: Crew, *, status: int = 200, **typed: Any) -> HttpResponse:
    today = timezone.localdate()
    people = found.members.filter(active=True).prefetch_related("skills")
    shown = {
        "crew": found,
        "people": people,
        "skills": Skill.objects.all(),
        "absences": Absence.objects.filter(last_on__gte=today, member__in=people).select_related("member")
        | Absence.objects.filter(last_on__gte=today, crew=found).select_related("member"),
        "stages": [one for one in services.days_of_crew(found, on=today) if not one.is_done],
        "feed": found.feeds.open().first() if request.staff.has_money else None,
        "crew_form": CrewForm(prefix="crew", initial={"name": found.name}),
        "member_form": MemberForm(prefix="member"),
        "absence_form": AbsenceForm(prefix="absence", crew=found),
    }
    shown |= {"feed_address": request.build_absolute_uri(shown["feed"].get_absolute_url()) if shown["feed"] else ""}
    return fragment(request, PAGE, {**shown, **typed}, status=status)
