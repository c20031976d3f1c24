"""The home page."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from contractor.htmx import fragment
from jobs.board.services import board_on


@signed_in
@require_GET
def waiting(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    return fragment(request, "jobs/board/waiting.html", {"board": board_on(today), "today": today})
