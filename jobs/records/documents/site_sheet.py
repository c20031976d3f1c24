"""The blank site sheet: what to measure on a wet day, in the order in which it is keyed in."""

from dataclasses import dataclass

from django.template.loader import render_to_string
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.pdf import render_pdf
from jobs.records.models import Job

TEMPLATE = "jobs/records/site_sheet.html"
STYLES = ("css/print.css", "css/site-sheet.css")
DEPTH_ROWS, READING_ROWS = 8, 2


@dataclass(frozen=True, slots=True)
class Box:
    """A blank to write in: its label, how wide of twelve, and words to ring instead of writing."""

    label: str
    width: int = 3
    ring: tuple[str, ...] = ()


BOTTOMS = ("sand", "gravel", "mud", "clay", "ledge", "boulders", "weed", "U")
YES_NO = ("yes", "no", "U")
PARTS: tuple[tuple[str, tuple[Box, ...]], ...] = (
    (
        "Where it is",
        (
            Box("Lake, river or bay", 6),
            Box("Kind of water", 6, ("lake", "pond", "reservoir", "river", "tidal", "sea", "U")),
            Box("Lot or road", 6),
            Box("Who owns the shore", 3),
            Box("Existing dock, stays?", 3),
        ),
    ),
    (
        "Lines and neighbours, looking at the water",
        (
            Box("Frontage"),
            Box("To the left line"),
            Box("To the right line"),
            Box("Channel, swimmers"),
            Box("Intakes, cables, septic, wells", 12),
        ),
    ),
    (
        "Getting there by land",
        (
            Box("Road, where a trailer turns, where to unload", 12),
            Box("Narrowest gate"),
            Box("Steps", 2),
            Box("Carry by hand", 3),
            Box("Overhead wires", 2, YES_NO),
            Box("Island", 2, YES_NO),
        ),
    ),
    (
        "Getting there by water",
        (
            Box("Launch place", 4),
            Box("Stops working below", 3),
            Box("Tow"),
            Box("Barge", 2, YES_NO),
        ),
    ),
    (
        "Shore and bottom",
        (
            Box("Shore", 6, ("slope", "beach", "ledge", "wall", "fixed dock", "U")),
            Box("Bank above normal water"),
            Box("Hinge or fixed dock top"),
            Box("Bottom", 12, BOTTOMS),
        ),
    ),
    (
        "Wind, wakes, current, ice",
        (
            Box("Open water, the longest way", 4),
            Box("Open towards", 2),
            Box("Boat wakes", 4, ("low", "medium", "high", "U")),
            Box("Current", 2),
            Box("Water", 4, ("fresh", "brackish", "salt", "U")),
            Box("Ice", 4, ("none", "light", "heavy", "moving", "U")),
            Box("Power at the dock", 4, YES_NO),
        ),
    ),
)


def site_sheet_html(job: Job | None, *, on_screen: bool = False) -> str:
    """The sheet as a page: headed by a job, or with nothing but blanks. Never carries a gate code."""
    metric = units() == "metric"
    context = {
        "job": job,
        "firm": firm(),
        "printed_at": timezone.now(),
        "stylesheets": STYLES if on_screen else (),
        "parts": PARTS,
        "depth_rows": range(DEPTH_ROWS),
        "reading_rows": range(READING_ROWS),
        "bottoms": BOTTOMS,
        "length_unit": "m" if metric else "ft and in",
        "level_unit": "m" if metric else "ft, tenths",
    }
    return render_to_string(TEMPLATE, context)


def site_sheet_pdf(job: Job | None) -> bytes:
    """The sheet on the firm's paper."""
    named = firm()
    paper = named.paper if named else "letter"
    return render_pdf(site_sheet_html(job), stylesheets=STYLES, page_size=paper)
