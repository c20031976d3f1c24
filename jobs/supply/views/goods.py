"""A job's goods and holds: set aside, taken, given up, changed, put in place of others."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only, signed_in
from contractor.company.once import use_key
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.records.documents.spec_results import speak
from jobs.records.models import Job
from jobs.supply import services
from jobs.supply.forms.goods import HoldForm, InsteadForm, MoveForm, NeedForm, ReasonForm, TakeForm
from jobs.supply.models import Hold, Need
from jobs.supply.services.goods_page import goods_of
from jobs.supply.services.substituting import Substitution, consequences, substitute

GOODS, ACT, CHANGE, INSTEAD = (f"jobs/supply/{name}.html" for name in ("goods", "act", "change", "instead"))
ACTS = {
    "aside": ("Set aside", "What is set aside is spoken for: no other job takes it without saying why.", "Set aside"),
    "give-up": ("Give up", "They go back to the shelf, and this job waits for them again.", "Give them up"),
    "take": ("Take to the job", "They leave the yard with the crew.", "Take them"),
    "bring-back": ("Bring back", "They were not used, and are free for anybody again.", "Bring them back"),
    "cancel": ("Cancel", "The job needs this no more. What is set aside comes free.", "Cancel the need"),
    "from-another": ("Take another job’s", "That job waits for its goods again, and its page says why.", "Take them"),
}

REASONS = {"aside": "may", "give-up": "must", "take": "no", "bring-back": "may"}


@signed_in
@require_GET
def goods(request: HttpRequest, number: str) -> HttpResponse:
    job = _job(number)
    newest = job.spec_revisions.newest_first().first()
    return fragment(request, GOODS, {"page": goods_of(job), "job": job, "newest": newest})


@office_only
@require_POST
def reserve(request: HttpRequest, number: str) -> HttpResponse:
    """Set aside for this job whatever lies free for it."""
    job = _job(number)
    services.reserve_for(job, by=request.staff)
    return go(request, "supply:goods", job.number)


@office_only
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, number: str) -> HttpResponse:
    job = _job(number)
    form = NeedForm(request.POST or None, initial={"needed_by": timezone.localdate()})
    title, words = f"{job.client.filed_under} needs something more", "The takeoff did not foresee it."
    shown = {"form": form, "title": title, "words": words, "back": _address(job), "press": "It needs this"}

    def do() -> None:
        if use_key(request.POST.get("once", "")):
            stock = services.stock_of(form.cleaned_data["item"], form.cleaned_data["length_in"] or 0.0)
            services.add_need(job, stock=stock, facts=form.facts(), by=request.staff)

    return _answer(request, shown, do, job)


@office_only
@require_http_methods(["GET", "POST"])
def act(request: HttpRequest, need_id: int, what: str) -> HttpResponse:
    need = get_object_or_404(Need.objects.in_full(), pk=need_id)
    if what not in ACTS:
        raise Http404
    title, words, press = ACTS[what]
    form = _act_form(request, need, what)
    shown = {
        "form": form,
        "title": f"{title}: {need.stock} for {need.job.client.filed_under}",
        "words": words,
        "figures": _figures(need),
        "back": _address(need.job),
        "press": press,
    }
    return _answer(request, shown, lambda: _do(need, what, form.cleaned_data, by=request.staff), need.job)


def _figures(need: Need) -> tuple[tuple[str, Decimal], ...]:
    """What one decides by: how the need stands, and the yard."""
    return (
        ("Needed", need.quantity),
        ("Set aside", need.set_aside),
        ("With the crew", need.issued),
        ("Missing", need.missing),
        ("Free in the yard", need.stock.free),
    )


def _act_form(request: HttpRequest, need: Need, what: str) -> Any:
    typed = request.POST or None
    if what == "cancel":
        return ReasonForm(typed)
    if what == "from-another":
        return TakeForm(typed, to=need, initial={"quantity": need.missing})
    usual = {
        "aside": min(need.missing, need.stock.free),
        "give-up": need.set_aside,
        "take": need.set_aside,
        "bring-back": need.issued,
    }
    return MoveForm(typed, reason=REASONS[what], initial={"quantity": usual[what]})


def _do(need: Need, what: str, given: dict[str, Any], *, by: Any) -> None:
    how: dict[str, Callable[[], Any]] = {
        "aside": lambda: services.set_aside(need, quantity=given["quantity"], by=by, reason=given["reason"]),
        "give-up": lambda: services.give_up(need, quantity=given["quantity"], by=by, reason=given["reason"]),
        "take": lambda: services.issue_to_job(need, quantity=given["quantity"], by=by),
        "bring-back": lambda: services.return_from_job(
            need,
            quantity=given["quantity"],
            shelf=services.shelf_called(need.stock.item.shelf),
            by=by,
            reason=given["reason"],
        ),
        "cancel": lambda: services.cancel_need(need, reason=given["reason"], by=by),
        "from-another": lambda: services.take_from(
            given["giver"], to=need, quantity=given["quantity"], reason=given["reason"], by=by
        ),
    }
    how[what]()


@office_only
@require_http_methods(["GET", "POST"])
def change(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    """What a changed spec adds, cancels and returns; nothing moves until it is pressed."""
    job = _job(number)
    revision = get_object_or_404(job.spec_revisions, letter=letter)
    form = ReasonForm(request.POST or None)
    shown = {"job": job, "revision": revision, "form": form}
    try:
        found = services.difference_to(job, revision, on=timezone.localdate())
    except SpecFaults as refused:
        return fragment(request, CHANGE, {**shown, "faults": [fault.message.say(speak) for fault in refused.faults]})
    if not (form.is_bound and form.is_valid()):
        return fragment(request, CHANGE, {**shown, "found": found}, status=422 if form.is_bound else 200)
    services.apply_difference(job, found, by=request.staff, reason=form.cleaned_data["reason"])
    return go(request, "supply:goods", job.number)


@office_only
@require_http_methods(["GET", "POST"])
def instead(request: HttpRequest, need_id: int) -> HttpResponse:
    """Another thing in place of the drawn one: first what follows from it, then the decision."""
    need = get_object_or_404(Need.objects.in_full(), pk=need_id)
    form = InsteadForm(request.POST or None, need=need, offered=request.GET.get("item"))
    shown = {"need": need, "form": form}
    if not (form.is_bound and form.is_valid()):
        return fragment(request, INSTEAD, shown, status=422 if form.is_bound else 200)
    given = form.cleaned_data
    other = services.stock_of(given["item"], need.stock.length_in)
    if "decide" not in request.POST:
        told = consequences(need, instead=other, on=timezone.localdate())
        return fragment(request, INSTEAD, {**shown, "told": told, "other": other})
    try:
        facts = Substitution(given["quantity"], given["reason"], given["customer_agreed"])
        substitute(need, instead=other, facts=facts, by=request.staff)
    except ValidationError as refused:
        form.blame(refused)
        told = consequences(need, instead=other, on=timezone.localdate())
        return fragment(request, INSTEAD, {**shown, "told": told, "other": other}, status=422)
    return go(request, "supply:goods", need.job.number)


@office_only
@require_http_methods(["GET", "POST"])
def hold(request: HttpRequest, number: str) -> HttpResponse:
    job = _job(number)
    form = HoldForm(request.POST or None, initial={"since": timezone.localdate(), "who_acts": job.owner.name})
    title = f"What does {job.client.filed_under} wait for?"
    words = "For what no record says by itself: floats on order, permits and quotes are read from their own pages."
    shown = {"form": form, "title": title, "words": words, "back": _address(job), "press": "It waits for this"}

    def do() -> None:
        if use_key(request.POST.get("once", "")):
            services.set_hold(job, **form.cleaned_data, by=request.staff)

    return _answer(request, shown, do, job)


@office_only
@require_http_methods(["GET", "POST"])
def clear(request: HttpRequest, hold_id: int) -> HttpResponse:
    found = get_object_or_404(Hold.objects.select_related("job__client"), pk=hold_id)
    form = ReasonForm(request.POST or None)
    shown = {
        "form": form,
        "title": f"{found.job.client.filed_under} waits no more for {found.words}",
        "words": "It stays on record, with your reason.",
        "back": _address(found.job),
        "press": "Clear it",
    }

    def do() -> None:
        services.clear_hold(found, reason=form.cleaned_data["reason"], by=request.staff)

    return _answer(request, shown, do, found.job)


def _answer(request: HttpRequest, shown: dict[str, Any], do: Callable[[], Any], job: Job) -> HttpResponse:
    form = shown["form"]
    if not (form.is_bound and form.is_valid()):
        return fragment(request, ACT, shown, status=422 if form.is_bound else 200)
    try:
        do()
    except services.NotOnHand as short:
        form.add_error("quantity", short.sentence)
    except ValidationError as refused:
        form.blame(refused)
    if form.errors:
        return fragment(request, ACT, shown, status=422)
    return go(request, "supply:goods", job.number)


def _job(number: str) -> Job:
    return get_object_or_404(Job.objects.in_full(), number=number)


def _address(job: Job) -> str:
    return f"{job.get_absolute_url()}goods/"
