"""The frame of a section: rims outside over the full length, headers between them, the rest inside.

Rims run the full length. A header closes each end between the rims. Inner stringers run between the headers, evenly
spaced. Cross members stand across in the bays between stringers, one piece per bay, at both ends of every column of
floats so that no float can walk, and closer where the boards need it.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil

from .defaults import Picked, check_stock
from .limits import Inspector
from .outline import in_plan
from .parts import Lumber
from .reasons import Amount, Finding, Sentence
from .result import Piece

TRAP_MERGE_IN = 6.0  # traps nearer than this to each other, or to a header, are one
SLIM = 1e-6
LETTERS = "abcdefghjkmnpqrstuvwxyz"  # i, l and o read as figures on a wet sheet


class Marks:
    """Ringed letters: identical pieces share one, over the whole dock."""

    def __init__(self) -> None:
        self._given: dict[tuple[str, str, int], str] = {}

    def of(self, role: str, item: str, length_in: float) -> str:
        key = (role, item, round(length_in * 64))
        mark = self._given.get(key)
        if mark is None:
            mark = self._given[key] = letters(len(self._given))
        return mark


def letters(number: int) -> str:
    """The mark of the piece kind of this number, from 0.

    >>> letters(0), letters(8), letters(23)
    ('a', 'j', 'aa')
    """
    number, last = divmod(number, len(LETTERS))
    return (letters(number - 1) if number else "") + LETTERS[last]


def stringer_count(*, width_in: float, thickness_in: float, spacing_in: float) -> int:
    """Stringers, rims included, so that none stand further apart than the spacing, centre to centre, inches.

    Source: GEOMETRY.

    >>> stringer_count(width_in=72, thickness_in=1.5, spacing_in=24), stringer_count(
    ...     width_in=72, thickness_in=1.5, spacing_in=16)
    (4, 6)
    """
    return max(1, ceil((width_in - thickness_in) / spacing_in - SLIM)) + 1


def stringer_centres(*, width_in: float, thickness_in: float, count: int) -> list[float]:
    first, last = thickness_in / 2, width_in - thickness_in / 2
    return [first + (last - first) * k / (count - 1) for k in range(count)]


def cross_lines(
    *, length_in: float, header_in: float, spacing_in: float, float_ends: Sequence[float]
) -> tuple[float, ...]:
    """Where cross members stand, inches from the section's end to their centres: float traps first, then fill.

    Traps nearer than 6 in to each other become one between them; a header nearer than 6 in traps by itself.
    Source: COMMON_PRACTICE.

    >>> cross_lines(length_in=192, header_in=1.5, spacing_in=48, float_ends=[0, 48, 72, 120, 144, 192])
    (48.0, 72.0, 120.0, 144.0)
    """
    first, last = header_in / 2, length_in - header_in / 2
    traps: list[list[float]] = []
    for end in sorted(float_ends):
        if not first + TRAP_MERGE_IN < end < last - TRAP_MERGE_IN:
            continue
        if traps and end - sum(traps[-1]) / len(traps[-1]) < TRAP_MERGE_IN:
            traps[-1].append(end)
        else:
            traps.append([end])
    stops = [first, *(sum(near) / len(near) for near in traps), last]
    lines = []
    for here, there in pairwise(stops):
        bays = max(1, ceil((there - here) / spacing_in - SLIM))
        lines += [here + (there - here) * k / bays for k in range(1, bays)]
        lines.append(there)
    return tuple(lines[:-1])


def section_cross_lines(picked: Picked, float_ends: Sequence[float]) -> tuple[float, ...]:
    """Where one section's cross members stand, given where its floats end along it."""
    section = picked.section
    return cross_lines(
        length_in=section.length_in,
        header_in=picked.header.thickness_in,
        spacing_in=section.framing.cross_spacing_in,
        float_ends=float_ends,
    )


def most_between(*, length_in: float, header_in: float, lines: Sequence[float]) -> float:
    """The widest gap between header and cross member centres, inches."""
    stops = [header_in / 2, *lines, length_in - header_in / 2]
    return max(there - here for here, there in pairwise(stops))


def fill_stringers(picked: Picked, standing_spacing_in: float) -> Picked:
    """The section with its stringers counted where the spec leaves them open; boards across ask for their table."""
    section = picked.section
    if section.framing.stringer_count is not None:
        return picked
    across = section.decking.direction == "across"
    spacing = min(standing_spacing_in, (across and picked.board.support_spacing_in) or standing_spacing_in)
    count = stringer_count(width_in=section.width_in, thickness_in=picked.stringer.thickness_in, spacing_in=spacing)
    return replace(picked, section=replace(section, framing=replace(section.framing, stringer_count=count)))


