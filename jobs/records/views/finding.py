"""The one box that finds a job."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from contractor.htmx import fragment, go
from jobs.records import services
from jobs.records.services.finding import find_jobs

LONGEST_SEARCH = 80


@signed_in
@require_GET
def find(request: HttpRequest) -> HttpResponse:
    typed = request.GET.get("q", "")[:LONGEST_SEARCH].strip()
    found, today = find_jobs(typed), timezone.localdate()
    if found.exact:
        return go(request, found.exact)
    rows = [services.standing_of(job, on=today) for job in services.with_papers(found.jobs)]
    return fragment(request, "jobs/records/find.html", {"typed": typed, "rows": rows, "more": found.more})
