"""The home page, and the same on one sheet of paper."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from contractor.htmx import fragment
from jobs.board.documents import board_paper
from jobs.board.kept import kept
from jobs.board.services import FILTERS, board_on
from jobs.board.standings import Standings
from jobs.board.written import written

_KNOWN = Standings()  # of this process


@signed_in
@require_GET
def waiting(request: HttpRequest) -> HttpResponse:
    today, asked, sees_money = timezone.localdate(), request.GET, request.staff.has_money
    show = asked.get("show", "") if asked.get("show") in FILTERS else ""
    page = int(asked["page"][:6]) if asked.get("page", "").isdecimal() else 1
    every_date = asked.get("dates") == "all"

    def write() -> str:
        board = board_on(today, show=show, page=page, known=_KNOWN)
        return written(board, {"today": today, "every_date": every_date}, may_act=sees_money)

    inner = kept((show, page, every_date, sees_money), write, on=today)
    return fragment(request, "jobs/board/waiting.html", {"inner": mark_safe(inner)})


@signed_in
@require_GET
def paper(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    pdf = board_paper(board_on(today, per_page=None), on=today)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = 'inline; filename="waiting-for.pdf"'
    return answer
