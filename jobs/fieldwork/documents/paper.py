"""Sheets as PDF: one for each stage, or all of a job bound together, each counting its own pages."""

import io
from collections.abc import Sequence

import segno
from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm
from contractor.pdf import bind_pdf

from .lists import LoadList, PickList
from .sheet import Sheet

STAGE_TEMPLATE = "print/sheet_stage.html"
LISTS_TEMPLATE = "print/sheet_lists.html"
STYLES = ("css/print.css", "css/work-order.css")


def sheet_html(sheet: Sheet) -> str:
    return render_to_string(STAGE_TEMPLATE, {"sheet": sheet})


def sheets_pdf(sheets: Sequence[Sheet]) -> bytes:
    """The sheets on the firm's paper, in their order."""
    return _bound([sheet_html(sheet) for sheet in sheets])


def lists_pdf(load: LoadList, pick: PickList) -> bytes:
    """The load list and the pick list of a job."""
    return _bound([render_to_string(LISTS_TEMPLATE, {"load": load, "pick": pick, "printed_at": timezone.localtime()})])


def square_code(address: str) -> str:
    """The square code of an address, as an inline drawing that a phone finds from arm's length."""
    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        drawn, kind="svg", xmldecl=False, svgns=True, border=1, omitsize=True, svgclass="qr"
    )
    return drawn.getvalue().decode()


def _bound(pages: Sequence[str]) -> bytes:
    named = firm()
    return bind_pdf(pages, stylesheets=STYLES, page_size=named.paper if named else "letter")
