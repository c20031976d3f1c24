"""The blank site sheet, to print before a visit."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from jobs.records.documents.site_sheet import site_sheet_html
from jobs.records.documents.site_sheet import site_sheet_pdf as print_sheet
from jobs.records.models import Job


@signed_in
@require_GET
def site_sheet(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    return HttpResponse(site_sheet_html(job, on_screen=True))


@signed_in
@require_GET
def site_sheet_pdf(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    return _pdf(print_sheet(job), f"site-sheet-{job.number}.pdf")


@signed_in
@require_GET
def blank_sheet_pdf(request: HttpRequest) -> HttpResponse:
    return _pdf(print_sheet(None), "site-sheet.pdf")


def _pdf(pdf: bytes, name: str) -> HttpResponse:
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response
