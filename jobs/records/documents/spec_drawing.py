"""The drawing on paper: title block, plan and side elevation to a standard scale, what the levels are."""

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.pdf import render_pdf
from estimating.engine.drawing import Sheet, draw, trims
from estimating.engine.pipeline import estimate
from estimating.engine.spec import DockSpec
from jobs.records.documents.spec_results import Books, speak
from jobs.records.models import SpecRevision

TEMPLATE = "jobs/records/spec_drawing.html"
STYLES = ("css/print.css", "css/spec-drawing.css")
# CSS px inside the frame of a sheet lying on its side, by paper
ROOM = {"letter": (930.0, 540.0), "a4": (996.0, 520.0)}


def drawing_pdf(revision: SpecRevision, spec: DockSpec, books: Books) -> bytes:
    """The revision's drawing as a PDF, at the trim the wet dock has. Raises SpecFaults when it cannot be worked out."""
    named = firm()
    paper = named.paper if named else "letter"
    width, height = ROOM[paper]
    worked = estimate(spec, books.catalogue, books.rules)
    how = {"metric": units() == "metric", "trims": trims(worked.afloat.case("dead_wet"))}
    sheet = Sheet(width, speak, style="paper", prefix="drawing", max_height_px=height, **how)
    shown = {
        "revision": revision,
        "job": revision.job,
        "spec": spec,
        "design": worked.design,
        "drawing": draw(worked.design, sheet),
        "firm": named,
        "printed": timezone.now(),
    }
    return render_pdf(render_to_string(TEMPLATE, shown), stylesheets=STYLES, page_size=paper)