class FrameMaker:
    """Saws one section's pieces, in plan, with their marks."""

    def __init__(self, picked: Picked, marks: Marks) -> None:
        self.picked, self.marks = picked, marks
        section = picked.section
        self.length_in, self.width_in = section.length_in, section.width_in
        self.centres = stringer_centres(
            width_in=self.width_in,
            thickness_in=picked.stringer.thickness_in,
            count=section.framing.stringer_count,
        )

    def main_pieces(self) -> list[Piece]:
        """Rims, inner stringers and headers."""
        picked, half = self.picked, self.picked.stringer.thickness_in / 2
        head = picked.header.thickness_in
        long_in, wide_in = self.length_in, self.width_in
        pieces = []
        for k, centre in enumerate(self.centres):
            rim = k in (0, len(self.centres) - 1)
            role, u0, u1 = ("rim", 0.0, long_in) if rim else ("inner stringer", head, long_in - head)
            pieces.append(self._piece(role, picked.stringer, (u0, centre - half, u1, centre + half)))
        for u in (0.0, long_in - head):
            pieces.append(self._piece("header", picked.header, (u, 2 * half, u + head, wide_in - 2 * half)))
        return sorted(pieces, key=lambda piece: ("rim", "inner stringer", "header").index(piece.role))

    def cross_pieces(self, lines: Sequence[float]) -> list[Piece]:
        """Cross members, one per bay."""
        half_stringer = self.picked.stringer.thickness_in / 2
        half = self.picked.cross_member.thickness_in / 2
        bays = [(a + half_stringer, b - half_stringer) for a, b in pairwise(self.centres)]
        lumber = self.picked.cross_member
        return [
            self._piece("cross member", lumber, (line - half, v0, line + half, v1)) for line in lines for v0, v1 in bays
        ]

    def cross_line_lb(self) -> float:
        """What one line of cross members weighs, wet."""
        clear = self.width_in - len(self.centres) * self.picked.stringer.thickness_in
        return clear / 12 * self.picked.cross_member.wet_lb_per_ft

    def _piece(self, role: str, lumber: Lumber, own: tuple[float, float, float, float]) -> Piece:
        u0, v0, u1, v1 = own
        across = role in ("header", "cross member")
        length = round(v1 - v0 if across else u1 - u0, 9)
        return Piece(
            self.marks.of(role, lumber.code, length),
            self.picked.mark,
            role,
            lumber.code,
            length,
            *in_plan(self.picked.section, u0, v0, u1, v1),
            lumber.width_in,
            length / 12 * lumber.wet_lb_per_ft,
            length / 12 * lumber.seasoned_lb_per_ft,
        )


def check_frame(picked: Picked, inspector: Inspector) -> None:
    """Stringers must fit side by side, and no member may be longer than its stock."""
    section, thick = picked.section, picked.stringer.thickness_in
    count = section.framing.stringer_count
    between = (section.width_in - thick) / (count - 1)
    if between < thick + 1:
        text = "{0} stringers do not fit in a width of {1}."
        field = f"{picked.path}.framing.stringer_count"
        inspector.fault(field, text, Amount(count, "count"), Amount(section.width_in, "in"))
    rims = f"Rim stringers of section {picked.mark}"
    check_stock(f"{picked.path}.length_in", rims, section.length_in, picked.stringer, inspector)
    headers = f"Headers of section {picked.mark}"
    check_stock(f"{picked.path}.width_in", headers, section.width_in - 2 * thick, picked.header, inspector)


def frame_findings(picked: Picked) -> list[Finding]:
    """Members deeper than the stringers, and stringers too shallow for the trade."""
    found = []
    for role, lumber in (("headers", picked.header), ("cross members", picked.cross_member)):
        if lumber.width_in > picked.stringer.width_in + SLIM:
            text = "Section {0}: the {1} are deeper than the stringers, {2} against {3}."
            values = (picked.mark, role, Amount(lumber.width_in, "in"), Amount(picked.stringer.width_in, "in"))
            cure = Sentence("The floats would hang on them. Use the stringers' size.")
            found.append(_check(picked, Sentence(text, values), cure, "deep_member"))
    if picked.stringer.width_in < 5.5:
        text = "Section {0}: stringers are {1} deep."
        headline = Sentence(text, (picked.mark, Amount(picked.stringer.width_in, "in")))
        found.append(_check(picked, headline, Sentence("Use 6 in nominal or deeper."), "shallow_stringer"))
    return found


def _check(picked: Picked, headline: Sentence, cure: Sentence, code: str) -> Finding:
    return Finding("check", headline, cure, f"{picked.path}.framing.stringer", "COMMON_PRACTICE", code)
