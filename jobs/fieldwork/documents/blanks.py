"""What the crew writes on a sheet, in the order in which it is keyed in. Paper and page are made from these alone."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from contractor.company import current
from estimating.engine.drawing.frame_plan import diagonal_in
from estimating.engine.drawing.joint_card import pairs_of_mates

from .facts import Person, Work, cut, level, small, tolerance

SQUARE_IN = 0.25  # both diagonals, common practice
FREEBOARD_IN = 1.0  # common practice, no source: a hand's reading on moving water
CHAIN_IN = 6.0
DEPTH_IN = 24.0
OTHERS_HOURS, OTHERS_NAME = "hours.other", "hours.other_name"  # of whoever is in no crew
CORNER_WORDS = {
    "shore-right": "shore right",
    "lake-right": "lake right",
    "lake-left": "lake left",
    "shore-left": "shore left",
}


@dataclass(frozen=True, slots=True)
class Box:
    """One thing to write. kind is length, small, level, count, tick, words or hours; figures in engine units.

    Outside `least` to `most` it is a defect.
    """

    key: str
    label: str
    kind: str
    expected: float | None = None
    least: float | None = None
    most: float | None = None
    should: str = ""  # the target in words, as printed in the box
    person: Person | None = None


@dataclass(frozen=True, slots=True)
class Blank:
    """A numbered row of the sheet, which is a block of the page."""

    number: int
    title: str
    boxes: tuple[Box, ...]
    kind: str = "boxes"  # boxes, ticks, words, hours, sign, corners
    hint: str = ""
    place: str = ""


def blanks_of(work: Work) -> tuple[Blank, ...]:
    """The numbered blanks of a stage's sheet."""
    rows = [*BY_STAGE[work.stage](work), *_ending(work)]
    return tuple(
        Blank(number, row.title, row.boxes, row.kind, row.hint, row.place) for number, row in enumerate(rows, 1)
    )


def boxes_of(blanks: Iterable[Blank]) -> dict[str, Box]:
    """Every box by its key."""
    return {box.key: box for blank in blanks for box in blank.boxes}


def _diagonals(work: Work, when: str) -> Iterator[Blank]:
    for section in work.estimate.design.spec.sections:
        target = diagonal_in(section)
        boxes = tuple(
            Box(
                f"{section.mark}.diagonal_{n}",
                f"Diagonal {n}",
                "length",
                target,
                target - SQUARE_IN,
                target + SQUARE_IN,
                f"should be {cut(target)}",
            )
            for n in (1, 2)
        )
        hint = f"Each within {tolerance(SQUARE_IN)} of its figure and of the other."
        yield Blank(0, f"Section {section.mark}, {when}", boxes, hint=hint, place=section.mark)


def _layout(work: Work) -> Iterator[Blank]:
    yield from _diagonals(work, "diagonals")
    yield _ticks("marked", "All members marked", "Crowns up", "Mates marked across")


def _framing(work: Work) -> Iterator[Blank]:
    yield from _diagonals(work, "after bolting")
    design = work.estimate.design
    bolts = {s.mark: 0 for s in design.spec.sections}
    for joint in design.joints:
        if len(joint.sections) == 1 and joint.sections[0] in bolts and joint.place != "chain_retainer":
            bolts[joint.sections[0]] += joint.bolts
    boxes = tuple(
        Box(f"{mark}.bolts", f"Section {mark}", "count", count, should=f"of {count}") for mark, count in bolts.items()
    )
    between = sum(j.bolts for j in design.joints if j.place in ("hinged_joint", "rigid_joint", "ramp_dock_end"))
    if between:
        boxes = (*boxes, Box("joints.bolts", "Joints and ramp", "count", between, should=f"of {between}"))
    yield Blank(0, "Bolts in", boxes)
    mates = ", ".join(f"{a} faces {b}" for a, b in pairs_of_mates(design)[:4])
    ticks = ["Lock washer on every bolt", "Backers in"] + ([mates] if mates else [])
    yield _ticks("framing", *ticks)


