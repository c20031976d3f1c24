"""The firm's people and what they changed."""

from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods

from contractor.company import services
from contractor.company.access import office_only, owner_only
from contractor.company.forms import HireForm, NewPasswordForm, StaffForm
from contractor.company.models import ChangeLog, Staff
from contractor.company.once import is_used, use_key
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go

ENTRIES_ON_A_PAGE = 50


@owner_only
@require_GET
def staff(request: HttpRequest) -> HttpResponse:
    return fragment(request, "company/staff.html", {"people": Staff.objects.order_by("-active", "name")})


@owner_only
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def hire(request: HttpRequest) -> HttpResponse:
    if is_used(request.POST.get("once", "")):
        return go(request, "company:staff")
    form = HireForm(request.POST or None)
    if not form.is_valid():
        return fragment(request, "company/hire.html", {"form": form}, status=422 if form.is_bound else 200)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                services.hire(**form.cleaned_data, by=request.staff)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, "company/hire.html", {"form": form}, status=422)
    return go(request, "company:staff")


@owner_only
@require_http_methods(["GET", "POST"])
def person(request: HttpRequest, person_id: int) -> HttpResponse:
    somebody = get_object_or_404(Staff, pk=person_id)
    shown = {"person": get_object_or_404(Staff, pk=person_id)}
    form = shown["form"] = StaffForm(request.POST or None, instance=somebody)
    if not form.is_valid():
        return fragment(request, "company/person.html", shown, status=422 if form.is_bound else 200)
    try:
        changes = settled(form.changes(), request.POST)
        services.edit_staff(shown["person"], seen_version=seen(request), changes=changes, by=request.staff)
    except ChangedMeanwhile as conflict:
        form.take_theirs(conflict)
        return fragment(request, "company/person.html", {**shown, "conflict": conflict}, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, "company/person.html", shown, status=422)
    return go(request, "company:staff")


@owner_only
@sensitive_post_parameters("new")
@require_http_methods(["GET", "POST"])
def new_password(request: HttpRequest, person_id: int) -> HttpResponse:
    somebody = get_object_or_404(Staff, pk=person_id)
    form = NewPasswordForm(request.POST or None, person=somebody)
    shown = {"form": form, "person": somebody}
    if not form.is_valid():
        return fragment(request, "company/new_password.html", shown, status=422 if form.is_bound else 200)
    services.change_password(somebody, password=form.cleaned_data["new"], by=request.staff)
    return go(request, "company:staff")


@office_only
@require_GET
def log(request: HttpRequest) -> HttpResponse:
    pages = Paginator(ChangeLog.objects.newest_first(), ENTRIES_ON_A_PAGE)
    return fragment(request, "company/log.html", {"page": pages.get_page(request.GET.get("page"))})
