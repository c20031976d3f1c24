"""The cut list of a job, alone or sawn together with others."""

from typing import Any

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from contractor.company.access import office_only, signed_in
from contractor.company.current import firm
from contractor.company.models import Company
from contractor.company.once import use_key
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.records.models import Job
from jobs.supply.documents.cut_list import CutPage, Head, cut_list, cut_list_pdf
from jobs.supply.forms.fields import ShelfField
from jobs.supply.forms.sawing import SawnForm, posted_lines
from jobs.supply.services import NotOnHand
from jobs.supply.services.buying import NotSigned, buy_together, together
from jobs.supply.services.cutting import CutWork, NothingToCut, cut_work, sawn_together
from jobs.supply.services.sawing import as_planned, enter_sawing

PAGE, SAWN, BUY = "jobs/supply/cut_list.html", "jobs/supply/sawn.html", "jobs/supply/buy.html"


@signed_in
@require_GET
def page(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    others = sawn_together(job)
    chosen = [other for other in others if other.number in request.GET.getlist("with")]
    shown: dict[str, Any] = {"job": job, "others": others, "chosen": chosen, "money_visible": request.staff.has_money}
    try:
        work = cut_work([job, *chosen], on=timezone.localdate())
    except (NothingToCut, SpecFaults) as trouble:
        return fragment(request, PAGE, {**shown, "trouble": trouble})
    return fragment(request, f"{PAGE}#list", {**shown, "work": work, "pages": _pages(work), "query": _query(chosen)})


@signed_in
@require_GET
def pdf(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    chosen = [other for other in sawn_together(job) if other.number in request.GET.getlist("with")]
    try:
        work = cut_work([job, *chosen], on=timezone.localdate())
    except (NothingToCut, SpecFaults) as trouble:
        raise Http404 from trouble
    head = Head(
        jobs=tuple(one.job for one in work.jobs),
        letter=", ".join(dict.fromkeys(one.letter for one in work.jobs)),
        sold=all(one.sold for one in work.jobs),
        at=timezone.localtime(),
        kerf_in=(firm() or Company()).kerf_in,
    )
    response = HttpResponse(cut_list_pdf(_pages(work), head), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="cut-list-{job.number}.pdf"'
    return response


@office_only
@require_http_methods(["GET", "POST"])
def buy(request: HttpRequest, number: str) -> HttpResponse:
    """The cheapest sticks for signed jobs together: first what that changes in their goods, then the change."""
    job = get_object_or_404(Job.objects.in_full(), number=number)
    others = [other for other in sawn_together(job) if other.number in request.GET.getlist("with")]
    jobs, day = [job, *others], timezone.localdate()
    try:
        found = together(jobs, on=day)
        if request.method == "POST" and found.whole:
            buy_together(jobs, on=day, by=request.staff)
            return go(request, "supply:goods", job.number)
    except (NotSigned, NothingToCut, SpecFaults) as trouble:
        raise Http404 from trouble
    shown = {"job": job, "found": found, "pages": _pages(found.work), "query": _query(others)}
    return fragment(request, BUY, shown, status=422 if request.method == "POST" else 200)


@office_only
@require_http_methods(["GET", "POST"])
def sawn(request: HttpRequest, number: str) -> HttpResponse:
    """The sticks are cut: what of the offcuts was taken, and what goes back."""
    job = get_object_or_404(Job.objects.in_full(), number=number)
    if request.method == "POST":
        lines = posted_lines(request.POST.getlist("line"))
    else:
        chosen = [other for other in sawn_together(job) if other.number in request.GET.getlist("with")]
        try:
            lines = as_planned(cut_work([job, *chosen], on=timezone.localdate()))
        except (NothingToCut, SpecFaults) as trouble:
            raise Http404 from trouble
    form = SawnForm(request.POST or None, lines=lines)
    shown = {"job": job, "form": form, "shelves": ShelfField.names()}
    if not (form.is_bound and form.is_valid()):
        return fragment(request, SAWN, shown, status=422 if form.is_bound else 200)
    try:
        with transaction.atomic():
            if use_key(request.POST.get("once", "")):
                enter_sawing(job, lines=form.sawn(), shelf=form.cleaned_data["shelf"], by=request.staff)
    except NotOnHand as short:
        form.add_error(None, short.sentence)
        return fragment(request, SAWN, shown, status=422)
    return go(request, "supply:yard")


def _pages(work: CutWork) -> list[CutPage]:
    pooled = len(work.jobs) > 1
    return [cut_list(one.name, one.plan, pooled=pooled, whole=one.whole) for one in work.items]


def _query(chosen: list[Job]) -> str:
    return "&".join(f"with={other.number}" for other in chosen)
