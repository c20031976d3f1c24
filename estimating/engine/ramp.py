"""The ramp: a hinged walkway from shore to dock, built of lumber or bought, and what it puts on the float.

Drawn lying flat, at right angles to the edge it lands on. Stringers run its full length; a cross member closes each
end and none stand more than 24 in apart. Two stringers up to 3 ft wide, three beyond, more where the boards need it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from .boards import Lay, board_findings, lay_boards
from .defaults import Picked, check_stock, deck_board, framing_lumber
from .frame import stringer_centres, stringer_count
from .limits import Inspector
from .outline import OVERLAP_IN, Box, edge_of, outward, overlap_in
from .parts import Catalogue, Lumber
from .reasons import Amount, Finding, Reason, Sentence, Step
from .result import BoardRun, Piece, RampDesign
from .spec import Ramp

TWO_STRINGERS_UP_TO_IN = 36.0
CROSS_SPACING_IN = 24.0
ENGINEER_OVER_IN = 240.0


@dataclass(frozen=True, slots=True)
class RampBuild:
    """A ramp laid out: its place, its sticks and boards; no weights of hardware yet."""

    ramp: Ramp  # defaults filled
    section: str
    dock: tuple[float, float]
    shore: tuple[float, float]
    box: Box
    pieces: tuple[Piece, ...]
    boards: BoardRun | None
    cross_ends: tuple[tuple[float, float], ...]
    bought_lb: float | None
    findings: tuple[Finding, ...]


def stringers_for(width_in: float, board: Lumber, thickness_in: float) -> int:
    """Ramp stringers: two up to 3 ft wide, three beyond, more where the boards' table asks for it.

    Source: COMMON_PRACTICE; IRC_R507_7 for the boards.
    """
    least = 2 if width_in <= TWO_STRINGERS_UP_TO_IN else 3
    if not board.support_spacing_in:
        return least
    by_boards = stringer_count(width_in=width_in, thickness_in=thickness_in, spacing_in=board.support_spacing_in)
    return max(least, by_boards)


def build_ramp(ramp: Ramp, picked: Sequence[Picked], catalogue: Catalogue, inspector: Inspector) -> RampBuild | None:
    """The ramp on its edge, or None with the faults noted: it must fit its edge, clear the dock, and suit its stock."""
    host = _host(ramp, picked)
    edge = edge_of(host.box, ramp.edge)
    offset = edge.length_in / 2 if ramp.offset_in is None else ramp.offset_in
    ramp = replace(ramp, section=host.mark, offset_in=offset)
    layout = _Layout(ramp, edge.at(offset))
    _check_landing(ramp, edge.length_in, inspector)
    for other in picked:
        if overlap_in(layout.box, other.box) > OVERLAP_IN:
            inspector.fault("ramp.edge", "The ramp runs into section {0}. Land it on another edge.", other.mark)
            break
    if ramp.bought_item is not None:
        return _bought(ramp, layout, catalogue)
    lumber = framing_lumber("ramp", catalogue.standing.ramp_stringer, catalogue, inspector)
    board = deck_board("ramp", catalogue.standing.ramp_board, catalogue, inspector)
    if lumber is None or board is None:
        return None
    check_stock("ramp.length_in", "Ramp stringers", ramp.length_in, lumber, inspector)
    check_stock("ramp.width_in", "Ramp boards", ramp.width_in, board, inspector)
    return _built(ramp, layout, _Stuff(lumber, board, catalogue.standing.gap_in))


def finish_ramp(build: RampBuild, hardware_lb: float) -> RampDesign:
    """The ramp with its weight; half of it sits on the float. Source: COMMON_PRACTICE."""
    frame = round(sum(piece.wet_lb for piece in build.pieces))
    deck = round(build.boards.wet_lb) if build.boards else 0
    screws = round(hardware_lb)
    if build.bought_lb is None:
        dry = sum(piece.seasoned_lb for piece in build.pieces) + (build.boards.seasoned_lb if build.boards else 0)
        wet, seasoned = frame + deck + screws, round(dry) + screws
        rows = [("Ramp frame, wet", frame), ("Ramp boards, wet", deck), ("Ramp hardware", screws)]
    else:
        wet = seasoned = round(build.bought_lb)
        rows = [("Ramp as bought", wet)]
    steps = [Step(Sentence(text), Amount(lb, "lb")) for text, lb in rows]
    steps += [
        Step(Sentence("Ramp"), Amount(wet, "lb"), total=True),
        Step(Sentence("Half of it, on the float"), Amount(wet / 2, "lb")),
    ]
    rule = Sentence("Half the weight of a ramp sits on the float, half on the shore.")
    reason = Reason(rule, "COMMON_PRACTICE", tuple(steps))
    ramp = build.ramp
    return RampDesign(
        ramp.length_in,
        ramp.width_in,
        build.section,
        ramp.edge,
        *build.dock,
        *build.shore,
        wet,
        seasoned,
        ramp.bought_item,
        wet / 2,
        reason,
    )


@dataclass(frozen=True, slots=True)
class _Stuff:
    lumber: Lumber
    board: Lumber
    gap_in: float


class _Layout:
    """Ramp axes (out from the dock, across) laid into the plan."""

    def __init__(self, ramp: Ramp, dock: tuple[float, float]) -> None:
        self.dock, self.out = dock, outward(ramp.edge)
        self.half_in = ramp.width_in / 2
        self.shore = self.point(ramp.length_in, self.half_in)
        self.box = self.lay(0, 0, ramp.length_in, ramp.width_in)

    def point(self, out_in: float, across_in: float) -> tuple[float, float]:
        (x, y), (out_x, out_y), aside = self.dock, self.out, across_in - self.half_in
        return x + out_x * out_in + abs(out_y) * aside, y + out_y * out_in + abs(out_x) * aside

    def lay(self, out0: float, across0: float, out1: float, across1: float) -> Box:
        (x0, y0), (x1, y1) = self.point(out0, across0), self.point(out1, across1)
        return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def _host(ramp: Ramp, picked: Sequence[Picked]) -> Picked:
    if ramp.section is not None:
        return next(p for p in picked if p.mark == ramp.section)
    return min(picked, key=lambda p: (p.box.x0, abs(p.box.middle[1])))


def _check_landing(ramp: Ramp, edge_in: float, inspector: Inspector) -> None:
    if ramp.width_in > edge_in + OVERLAP_IN:
        text = "The ramp is {0} wide; the edge it lands on is {1}."
        inspector.fault("ramp.width_in", text, Amount(ramp.width_in, "in"), Amount(edge_in, "in"))
        return
    least, most = ramp.width_in / 2, edge_in - ramp.width_in / 2
    if not least - OVERLAP_IN <= ramp.offset_in <= most + OVERLAP_IN:
        text = "The ramp hangs over the end of its edge. Put its middle between {0} and {1}."
        inspector.fault("ramp.offset_in", text, Amount(least, "in"), Amount(most, "in"))


def _bought(ramp: Ramp, layout: _Layout, catalogue: Catalogue) -> RampBuild:
    good = catalogue.goods[ramp.bought_item]
    findings = []
    for name, given, sold in (("long", ramp.length_in, good.length_in), ("wide", ramp.width_in, good.width_in)):
        if sold is not None and abs(given - sold) > 1:
            headline = Sentence("{0} is {1} {2}.", (good.name, Amount(sold, "in"), name))
            cure = Sentence("The spec says {0}. Change one of them.", (Amount(given, "in"),))
            findings.append(_check(headline, cure, "ramp.length_in" if name == "long" else "ramp.width_in", "bought"))
    findings += _ramp_findings(ramp)
    weight, ends = good.weight_lb, (layout.dock, layout.shore)
    return RampBuild(ramp, ramp.section, *ends, layout.box, (), None, (), weight, tuple(findings))


def _built(ramp: Ramp, layout: _Layout, stuff: _Stuff) -> RampBuild:
    lumber, board = stuff.lumber, stuff.board
    thick = lumber.thickness_in
    count = stringers_for(ramp.width_in, board, thick)
    centres = stringer_centres(width_in=ramp.width_in, thickness_in=thick, count=count)
    bays = [(a + thick / 2, b - thick / 2) for a, b in pairwise(centres)]
    lines = stringer_centres(
        width_in=ramp.length_in,
        thickness_in=thick,
        count=max(1, ceil((ramp.length_in - thick) / CROSS_SPACING_IN - 1e-6)) + 1,
    )
    saw = _Saw(layout, lumber)
    pieces = [saw.piece("ramp stringer", (0, c - thick / 2, ramp.length_in, c + thick / 2)) for c in centres]
    ends = []
    for line in lines:
        for t0, t1 in bays:
            pieces.append(saw.piece("ramp cross member", (line - thick / 2, t0, line + thick / 2, t1)))
            ends += [layout.point(line, t0), layout.point(line, t1)]
    spacing = centres[1] - centres[0]
    sizes = ramp.length_in, ramp.width_in, stuff.gap_in, 0.0, "across", count, spacing
    boards = lay_boards(Lay("ramp", board, *sizes, layout.box))
    findings = (*_ramp_findings(ramp), *board_findings(boards, board, "ramp"))
    place = layout.dock, layout.shore, layout.box
    return RampBuild(ramp, ramp.section, *place, tuple(pieces), boards, tuple(ends), None, findings)


@dataclass(frozen=True, slots=True)
class _Saw:
    layout: _Layout
    lumber: Lumber

    def piece(self, role: str, own: tuple[float, float, float, float]) -> Piece:
        out0, across0, out1, across1 = own
        length = round(out1 - out0 if role == "ramp stringer" else across1 - across0, 9)
        lumber = self.lumber
        return Piece(
            "",  # marked once the dock has its letters
            "ramp",
            role,
            lumber.code,
            length,
            *self.layout.lay(*own),
            lumber.width_in,
            length / 12 * lumber.wet_lb_per_ft,
            length / 12 * lumber.seasoned_lb_per_ft,
        )


def _ramp_findings(ramp: Ramp) -> list[Finding]:
    found = []
    if ramp.length_in > ENGINEER_OVER_IN + 1e-6:
        headline = Sentence("The ramp is {0} long.", (Amount(ramp.length_in, "in"),))
        cure = Sentence("Over {0} get an engineer.", (Amount(ENGINEER_OVER_IN, "in"),))
        found.append(_check(headline, cure, "ramp.length_in", "long_ramp"))
    if ramp.rails and ramp.bought_item is None:
        headline = Sentence("Ramp rails are asked for, but not counted in lumber or price.")
        cure = Sentence("Add them as an accessory.")
        found.append(_check(headline, cure, "ramp.rails", "rails_not_counted"))
    return found


def _check(headline: Sentence, cure: Sentence, field: str, code: str) -> Finding:
    return Finding("check", headline, cure, field, "COMMON_PRACTICE", code)
