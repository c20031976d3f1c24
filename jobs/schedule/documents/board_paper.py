"""The two weeks on one sheet, lying on its side, to hang on the wall."""

from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm
from contractor.pdf import render_pdf

TEMPLATE = "jobs/schedule/board_paper.html"
STYLES = ("css/print.css", "css/schedule-paper.css")


def board_html(board: Any) -> str:
    """The chart as a page. `board` is what the board's service gathered."""
    return render_to_string(TEMPLATE, {"board": board, "firm": firm(), "printed_at": timezone.now()})


def board_pdf(board: Any) -> bytes:
    named = firm()
    return render_pdf(board_html(board), stylesheets=STYLES, page_size=named.paper if named else "letter")
