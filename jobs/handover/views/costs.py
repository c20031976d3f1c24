"""What a job was reckoned to take and what it took, for those who see money."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET

from contractor.company.access import office_only
from contractor.htmx import fragment
from jobs.handover.services import cost_of
from jobs.records.models import Job


@office_only
@require_GET
def cost(request: HttpRequest, number: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.in_full(), number=number)
    return fragment(request, "jobs/handover/cost.html", {"job": job, "cost": cost_of(job)})
