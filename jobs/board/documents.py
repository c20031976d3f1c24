"""The board as a sheet for the wall: one page, as large as the number of jobs allows."""

from datetime import date

from django.template.loader import render_to_string

from contractor.company.current import firm
from contractor.pdf import render_pdf
from jobs.board.facts import Board

TEMPLATE = "print/board/waiting.html"
STYLES = ("css/print.css", "css/board-paper.css")
# So many jobs fit one page in this size of type; more than the last go over to a second page.
SIZES = ((11, "large"), (18, "middle"), (30, "small"))


def board_paper(board: Board, *, on: date) -> bytes:
    """The PDF, on the firm's paper."""
    named = firm()
    rows = sum(len(group.rows) for group in board.groups)
    size = next((name for most, name in SIZES if rows <= most), SIZES[-1][1])
    html = render_to_string(TEMPLATE, {"board": board, "on": on, "firm": named, "size": size})
    return render_pdf(html, stylesheets=STYLES, page_size=named.paper if named else "letter")
