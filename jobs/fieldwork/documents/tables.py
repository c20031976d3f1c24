"""The tables of a sheet: pieces to cut, goods to take, floats, boards, anchors, freeboards."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from estimating.engine.drawing.float_map import float_spots
from estimating.engine.mooring.table import anchor_table
from estimating.engine.needs import needs
from estimating.engine.result import BoardRun, Piece

from .blanks import AnchorLine, anchor_rows
from .facts import Work, cut, ends_of, level, pounds, speak

ROLE_WORDS = {
    "rim": "outer stringer",
    "inner stringer": "inner stringer",
    "header": "header",
    "cross member": "cross member",
    "ramp stringer": "ramp stringer",
    "ramp cross member": "ramp cross member",
}


@dataclass(frozen=True, slots=True)
class PieceRow:
    """Pieces alike: their letter, what they are, how many, how long, from which sticks."""

    mark: str
    what: str
    count: int
    length: str
    source: str


@dataclass(frozen=True, slots=True)
class GoodRow:
    name: str
    count: str


@dataclass(frozen=True, slots=True)
class FloatRow:
    number: int
    name: str
    lies: str
    from_end: str
    from_edge: str
    lags: str


@dataclass(frozen=True, slots=True)
class BoardRow:
    section: str
    count: int
    length: str
    gap: str
    overhang: str
    direction: str
    last: str
    screws: str


@dataclass(frozen=True, slots=True)
class AnchorRow:
    mark: str
    weight: str
    out: str
    depth: str
    chain: str
    note: str


def piece_rows(work: Work) -> tuple[PieceRow, ...]:
    """Every kind of piece once, in the order of its letters."""
    alike: dict[str, list[Piece]] = {}
    for piece in work.estimate.design.pieces:
        alike.setdefault(piece.mark, []).append(piece)
    sticks = _sticks(work)
    rows = []
    for mark in sorted(alike, key=lambda text: (len(text), text)):
        one = alike[mark][0]
        nominal = work.catalogue.lumber[one.item].nominal.replace("x", "×")
        what = f"{ROLE_WORDS.get(one.role, one.role)}, {nominal}"
        rows.append(PieceRow(mark, what, len(alike[mark]), cut(one.length_in), sticks.get(mark, "")))
    return tuple(rows)


def _sticks(work: Work) -> dict[str, str]:
    found: dict[str, Counter[float]] = {}
    for _, stick in work.estimate.takeoff.sticks:
        for mark, _ in stick.cuts:
            found.setdefault(mark, Counter())[stick.stock_length_in] += 1
    return {mark: ", ".join(_stick(length, n) for length, n in sorted(of.items())) for mark, of in found.items()}


def _stick(stock_in: float, count: int) -> str:
    size = f"{stock_in / 12:g} ft" if stock_in % 12 == 0 else cut(stock_in)
    return f"{count} from {size}"


def good_rows(work: Work) -> tuple[GoodRow, ...]:
    """What this stage takes of floats, iron and screws, counted net."""
    counted: Counter[str] = Counter()
    for need in needs(work.estimate.design, work.catalogue):
        for entry in need.entries:
            if entry.stage == work.stage:
                counted[need.code] += float(entry.quantity)
    return together([(work.short_name(code), _count(work, code, n)) for code, n in counted.items()])


def together(rows: Iterable[tuple[str, str]]) -> tuple[GoodRow, ...]:
    """Things of one size, as many of each, on one line: what goes on a bolt stands together.

    >>> together([("Lock washer 1/2 in", "8"), ("Nut 1/2 in", "8"), ("Tee plate", "8")])
    (GoodRow(name='Lock washer, nut 1/2 in', count='8'), GoodRow(name='Tee plate', count='8'))
    """
    found: list[GoodRow] = []
    for name, count in rows:
        what, size = _apart(name)
        before, same = _apart(found[-1].name) if found else ("", "")
        if found and size and (size, count) == (same, found[-1].count):
            found[-1] = GoodRow(f"{before}, {what[:1].lower()}{what[1:]} {size}", count)
        else:
            found.append(GoodRow(name, count))
    return tuple(found)


def _apart(name: str) -> tuple[str, str]:
    """A name without its size, and the size."""
    at = next((place for place, letter in enumerate(name) if letter.isdigit()), len(name))
    return name[:at].rstrip(), name[at:]


def _count(work: Work, code: str, count: float) -> str:
    good = work.catalogue.goods.get(code)
    if good is not None and good.use_unit == "ft":
        return cut(count * 12)
    return f"{count:g}"


def float_rows(work: Work, mark: str) -> tuple[FloatRow, ...]:
    rows = []
    for spot in float_spots(work.estimate.design, mark):
        item = work.catalogue.floats[spot.item]
        lags = next((f"{float(use.quantity):g}" for use in item.fixings), "")
        rows.append(
            FloatRow(spot.number, work.name(spot.item), spot.lies, cut(spot.from_end_in), cut(spot.from_edge_in), lags)
        )
    return tuple(rows)


def float_heads(work: Work, mark: str) -> tuple[str, str]:
    """Over the two figures of a float: from which end and which edge of its section."""
    section = next(s for s in work.estimate.design.spec.sections if s.mark == mark)
    return ends_of(section)


def board_rows(work: Work) -> tuple[BoardRow, ...]:
    screws = {j.sections[0]: j.parts for j in work.estimate.design.joints if j.place == "board_crossing"}
    return tuple(_board(run, screws) for run in work.estimate.design.boards)


def _board(run: BoardRun, screws: dict[str, tuple]) -> BoardRow:
    width_in = run.edges_in[0][1] - run.edges_in[0][0]
    ripped = run.last_width_in < width_in - 0.01
    total = sum(float(quantity) for _, quantity in screws.get(run.section, ()))
    return BoardRow(
        run.section,
        run.count,
        cut(run.length_in),
        cut(run.gap_in),
        cut(run.overhang_in) if run.overhang_in else "none",
        "across" if run.direction == "across" else "lengthwise",
        f"rip to {cut(run.last_width_in)}" if ripped else "whole",
        f"{total:g}",
    )


def anchor_table_rows(work: Work) -> tuple[AnchorRow, ...]:
    """The anchors at that day's level, each with the slack its chain then has."""
    mooring, slack = work.estimate.mooring, {}
    if mooring is not None:
        rows = anchor_table(work.estimate.design, mooring, work.level_in)
        slack = {row.anchor: row.slack.say(speak) for row in rows}
    return tuple(_anchor(work, line, slack.get(line.mark, "")) for line in anchor_rows(work))


def _anchor(work: Work, line: AnchorLine, slack: str) -> AnchorRow:
    note = slack if line.depth_known else "never sounded: sound it first"
    return AnchorRow(line.mark, work.short_name(line.item), _out(line), level(line.depth_in), cut(line.chain_in), note)


def _out(line: AnchorLine) -> str:
    parts = []
    if abs(line.out_in) >= 0.5:
        parts.append(f"{cut(abs(round(line.out_in)))} {'lakeward' if line.out_in > 0 else 'shoreward'}")
    if abs(line.aside_in) >= 0.5:
        parts.append(f"{cut(abs(round(line.aside_in)))} {'left' if line.aside_in > 0 else 'right'}")
    return ", ".join(parts) or "straight down"


def weights_said(work: Work) -> tuple[str, ...]:
    """What each section weighs as it goes in."""
    afloat = work.estimate.afloat
    lifts = afloat.lifts if afloat else ()
    return tuple(
        f"Section {lift.section}: {pounds(lift.bare_lb)} bare, {pounds(lift.whole_lb)} whole." for lift in lifts
    )
