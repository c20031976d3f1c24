"""The firm's own page: one form to a block, each saved by itself."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company import forms, services
from contractor.company.access import office_only, signed_in
from contractor.company.documents import deposit_limit_said
from contractor.company.fields import field_to_echo
from contractor.company.flotation_form import FlotationForm
from contractor.company.load_cases_form import LoadCasesForm
from contractor.company.models import Company, LoadCase, PaymentStep, TaxRate
from contractor.company.mooring_form import MooringForm
from contractor.company.once import use_key
from contractor.company.range_form import RangeForm
from contractor.company.sawing_form import SawingForm
from contractor.company.versions import ChangedMeanwhile, settled
from contractor.csp import hand_out
from contractor.htmx import fragment, go

PAGE = "company/profile.html"


class Block:
    """One block of the page: its form, its words, and how its changes are kept."""

    def __init__(self, name: str, title: str, form: type, intro: str = "") -> None:
        self.name, self.title, self.form_class, self.intro = name, title, form, intro
        self.template = f"company/blocks/{name}.html"

    def form(self, company: Company, data: Any = None, files: Any = None) -> Any:
        if issubclass(self.form_class, forms.FirmModelForm):
            return self.form_class(data, files, instance=company, auto_id=f"{self.name}_%s")
        return self.form_class(data, files, auto_id=f"{self.name}_%s")


BLOCKS = [
    Block("facts", "Name and address", forms.FirmFactsForm),
    Block("logo", "Logo", forms.LogoForm),
    Block("measures", "Units, dates and paper", forms.MeasuresForm),
    Block("costs", "Labour, overhead and travel", forms.CostsForm),
    Block("price", "Margin and contingency", forms.PriceForm),
    Block("tax", "Tax", forms.TaxForm),
    Block("deposit", "Deposit", forms.DepositForm),
    Block("words", "Words on the quote", forms.WordsForm),
    Block("loads", "People and loads", forms.LoadsForm),
    Block("flotation", "Crowds, tilt and lifting", FlotationForm),
    Block("range", "Ramps and water under the floats", RangeForm),
    Block("mooring", "Anchors and chain", MooringForm),
    Block("sawing", "Sawing and offcuts", SawingForm),
]
BY_NAME = {block.name: block for block in BLOCKS}


@office_only
@require_GET
def profile(request: HttpRequest) -> HttpResponse:
    return _page(request)


@office_only
@require_POST
def save_block(request: HttpRequest, name: str) -> HttpResponse:
    if name not in BY_NAME:
        raise Http404
    block, company = BY_NAME[name], get_object_or_404(Company)
    form = block.form(company, request.POST, request.FILES)
    if not form.is_valid():
        return _block(request, block, form, status=422)
    try:
        services.save_company(
            company,
            seen_version=seen(request),
            changes=settled(form.changes(), request.POST),
            by=request.staff,
        )
    except ChangedMeanwhile as conflict:
        form.take_theirs(conflict)
        return _block(request, block, form, conflict=conflict, status=409)
    except ValidationError as refused:
        form.blame(refused)
        return _block(request, block, form, status=422)
    if request.htmx and block.form_class is not forms.MeasuresForm:
        others = [each.name for each in BLOCKS if each is not block] + ["payments", "cases"]
        return _block(request, block, block.form(Company.objects.get()), saved=True, others=others)
    return go(request, f"{reverse('company:profile')}#{name}")


@office_only
@require_POST
def save_payments(request: HttpRequest) -> HttpResponse:
    plan = forms.PaymentPlanForm(request.POST, prefix="pay")
    if not plan.is_valid():
        return _page(request, plan=plan, status=422)
    try:
        services.set_payment_plan(plan.steps(), seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, plan=plan, plan_conflict=conflict, status=409)
    except ValidationError as refused:
        return _page(request, plan=plan, plan_refused=refused.messages[0], status=422)
    return go(request, "company:profile")


@office_only
@require_POST
def save_cases(request: HttpRequest) -> HttpResponse:
    cases = LoadCasesForm(request.POST)
    if not cases.is_valid():
        return _page(request, cases=cases, status=422)
    try:
        services.set_load_cases(cases.cases(), seen_version=seen(request), by=request.staff)
    except ChangedMeanwhile as conflict:
        return _page(request, cases=cases, cases_conflict=conflict, status=409)
    return go(request, f"{reverse('company:profile')}#cases")


@office_only
@require_POST
def add_rate(request: HttpRequest) -> HttpResponse:
    form = forms.TaxRateForm(request.POST, auto_id="rate_%s")
    if not form.is_valid():
        return _page(request, rate_form=form, status=422)
    if not use_key(request.POST.get("once", "")):
        return go(request, "company:profile")
    try:
        services.add_tax_rate(**form.cleaned_data, by=request.staff)
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, rate_form=form, status=422)
    return go(request, "company:profile")


@office_only
@require_http_methods(["GET", "POST"])
def remove_rate(request: HttpRequest, rate_id: int) -> HttpResponse:
    rate = get_object_or_404(TaxRate, pk=rate_id)
    if request.method == "GET":
        return fragment(request, "company/remove_rate.html", {"rate": rate})
    services.remove_tax_rate(rate, by=request.staff)
    return go(request, "company:profile")


@signed_in
@require_GET
def logo(request: HttpRequest) -> FileResponse:
    return hand_out(get_object_or_404(Company).logo)


@signed_in
@require_GET
def echo(request: HttpRequest) -> HttpResponse:
    """What a typed length, weight, amount or day is understood to be, for below its box."""
    asked = request.GET
    field = field_to_echo(
        asked.get("kind", ""),
        unit=asked.get("unit", ""),
        places=asked.get("places", ""),
        unknown=asked.get("unknown", ""),
    )
    if field is None:
        raise Http404
    text = asked.get("text", asked.get(asked.get("of", ""), ""))
    return fragment(request, "components/echo.html", {"echo": field.echo_of(text[:80])})


def seen(request: HttpRequest, name: str = "version") -> int:
    """The version the form was filled from; 0, which is never current, if that is not a number."""
    typed = request.POST.get(name, "")
    return int(typed) if typed.isdecimal() else 0


def _block(request: HttpRequest, block: Block, form: Any, *, status: int = 200, **more: Any) -> HttpResponse:
    company = Company.objects.get()
    if not request.htmx:
        return _page(request, block=block, form=form, status=status, **more)
    shown = {
        "part": block,
        "form": form,
        "company": company,
        "deposit_limit": deposit_limit_said(company),
        **more,
    }
    return fragment(request, f"{PAGE}#block", shown, status=status)


def _page(request: HttpRequest, *, block: Block | None = None, form: Any = None, status: int = 200, **more: Any):
    company = get_object_or_404(Company)
    steps = [{"trigger": step.trigger, "percent": step.percent} for step in PaymentStep.objects.all()]
    shown = {
        "company": company,
        "parts": [(each, form if each is block else each.form(company)) for each in BLOCKS],
        "troubled": block,
        "deposit_limit": deposit_limit_said(company),
        "cases": LoadCasesForm(kept=LoadCase.objects.all()),
        "plan": forms.PaymentPlanForm(prefix="pay", initial=steps),
        "rates": TaxRate.objects.all(),
        "rates_now": TaxRate.objects.in_force(timezone.localdate()),
        "rate_form": forms.TaxRateForm(auto_id="rate_%s"),
        **more,
    }
    return fragment(request, PAGE, shown, status=status)
