"""Deck boards: how many, how long, how wide the last one is, and what carries them.

Boards lie flush with the section's ends in the laying direction, where joints and ramp land; the overhang is at the
board ends. When one gap more would pass the end, the last board simply ends a gap short.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from .defaults import Picked, check_stock
from .frame import most_between
from .gaps import NARROW_RIP_IN, better_gap_in, board_count, last_width_in
from .limits import Inspector
from .outline import Box, in_plan
from .parts import Lumber
from .reasons import Amount, Finding, Reason, Sentence, Step
from .result import BoardRun, SharedEdge

SLIM = 1e-6


@dataclass(frozen=True, slots=True)
class Lay:
    """One field of boards to lay, inches: how far it runs, how long each board is, and over how many supports."""

    section: str
    board: Lumber
    run_in: float
    length_in: float
    gap_in: float
    overhang_in: float
    direction: str
    supports: int
    support_spacing_in: float
    box: Box


def section_boards(picked: Picked, centres: Sequence[float], lines: Sequence[float]) -> BoardRun:
    """The deck of one section on its stringers (boards across) or its cross members (boards along)."""
    section, decking = picked.section, picked.section.decking
    over = decking.overhang_in
    if decking.direction == "across":
        run, length, supports, spacing = section.length_in, section.width_in, len(centres), centres[1] - centres[0]
        own = (0.0, -over, section.length_in, section.width_in + over)
    else:
        head = picked.header.thickness_in
        spacing = most_between(length_in=section.length_in, header_in=head, lines=lines)
        run, length, supports = section.width_in, section.length_in, len(lines) + 2
        own = (-over, 0.0, section.length_in + over, section.width_in)
    return lay_boards(
        Lay(
            picked.mark,
            picked.board,
            run,
            length + 2 * over,
            decking.gap_in,
            over,
            decking.direction,
            supports,
            spacing,
            in_plan(section, *own),
        )
    )


def lay_boards(lay: Lay) -> BoardRun:
    """Boards side by side over the run, the last one ripped to fit."""
    board_in, gap = lay.board.width_in, lay.gap_in
    count = board_count(run_in=lay.run_in, board_in=board_in, gap_in=gap)
    last = last_width_in(run_in=lay.run_in, board_in=board_in, gap_in=gap)
    pitch = board_in + gap
    edges = [(k * pitch, k * pitch + board_in) for k in range(count - 1)]
    edges.append(((count - 1) * pitch, (count - 1) * pitch + last))
    feet = lay.length_in / 12 * (count - 1 + last / board_in)
    return BoardRun(
        lay.section,
        lay.board.code,
        count,
        lay.length_in,
        gap,
        lay.overhang_in,
        lay.direction,
        last,
        lay.supports,
        lay.support_spacing_in,
        tuple(edges),
        *lay.box,
        feet * lay.board.wet_lb_per_ft,
        feet * lay.board.seasoned_lb_per_ft,
        _reason(lay, count, last),
    )


def _reason(lay: Lay, count: int, last: float) -> Reason:
    pitch = lay.board.width_in + lay.gap_in
    steps = [
        Step(Sentence("Boards run over"), Amount(lay.run_in, "in")),
        Step(
            Sentence("One board {0} and its gap {1}", (Amount(lay.board.width_in, "in"), Amount(lay.gap_in, "in"))),
            Amount(pitch, "in"),
        ),
        Step(Sentence("Run ÷ board and gap, rounded up"), Amount(count, "count"), total=True),
    ]
    if last < lay.board.width_in - SLIM:
        steps.append(Step(Sentence("The last board is ripped to"), Amount(last, "in_small")))
    return Reason(Sentence("Boards = run ÷ (board + gap), up."), "COMMON_PRACTICE", tuple(steps))


def check_boards(picked: Picked, inspector: Inspector) -> None:
    """No board may be longer than its longest stock length."""
    section, over = picked.section, picked.section.decking.overhang_in
    across = section.decking.direction == "across"
    field = f"{picked.path}.{'width_in' if across else 'length_in'}"
    length = (section.width_in if across else section.length_in) + 2 * over
    check_stock(field, f"Deck boards of section {picked.mark}", length, picked.board, inspector)


def board_findings(boards: BoardRun, board: Lumber, field: str) -> list[Finding]:
    """Supports too far apart for the board's table, a last board too narrow to hold a screw, a long overhang.

    Sources: IRC_R507_7 for the supports, COMMON_PRACTICE for the rest.
    """
    found = []
    limit = board.support_spacing_in
    where = "the ramp" if boards.section == "ramp" else f"section {boards.section}"
    if limit is not None and boards.support_spacing_in > limit + 1 / 32:
        values = (where, Amount(round(boards.support_spacing_in, 4), "in"), board.name, Amount(limit, "in"))
        text = "Boards of {0} run {1} between supports. The deck table gives {2} {3}."
        cure = _support_cure(boards, limit)
        found.append(Finding("check", Sentence(text, values), cure, field, "IRC_R507_7", "board_support"))
    if boards.last_width_in < NARROW_RIP_IN:
        found.append(_narrow_rip(boards, board, where, field))
    if boards.overhang_in > 1:
        values = (where, Amount(boards.overhang_in, "in"))
        cure = Sentence("Flush to 1 in is usual; longer ends split and trip.")
        headline = Sentence("Boards of {0} overhang {1}.", values)
        found.append(Finding("check", headline, cure, field, "COMMON_PRACTICE", "long_overhang"))
    return found


def overhang_findings(picked: Picked, edges: Sequence[SharedEdge]) -> list[Finding]:
    """Board ends that would run into the neighbour at a joint. Source: GEOMETRY."""
    decking = picked.section.decking
    if not decking.overhang_in:
        return []
    runs_along_y = (decking.direction == "across") != picked.section.turned
    found = []
    for edge in edges:
        along_x = edge.x1_in > edge.x0_in
        if picked.mark in (edge.first, edge.second) and along_x == runs_along_y:
            other = edge.second if edge.first == picked.mark else edge.first
            values = picked.mark, Amount(decking.overhang_in, "in"), other
            headline = Sentence("Boards of section {0} overhang {1} into section {2}.", values)
            cure = Sentence("Trim them flush along that joint, or set the overhang to nothing.")
            field = f"{picked.path}.decking.overhang_in"
            found.append(Finding("check", headline, cure, field, "GEOMETRY", "overhang_at_joint"))
    return found


def _support_cure(boards: BoardRun, limit: float) -> Sentence:
    if boards.direction == "along":
        return Sentence("Set the cross members {0} apart or closer, or use thicker boards.", (Amount(limit, "in"),))
    span = boards.support_spacing_in * (boards.supports_crossed - 1)
    needed = ceil(span / limit - SLIM) + 1
    return Sentence("Use {0} stringers, or thicker boards.", (Amount(needed, "count"),))


def _narrow_rip(boards: BoardRun, board: Lumber, where: str, field: str) -> Finding:
    headline = Sentence("The last board of {0} is only {1} wide.", (where, Amount(boards.last_width_in, "in")))
    run = boards.edges_in[-1][1]
    gap = better_gap_in(run_in=run, board_in=board.width_in, gap_in=boards.gap_in)
    split = (board.width_in + boards.last_width_in) / 2
    halves = "Or rip the first and the last board to {0} each."
    cure = Sentence(halves.removeprefix("Or ").capitalize(), (Amount(split, "in"),))
    if gap is not None and boards.section != "ramp":  # the ramp has no gap of its own to change
        last = last_width_in(run_in=run, board_in=board.width_in, gap_in=gap)
        sizes = Amount(split, "in"), Amount(gap, "in"), Amount(last, "in")
        cure = Sentence("A gap of {1} leaves {2}. " + halves, sizes)
    return Finding("check", headline, cure, field, "COMMON_PRACTICE", "narrow_rip")
