"""What of a dock each limit is held against, in exact fractions, with the place it was measured at."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from estimating.engine.outline import Box, box_of
from estimating.engine.reasons import Reason, Sentence
from estimating.engine.result import BoardRun, Design
from estimating.engine.water.grounding import grounding

from .exact import exact_in
from .limits import SideLines


@dataclass(frozen=True, slots=True)
class Measured:
    """One figure of the dock: exact, where it is that, and how it was taken."""

    exact: Fraction
    where: str
    reason: Reason

    @property
    def value(self) -> float:
        return float(self.exact)


Measure = Callable[[Design, SideLines], Measured | None]


def built_boxes(dock: Design) -> dict[str, Box]:
    """Every section in plan as built: its frame, and boards that reach over it."""
    runs = {run.section: run for run in dock.boards}
    return {section.mark: _with_boards(box_of(section), runs.get(section.mark)) for section in dock.spec.sections}


def _with_boards(box: Box, run: BoardRun | None) -> Box:
    if run is None or not run.overhang_in:
        return box
    return Box(min(box.x0, run.x0_in), min(box.y0, run.y0_in), max(box.x1, run.x1_in), max(box.y1, run.y1_in))


def width(dock: Design, lines: SideLines) -> Measured:
    """The widest section, across its own length, with what its boards reach over."""
    return _widest((mark, _width_of(dock, mark)) for mark in built_boxes(dock))


def walkway(dock: Design, lines: SideLines) -> Measured | None:
    """The ramp, and every section that leads on to another one further from the shore."""
    ways = [(f"section {mark}, which leads on,", _width_of(dock, mark)) for mark in _leading_on(dock)]
    if dock.ramp is not None:
        ways.append(("the ramp", exact_in(dock.ramp.width_in)))
    if not ways:
        return None
    where, widest = max(ways, key=lambda way: way[1])
    said = Sentence("The widest of the ramp and of the sections that lead on to others: {0}.", (where.rstrip(","),))
    return Measured(widest, where, Reason(said, "GEOMETRY"))


def area(dock: Design, lines: SideLines) -> Measured:
    """All the deck as built, the ramp left out."""
    boxes = built_boxes(dock).values()
    whole = sum((_span(box.x0, box.x1) * _span(box.y0, box.y1) for box in boxes), Fraction(0)) / 144
    return Measured(whole, "", Reason(Sentence("Length times width of every section, the ramp left out."), "GEOMETRY"))


def reach(dock: Design, lines: SideLines) -> Measured:
    """From the shore end of the ramp lying flat, or the shore itself, to the outermost edge of the dock."""
    shore = min(dock.ramp.shore_x_in, 0.0) if dock.ramp else 0.0
    far = max(built_boxes(dock).items(), key=lambda item: item[1].x1)
    said = "From the shore end of the ramp, lying flat, to the outermost edge."
    if dock.ramp is None:
        said = "From the shore to the outermost edge."
    return Measured(_span(shore, far[1].x1), f"section {far[0]}", Reason(Sentence(said), "GEOMETRY"))


def setback(dock: Design, lines: SideLines) -> Measured | None:
    """The lesser distance to a side line extended; None while a line is not known."""
    landing = landing_y_in(dock)
    left, right = lines.to_left_in, lines.to_right_in
    if left is None or right is None:
        return None
    boxes = [*built_boxes(dock).values(), *_ramp_box(dock)]
    gaps = (
        (exact_in(left) - _span(landing, max(box.y1 for box in boxes)), "the left line"),
        (exact_in(right) - _span(min(box.y0 for box in boxes), landing), "the right line"),
    )
    gap, where = min(gaps, key=lambda one: one[0])
    said = Sentence("From the outermost edge to {0} extended, square to the shore; lines from the landing.", (where,))
    return Measured(gap, where, Reason(said, "GEOMETRY"))


def clearance(dock: Design, lines: SideLines) -> Measured | None:
    """The least water under loaded floats at low water, where it was measured; None where nothing is known."""
    found = grounding(dock, level="low", level_in=dock.spec.place.water.low_in)
    least = found.least if found is not None and not found.unmeasured else None
    if least is None:
        return None
    said = Sentence("Depth at {0} at low water, less what the floats draw wet with the design load.", (least.place,))
    return Measured(exact_in(least.under_in), least.place, Reason(said, "GEOMETRY"))


def deck_open(dock: Design, lines: SideLines) -> Measured | None:
    """How much of the deck is gap between boards, in percent, the ramp left out."""
    decks = [run for run in dock.boards if run.section != "ramp" and run.edges_in]
    if not decks:
        return None
    whole = sum((_deck_sqin(run) for run in decks), Fraction(0))
    gaps = sum((_gap_share(run) * _deck_sqin(run) for run in decks), Fraction(0))
    said = Sentence("Gaps between boards over the whole deck. Openings in the boards themselves are not counted.")
    return Measured(gaps / whole * 100, "", Reason(said, "GEOMETRY"))


def landing_y_in(dock: Design) -> float:
    """Where along the shore the dock lands: the middle of the ramp's shore end, or of the dock."""
    if dock.ramp is not None:
        return dock.ramp.shore_y_in
    boxes = [box_of(section) for section in dock.spec.sections]
    return (min(box.y0 for box in boxes) + max(box.y1 for box in boxes)) / 2


