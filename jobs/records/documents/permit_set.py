"""The sketch set for an authority: plan, side elevation, section and notes, each on a sheet with its title block."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.pdf import PageSize, render_pdf
from estimating.engine.drawing import trims
from estimating.engine.drawing.cross_section import cross_section
from estimating.engine.drawing.dxf import DxfSheet, dxf_drawing
from estimating.engine.drawing.permit_sheet import Drawn, PermitSheet
from estimating.engine.drawing.profile import DayLevel, profile
from estimating.engine.drawing.site_plan import Bounds, site_plan
from estimating.engine.pipeline import estimate
from estimating.engine.result import Design, PlacedAnchor
from estimating.engine.spec import DockSpec
from estimating.quotes.documents.words import inclusion_lines, scope_words
from jobs.records.documents.spec_results import Books, speak
from jobs.records.models import Job, SpecRevision
from jobs.records.models.held_to import limits_of, lines_of, verdicts_on
from jobs.records.models.saying import day_said, windows_said

TEMPLATE = "print/permit_set.html"
STYLES = ("css/print.css", "css/permit.css")
PAPERS: tuple[PageSize, ...] = ("letter", "a4")
# CSS px inside the frame of a sheet lying on its side, by paper
ROOM = {"letter": (930.0, 530.0), "a4": (996.0, 508.0)}
SECTION_ROOM = {"letter": (520.0, 300.0), "a4": (540.0, 290.0)}


@dataclass(frozen=True, slots=True)
class AnchorLine:
    """One anchor for the notes: where it lies from its corner, how deep, on how much chain."""

    mark: str
    what: str
    out_in: float
    aside_in: float
    side: str
    depth_in: float | None
    chain_in: float


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """One sheet of the set."""

    name: str
    drawing: Drawn
    caption: str


def bounds_of(job: Job) -> Bounds:
    """The side lines of the site, and the greatest setback anybody asks."""
    asked = [one.least_setback_in for one in limits_of(job) if one.least_setback_in is not None]
    return Bounds(lines_of(job.site), max(asked, default=None))


def permit_set_html(
    revision: SpecRevision, spec: DockSpec, books: Books, *, paper: PageSize, day: DayLevel | None = None
) -> str:
    """The set as a page, at the trim the wet dock has. Raises SpecFaults when it cannot be worked out."""
    job, worked = revision.job, estimate(spec, books.catalogue, books.rules)
    design, metric = worked.design, units() == "metric"
    width, height = ROOM[paper]

    def sheet(prefix: str, room: tuple[float, float] = (width, height)) -> PermitSheet:
        return PermitSheet(speak, metric, *room, prefix)

    lying = trims(worked.afloat.case("dead_wet"))
    shown: dict[str, Any] = {
        "revision": revision,
        "job": job,
        "firm": firm(),
        "design": design,
        "printed": timezone.now(),
        "sheets": (
            DrawnSheet("Plan", site_plan(design, bounds_of(job), sheet("plan")), PLAN_CAPTION),
            DrawnSheet("Side elevation", profile(design, sheet("side"), day=day, trims=lying), SIDE_CAPTION),
        ),
        "section": cross_section(design, sheet("section", SECTION_ROOM[paper])),
        "anchors": [_anchor(anchor, books) for anchor in design.anchors],
        "levels": _levels(design, day),
        "notes": [scope_words(design), *inclusion_lines(design, books.catalogue)[:-1]],
        "verdicts": verdicts_on(design, job),
        "windows": windows_said(_windows(job)),
    }
    return render_to_string(TEMPLATE, shown)


PLAN_CAPTION = (
    "Shore to the left, water to the right. Dashed in sections: floats. Side lines are drawn square to the shore, "
    "measured from the middle of the landing. Anchors and chains lie where drawn."
)
SIDE_CAPTION = (
    "At normal water, wet, nobody aboard, chains as they hang with nothing pulling. Dashed bottom: carried on from the "
    "last depth measured."
)


def permit_set_pdf(
    revision: SpecRevision, spec: DockSpec, books: Books, *, paper: PageSize | None = None, day: DayLevel | None = None
) -> bytes:
    """The set as a PDF on the firm's paper, or on the one asked for."""
    named = firm()
    chosen = paper or (named.paper if named else "letter")
    html = permit_set_html(revision, spec, books, paper=chosen, day=day)
    return render_pdf(html, stylesheets=STYLES, page_size=chosen)


def dxf_of(revision: SpecRevision, spec: DockSpec, books: Books, *, day: DayLevel | None = None) -> str:
    """Plan and elevation for another drawing program."""
    worked = estimate(spec, books.catalogue, books.rules)
    title = f"Job {revision.job.number}, spec {revision.letter}, {revision.job.site}"
    return dxf_drawing(worked.design, bounds_of(revision.job), DxfSheet(speak, units() == "metric", title, day))


def day_level(day: date | None, level_in: float | None) -> DayLevel | None:
    """A day whose level is known, for the elevation."""
    if day is None or level_in is None:
        return None
    return DayLevel(day_said(day, short=True), level_in)


def _anchor(anchor: PlacedAnchor, books: Books) -> AnchorLine:
    out, aside = anchor.x_in - anchor.corner_x_in, anchor.y_in - anchor.corner_y_in
    name = books.catalogue.goods[anchor.item].name
    side = "left" if aside >= 0 else "right"
    return AnchorLine(anchor.mark, name, out, abs(aside), side, anchor.depth_in, anchor.chain_length_in)


def _levels(design: Design, day: DayLevel | None) -> list[tuple[str, float]]:
    water = design.spec.place.water
    named = [("Storm", water.storm_in), ("High", water.high_in), ("Normal", water.normal_in), ("Low", water.low_in)]
    if day is not None:
        named.append((day.words, day.level_in))
    return sorted(((name, level) for name, level in named if level is not None), key=lambda one: -one[1])


def _windows(job: Job) -> list[Any]:
    permits = [permit for permit in job.permits.all() if permit.needed]
    return [*job.site.work_windows.all(), *(one for permit in permits for one in permit.work_windows.all())]
