"""The anchors on one day: the level, and each anchor's depth and chain then, with room to write what was laid."""

from dataclasses import dataclass
from datetime import date

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.pdf import render_pdf
from estimating.engine.drawing import trims
from estimating.engine.drawing.permit_sheet import PermitSheet
from estimating.engine.drawing.profile import DayLevel, profile
from estimating.engine.drawing.site_plan import Bounds, site_plan
from estimating.engine.mooring.table import AnchorRow, anchor_table
from estimating.engine.pipeline import estimate
from estimating.engine.result import PlacedAnchor
from estimating.engine.spec import DockSpec
from jobs.records.documents.spec_results import Books, speak
from jobs.records.models import SpecRevision
from jobs.records.models.saying import day_said

TEMPLATE = "print/permit_anchors.html"
STYLES = ("css/print.css", "css/permit-anchors.css")
ROOM = (690.0, 300.0)
SIDE_ROOM = (690.0, 190.0)


@dataclass(frozen=True, slots=True)
class AnchorDay:
    """A day, the level then and how it is known, and what is against it: what is said, and who kept it."""

    day: date
    level_in: float | None
    words: str
    against: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One anchor on the sheet."""

    row: AnchorRow
    weight: str
    chain: str
    slack: str
    out_in: float
    aside_in: float
    side: str


def anchor_day_pdf(revision: SpecRevision, spec: DockSpec, books: Books, on: AnchorDay) -> bytes:
    """The sheet as a PDF on the firm's paper. Raises SpecFaults when the dock cannot be worked out."""
    named = firm()
    worked = estimate(spec, books.catalogue, books.rules)
    design, metric = worked.design, units() == "metric"
    rows = anchor_table(design, worked.mooring, on.level_in)
    day = DayLevel(day_said(on.day, short=True), on.level_in) if on.level_in is not None else None
    plan = PermitSheet(speak, metric, *ROOM, "plan")
    side = PermitSheet(speak, metric, *SIDE_ROOM, "side")
    lying = trims(worked.afloat.case("dead_wet"))
    shown = {
        "revision": revision,
        "job": revision.job,
        "firm": named,
        "on": on,
        "design": design,
        "printed": timezone.now(),
        "plan": site_plan(design, Bounds(), plan),
        "side": profile(design, side, day=day, trims=lying),
        "lines": [_line(row, placed, books) for row, placed in zip(rows, design.anchors, strict=True)],
    }
    return render_pdf(
        render_to_string(TEMPLATE, shown), stylesheets=STYLES, page_size=named.paper if named else "letter"
    )


def _line(row: AnchorRow, placed: PlacedAnchor, books: Books) -> Line:
    goods = books.catalogue.goods
    return Line(
        row=row,
        weight=goods[placed.item].name,
        chain=goods[placed.chain].name,
        slack=row.slack.say(speak),
        out_in=row.aside_x_in,
        aside_in=abs(row.aside_y_in),
        side="left" if row.aside_y_in >= 0 else "right",
    )