MEASURES: dict[str, Measure] = {
    "most_width_in": width,
    "most_area_sqft": area,
    "most_reach_in": reach,
    "most_walkway_width_in": walkway,
    "least_setback_in": setback,
    "least_clearance_in": clearance,
    "least_deck_open_percent": deck_open,
}


def _widest(sections: Iterable[tuple[str, Fraction]]) -> Measured:
    mark, widest = max(sections, key=lambda one: one[1])
    said = Sentence("The widest section, {0}, across its own length, boards that reach over included.", (mark,))
    return Measured(widest, f"section {mark}", Reason(said, "GEOMETRY"))


def _width_of(dock: Design, mark: str) -> Fraction:
    section = next(one for one in dock.spec.sections if one.mark == mark)
    box = built_boxes(dock)[mark]
    return _span(box.x0, box.x1) if section.turned else _span(box.y0, box.y1)


def _leading_on(dock: Design) -> list[str]:
    """The sections one walks along to reach another: from the landing outwards, all but the last ones."""
    beside: dict[str, list[str]] = {section.mark: [] for section in dock.spec.sections}
    for edge in dock.edges:
        beside[edge.first].append(edge.second)
        beside[edge.second].append(edge.first)
    near = min(dock.spec.sections, key=lambda section: section.x_in).mark
    start = dock.ramp.section if dock.ramp else near
    seen, row, leading = {start}, [start], []
    while row:
        mark = row.pop(0)
        onward = [other for other in beside[mark] if other not in seen]
        if onward:
            leading.append(mark)
        seen.update(onward)
        row += onward
    return leading


def _ramp_box(dock: Design) -> list[Box]:
    ramp = dock.ramp
    if ramp is None:
        return []
    half = ramp.width_in / 2 if ramp.edge in ("shore", "lake") else 0.0
    ys = (ramp.dock_y_in, ramp.shore_y_in)
    return [Box(0.0, min(ys) - half, 0.0, max(ys) + half)]


def _span(low: float, high: float) -> Fraction:
    return exact_in(high) - exact_in(low)


def _deck_sqin(run: BoardRun) -> Fraction:
    return _span(run.x0_in, run.x1_in) * _span(run.y0_in, run.y1_in)


def _gap_share(run: BoardRun) -> Fraction:
    edges = sorted(run.edges_in)
    whole = _span(edges[0][0], edges[-1][1])
    boards = sum((_span(low, high) for low, high in edges), Fraction(0))
    return (whole - boards) / whole