def _flotation(work: Work) -> Iterator[Blank]:
    design = work.estimate.design
    for section in design.spec.sections:
        count = sum(f.section == section.mark for f in design.floats)
        boxes = (
            Box(f"{section.mark}.floats", "Floats on", "count", count, should=f"of {count}"),
            Box(f"{section.mark}.serials", "Serials or lot", "words"),
        )
        yield Blank(0, f"Section {section.mark}", boxes, place=section.mark)
    yield _ticks("floats", "Washer on every lag", "No float drilled", "Underside photographed")


def _launch(work: Work) -> Iterator[Blank]:
    yield _level_blank(work)
    yield _water_check()
    yield _ticks("launch", "No float taking water", "Joints pinned", "Tied up")


def _decking(work: Work) -> Iterator[Blank]:
    boards = [run for run in work.estimate.design.boards if run.section != "ramp"]
    boxes = tuple(
        Box(f"{run.section}.boards", f"Section {run.section}", "count", run.count, should=f"of {run.count}")
        for run in boards
    )
    yield Blank(0, "Boards laid", boxes)
    gaps = tuple(
        Box(f"{run.section}.gap", f"Section {run.section}", "small", run.gap_in, should=f"should be {cut(run.gap_in)}")
        for run in boards
    )
    yield Blank(0, "Gap as laid", gaps)
    yield _ticks("boards", "Crown up", "Joint boards come up again", "Screws below the surface")


def _anchoring(work: Work) -> Iterator[Blank]:
    yield _level_blank(work)
    yield _water_check()
    for row in anchor_rows(work):
        depth = row.depth_in
        boxes = (
            Box(
                f"anchor_{row.mark}.depth",
                "Depth",
                "level",
                depth,
                None if depth is None else depth - DEPTH_IN,
                None if depth is None else depth + DEPTH_IN,
                f"about {level(depth)}" if depth is not None else "",
            ),
            Box(
                f"anchor_{row.mark}.chain",
                "Chain laid",
                "length",
                row.chain_in,
                row.chain_in - CHAIN_IN,
                None,
                f"should be {cut(row.chain_in)}",
            ),
            Box(f"anchor_{row.mark}.spare", "Spare left", "length"),
        )
        hint = f"Depth within {cut(DEPTH_IN)} of the figure, chain at most {tolerance(CHAIN_IN)} short."
        yield Blank(0, f"Anchor {row.mark}", boxes, hint=hint, place=f"anchor {row.mark}")
    yield from _freeboards(work)
    yield _ticks("anchors", "Every chain slack", "Links seated and tied", "No line over a chain")


def _handover(work: Work) -> Iterator[Blank]:
    yield _level_blank(work)
    yield from _freeboards(work)
    aboard = Box("people", "People aboard", "count", should="nobody is best")
    yield Blank(0, "Aboard when measured", (aboard,))
    yield _ticks("told", "Walked with the customer", "Limits told and posted", "Ice told", "Care sheet given")
    yield Blank(0, "Customer", (Box("customer", "Customer’s name", "words"),), "words", place="customer")


def _freeboards(work: Work) -> Iterator[Blank]:
    for mark, corners in predicted(work).items():
        boxes = tuple(
            Box(
                f"{mark}.freeboard.{name}",
                CORNER_WORDS[name].capitalize(),
                "small",
                wet,
                min(wet, dry) - FREEBOARD_IN,
                max(wet, dry) + FREEBOARD_IN,
                expects(wet, dry),
            )
            for name, (wet, dry) in corners.items()
        )
        hint = f"Water to top of deck, nobody aboard. Lumber wet / seasoned, within {tolerance(FREEBOARD_IN)}."
        yield Blank(0, f"Freeboard, section {mark}", boxes, "corners", hint, mark)


