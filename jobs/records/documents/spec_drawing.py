"""The drawing on paper: title block, plan and side elevation to a standard scale, what the levels are."""

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.pdf import render_pdf
from estimating.engine.design import design
from estimating.engine.drawing import Sheet, draw
from estimating.engine.spec import DockSpec
from jobs.records.documents.spec_results import Books, speak
from jobs.records.models import SpecRevision

TEMPLATE = "jobs/records/spec_drawing.html"
STYLES = ("css/print.css", "css/spec-drawing.css")
# CSS px inside the frame of a sheet lying on its side, by paper
ROOM = {"letter": (930.0, 540.0), "a4": (996.0, 520.0)}


def drawing_pdf(revision: SpecRevision, spec: DockSpec, books: Books) -> bytes:
    """The revision's drawing as a PDF. Raises SpecFaults when the spec cannot be laid out."""
    named = firm()
    paper = named.paper if named else "letter"
    width, height = ROOM[paper]
    laid_out = design(spec, books.catalogue, books.rules)
    sheet = Sheet(width, speak, style="paper", prefix="drawing", metric=units() == "metric", max_height_px=height)
    shown = {
        "revision": revision,
        "job": revision.job,
        "spec": spec,
        "design": laid_out,
        "drawing": draw(laid_out, sheet),
        "firm": named,
        "printed": timezone.now(),
    }
    return render_pdf(render_to_string(TEMPLATE, shown), stylesheets=STYLES, page_size=paper)
