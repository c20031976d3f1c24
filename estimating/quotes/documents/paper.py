"""The customer's copy on paper: what it is on page one, what it costs and the signatures together, no cost anywhere."""

from collections.abc import Sequence
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe

from contractor.company import current
from contractor.company.models import Staff, Units
from contractor.pdf import render_pdf
from estimating.engine.drawing import Drawing, Sheet, draw

from . import fitting
from .crowd_picture import crowd_picture
from .customer_words import offered_groups, paper_words
from .layout import Copy, first_page, lay_out
from .letterhead import heading
from .levels import level_columns
from .promises import price_rows, tax_rows
from .speech import speak
from .worked import WorkedQuote

STYLESHEETS = ("css/print.css", "css/quote-paper.css")
FRAME_PX = 4
# The drawing keeps this much more air round itself while it looks for its scale than it then takes.
DRAWING_AIR_PX = 4


def customer_html(worked: WorkedQuote, *, changes: Sequence[str], by: Staff) -> str:
    """The customer's copy as a page for the press. No cost, hour, margin or reason is in its context."""
    return render_to_string("print/quotes/customer.html", _context(worked, changes=changes, by=by))


def customer_paper(worked: WorkedQuote, *, changes: Sequence[str], by: Staff) -> bytes:
    html = customer_html(worked, changes=changes, by=by)
    return render_pdf(html, stylesheets=STYLESHEETS, page_size=current.firm().paper)


def quote_drawing(worked: WorkedQuote, **wanted: Any) -> Drawing:
    """Plan and side elevation of the quoted dock; takes the fields of the engine's `Sheet` by name."""
    return draw(worked.estimate.design, Sheet(speak=speak, metric=current.units() == Units.METRIC, **wanted))


def _context(worked: WorkedQuote, *, changes: Sequence[str], by: Staff) -> dict[str, Any]:
    head, words, price = heading(worked, by=by), paper_words(worked), worked.estimate.price
    columns, room = level_columns(worked), fitting.sheet(current.firm().paper)
    copy = Copy(worked, head["head"], words, columns, changes)
    first = first_page(copy, room)
    drawing = quote_drawing(
        worked,
        width_px=room.width_px - FRAME_PX,
        style="paper",
        prefix="q",
        max_height_px=first.drawing_px + DRAWING_AIR_PX,
    )
    return {
        **head,
        **words,
        "layout": lay_out(copy, first, room, drawn_px=drawing.height_px),
        "drawing": mark_safe(drawing.svg),
        "scale_words": drawing.scale_words,
        "crowd": crowd_picture(worked, prefix="qc"),
        "changes": changes,
        "columns": columns,
        "has_ramp_words": any(column.ramp for column in columns),
        "has_depth_words": any(column.under for column in columns),
        "price_rows": price_rows(worked) + tax_rows(worked),
        "total": price.total,
        "currency": price.currency,
        "groups": offered_groups(worked),
        "payments": price.payments,
    }