def expects(wet_in: float, dry_in: float) -> str:
    """Both freeboards to expect, the unit once."""
    wet, dry = small(wet_in), small(dry_in)
    unit = dry.rpartition("\u00a0")[2]
    return wet if wet == dry else f"{wet.removesuffix(unit).rstrip()} / {dry}"


def predicted(work: Work) -> dict[str, dict[str, tuple[float, float]]]:
    """Freeboards of the dock alone by section and corner, lumber wet and seasoned; empty if it does not float."""
    afloat = work.estimate.afloat
    if afloat is None:
        return {}
    dry = {s.section: s.corners for s in afloat.case("dead_seasoned").sections}
    return {
        section.section: {
            wet.corner: (wet.freeboard_in, seasoned.freeboard_in)
            for wet, seasoned in zip(section.corners, dry.get(section.section, section.corners), strict=True)
        }
        for section in afloat.case("dead_wet").sections
    }


@dataclass(frozen=True, slots=True)
class AnchorLine:
    """One anchor on its day: weight, place from its corner, depth at that day's level, chain."""

    mark: str
    section: str
    item: str
    out_in: float
    aside_in: float
    depth_in: float | None
    depth_known: bool
    chain: str
    chain_in: float


def anchor_rows(work: Work) -> tuple[AnchorLine, ...]:
    """The anchors with their depth at the level of the day; at normal level where that day's is not known."""
    water = work.estimate.design.spec.place.water
    rise = 0.0
    if work.level_in is not None and water.normal_in is not None:
        rise = work.level_in - water.normal_in
    return tuple(
        AnchorLine(
            a.mark,
            a.section,
            a.item,
            a.x_in - a.corner_x_in,
            a.y_in - a.corner_y_in,
            max(a.counted_depth_in + rise, 0.0),
            a.depth_in is not None,
            a.chain,
            a.chain_length_in,
        )
        for a in work.estimate.design.anchors
    )


def _level_blank(work: Work) -> Blank:
    told = f"expected {level(work.level_in)}" if work.level_in is not None else ""
    boxes = (
        Box("level", "Level", "level", work.level_in, should=told),
        Box("level.how", "Read from", "words"),
        Box("level.time", "Time", "words"),
    )
    return Blank(0, "Water level now", boxes)


def _water_check() -> Blank:
    line = "90 ft" if current.units() == "imperial" else "27 m"
    boxes = (
        Box("water.jackets", "Life jackets on, looked over", "tick"),
        Box("water.ring", f"Ring buoy, {line} of line", "tick"),
        Box("water.boat", "Rescue boat at hand", "tick"),
        Box("water.boat_by", "Who runs it", "words"),
    )
    return Blank(0, "Before going on the water", boxes, "ticks")


def _ticks(key: str, *labels: str) -> Blank:
    boxes = tuple(Box(f"{key}.{n}", label, "tick") for n, label in enumerate(labels, 1))
    return Blank(0, "Checks", boxes, "ticks")


def _ending(work: Work) -> Iterator[Blank]:
    yield Blank(0, "Not done", (Box("not_done", "Not done", "words"),), "words")
    yield Blank(0, "Ran out or short", (Box("ran_out", "Ran out or short", "words"),), "words")
    yield Blank(0, "Not right", (Box("defect", "Not right, and where", "words"),), "words")
    hours = (
        *(Box(f"hours.{p.key}", p.name, "hours", person=p) for p in work.people),
        Box(OTHERS_HOURS, "Somebody else", "hours"),
        Box(OTHERS_NAME, "Name of somebody else", "words"),
    )
    yield Blank(0, "Hours", hours, "hours", hint=f"Quoted {work.hours:.2f} h")
    yield Blank(0, "Sign", (Box("signed", "Name", "words"),), "sign")


BY_STAGE = {
    "layout": _layout,
    "framing": _framing,
    "flotation": _flotation,
    "launch": _launch,
    "decking": _decking,
    "anchoring": _anchoring,
    "handover": _handover,
}
