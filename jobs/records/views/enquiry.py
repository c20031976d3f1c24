"""A first call, written down on one page."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from contractor.company.access import office_only
from contractor.company.once import address_of, remember_address, use_key
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.forms.jobs import EnquiryForm
from jobs.records.models import Site

PAGE = "jobs/records/new.html"


@office_only
@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    form = EnquiryForm(request.POST or None, initial={"called_on": timezone.localdate()})
    if not form.is_valid():
        return _page(request, form, status=422 if form.is_bound else 200)
    key = request.POST.get("once", "")
    try:
        with transaction.atomic():
            if not use_key(key):
                return go(request, address_of(key) or "records:jobs")
            job = services.take_enquiry(**form.enquiry(), by=request.staff, on=timezone.localdate())
            remember_address(key, job.get_absolute_url())
    except ValidationError as refused:
        form.blame(refused)
        return _page(request, form, status=422)
    return go(request, job)


@office_only
@require_GET
def known(request: HttpRequest, what: str) -> HttpResponse:
    """The clients or sites we know that look like what is being typed."""
    if what not in ("clients", "sites"):
        raise Http404
    form = EnquiryForm(initial=request.GET.dict())
    return fragment(request, f"{PAGE}#{what}", {"form": form, "waters": _waters()})


def _page(request: HttpRequest, form: EnquiryForm, *, status: int) -> HttpResponse:
    return fragment(request, PAGE, {"form": form, "waters": _waters()}, status=status)


def _waters() -> list[str]:
    return list(Site.objects.waters())
