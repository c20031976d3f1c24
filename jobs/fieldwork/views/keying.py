"""The page of a sheet: written on the lake, keyed in at the truck or at the desk."""

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from contractor.company.access import signed_in
from contractor.company.once import use_key
from contractor.htmx import fragment, go
from estimating.engine.reasons import SpecFaults
from jobs.fieldwork import services
from jobs.fieldwork.documents.blanks import blanks_of
from jobs.fieldwork.forms.defects import PhotoForm
from jobs.fieldwork.forms.keying import KeyInForm
from jobs.fieldwork.models import Source, WorkOrder

PAGE = "jobs/fieldwork/key_in.html"


@signed_in
@require_http_methods(["GET", "POST"])
def key_in(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    order = get_object_or_404(WorkOrder.objects.in_full(), number=number, letter=letter)
    try:
        work, worked = services.page_of(order)
    except SpecFaults as faults:
        return fragment(request, PAGE, {"order": order, "trouble": services.faults_said(faults)}, status=422)
    initial = {"source": Source.PAPER if request.staff.has_money else Source.PHONE}
    form = KeyInForm(request.POST or None, blanks=blanks_of(work), signer=request.staff.name, initial=initial)
    if not form.is_valid():
        shown = {"page": services.sheet_page(order, work, worked), "order": order, "form": form}
        shown["photo_form"] = PhotoForm()
        return fragment(request, PAGE, shown, status=422 if form.is_bound else 200)
    with transaction.atomic():
        if use_key(request.POST.get("once", "")):
            services.key_in(order, _keyed(form), work=work, by=request.staff)
    return go(request, f"{order.get_absolute_url()}?kept=1")


def _keyed(form: KeyInForm) -> services.Keyed:
    return services.Keyed(
        figures=form.figures(),
        words=form.words(),
        day=form.cleaned_data["day"],
        source=form.cleaned_data["source"],
    )
