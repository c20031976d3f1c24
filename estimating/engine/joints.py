"""Joints: found from the geometry, numbered so that mates share a number, each with the firm's rule for its place.

Joints are counted first and bolts after: plates that mate on one joint share its bolts, so a joint's bolts come from
its rule once, however many plates it takes.
"""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from .defaults import Picked
from .frame import FrameMaker
from .outline import CORNERS, Box, corner_of, point_in_plan
from .ramp import RampBuild
from .reasons import Amount, Reason, Sentence, Step
from .result import BoardRun, JointPoint, PlacedAnchor, SharedEdge
from .rulebook import PLACES, Rulebook, Take

PROBE_IN = 2.0  # how far from a point to look for a corner that faces in


class JointFinder:
    """Finds one dock's joints in order and looks each up under the length of the dock it belongs to."""

    def __init__(self, picked: Sequence[Picked], lengths_in: Sequence[float], rulebook: Rulebook) -> None:
        self.picked, self.lengths_in, self.rulebook = picked, lengths_in, rulebook
        self.at = {p.mark: p.index for p in picked}
        self.joints: list[JointPoint] = []
        self._numbers: Counter[str] = Counter()

    def corners(self, edges: Sequence[SharedEdge]) -> None:
        """Four outer corners per section; corners that face each other over a joint take the same number."""
        numbers = mated_numbers([p.box for p in self.picked], [(self.at[e.first], self.at[e.second]) for e in edges])
        for p, by_corner in zip(self.picked, numbers, strict=True):
            take = self.take("outer_corner", p)
            for corner in sorted(by_corner, key=by_corner.get):
                x, y = corner_of(p.box, corner)
                self._add(f"{p.mark}{by_corner[corner]}", "outer_corner", (p.mark,), (x, y), take)
            self._numbers[p.mark] = 4

    def tees(self, picked: Picked, frame: FrameMaker) -> None:
        """Both ends of every inner stringer, on the headers."""
        take, head = self.take("tee", picked), picked.header.thickness_in
        for centre in frame.centres[1:-1]:
            for u in (head, picked.section.length_in - head):
                at = point_in_plan(picked.section, u, centre)
                self._add(self._next(picked.mark), "tee", (picked.mark,), at, take)

    def cross_ends(self, picked: Picked, frame: FrameMaker, lines: Sequence[float]) -> None:
        """Both ends of every cross member."""
        take, half = self.take("cross_end", picked) if lines else None, picked.stringer.thickness_in / 2
        for line in lines:
            for a, b in pairwise(frame.centres):
                for v in (a + half, b - half):
                    at = point_in_plan(picked.section, line, v)
                    self._add(self._next(picked.mark), "cross_end", (picked.mark,), at, take)

    def section_joints(self, edges: Sequence[SharedEdge]) -> None:
        """One joint per shared edge, and an inside corner wherever the dock's outline turns inward at its ends."""
        neighbours = self._neighbours(edges)
        seen: set[tuple[int, int]] = set()
        for edge in edges:
            pair, name = (edge.first, edge.second), f"{edge.first}-{edge.second}"
            middle = (edge.x0_in + edge.x1_in) / 2, (edge.y0_in + edge.y1_in) / 2
            place = f"{edge.kind}_joint"
            self._add(name, place, pair, middle, self.take(place, self.picked[self.at[edge.first]]))
            number = 0
            for x, y in ((edge.x0_in, edge.y0_in), (edge.x1_in, edge.y1_in)):
                key = (round(x), round(y))
                if key not in seen and is_inside_corner(x, y, neighbours[edge.first] | neighbours[edge.second]):
                    seen.add(key)
                    number += 1
                    take = self.take("inner_corner", self.picked[self.at[edge.first]])
                    self._add(f"{name}/{number}", "inner_corner", pair, (x, y), take)

    def board_crossings(self, boards: BoardRun, picked: Picked) -> None:
        """All crossings of one run of boards as one joint that takes the whole number of screws."""
        crossings = boards.count * boards.supports_crossed
        take = self.take("board_crossing", picked)
        parts = tuple((code, quantity * crossings) for code, quantity in take.parts)
        whole = Take(take.rule, parts, take.bolts * crossings, take.bolt)
        middle = (boards.x0_in + boards.x1_in) / 2, (boards.y0_in + boards.y1_in) / 2
        self._add(f"{boards.section} boards", "board_crossing", (boards.section,), middle, whole)

    def retainers(self, anchors: Sequence[PlacedAnchor]) -> None:
        for anchor in anchors:
            take = self.take("chain_retainer", self.picked[self.at[anchor.section]])
            at = anchor.corner_x_in, anchor.corner_y_in
            self._add(anchor.mark, "chain_retainer", (anchor.section,), at, take)

    def ramp(self, build: RampBuild) -> None:
        """Hinge at the dock, fixing at the shore, and the ramp's own cross members and boards."""
        picked = self.picked[self.at[build.section]]
        dock, shore = self.take("ramp_dock_end", picked), self.take("ramp_shore_end", picked)
        self._add(self._next("ramp "), "ramp_dock_end", (build.section, "ramp"), build.dock, dock)
        self._add(self._next("ramp "), "ramp_shore_end", ("ramp",), build.shore, shore)
        for at in build.cross_ends:
            self._add(self._next("ramp "), "cross_end", ("ramp",), at, self.take("cross_end", picked))
        if build.boards is not None:
            self.board_crossings(build.boards, picked)

    def _neighbours(self, edges: Sequence[SharedEdge]) -> dict[str, set[Box]]:
        near = {p.mark: {p.box} for p in self.picked}
        for edge in edges:
            near[edge.first].add(self.picked[self.at[edge.second]].box)
            near[edge.second].add(self.picked[self.at[edge.first]].box)
        return near

    def take(self, place: str, picked: Picked) -> Take:
        return self.rulebook.take(place, self.lengths_in[picked.index])

    def _next(self, mark: str) -> str:
        self._numbers[mark] += 1
        return f"{mark}{self._numbers[mark]}"

    def _add(self, mark: str, place: str, sections: tuple[str, ...], at: tuple[float, float], take: Take) -> None:
        self.joints.append(
            JointPoint(mark, place, sections, at[0], at[1], take.rule, take.parts, take.bolts, take.bolt)
        )


def mated_numbers(boxes: Sequence[Box], pairs: Sequence[tuple[int, int]]) -> list[dict[str, int]]:
    """Numbers 1 to 4 for the corners of each section, so that corners facing each other over a joint match.

    Where a corner has no mate it takes the least number left. Source: COMMON_PRACTICE.
    """
    mates: dict[int, list[int]] = {}
    for a, b in pairs:
        mates.setdefault(max(a, b), []).append(min(a, b))
    numbers: list[dict[str, int]] = []
    for i, box in enumerate(boxes):
        mine: dict[str, int] = {}
        for corner in CORNERS:
            x, y = corner_of(box, corner)
            for j in mates.get(i, ()):
                facing = _number_at(boxes[j], numbers[j], x, y)
                if facing and facing not in mine.values():
                    mine[corner] = facing
        left = [n for n in (1, 2, 3, 4) if n not in mine.values()]
        mine.update(zip((c for c in CORNERS if c not in mine), left, strict=True))
        numbers.append(mine)
    return numbers


def _number_at(box: Box, numbers: dict[str, int], x: float, y: float) -> int | None:
    for corner, number in numbers.items():
        cx, cy = corner_of(box, corner)
        if abs(cx - x) < 1 and abs(cy - y) < 1:
            return number
    return None


def is_inside_corner(x: float, y: float, boxes: set[Box]) -> bool:
    """True where three of the four quarters around a point are dock: the outline turns inward there."""
    quarters = [(x + dx, y + dy) for dx in (-PROBE_IN, PROBE_IN) for dy in (-PROBE_IN, PROBE_IN)]
    return sum(any(box.covers(*quarter) for box in boxes) for quarter in quarters) == 3


def count_bolts(joints: Sequence[JointPoint]) -> tuple[int, Reason]:
    """Bolts of some joints, with a ledger by place that adds up. Source: FIRM_JOINTS."""
    tally: Counter[tuple[str, int]] = Counter()
    for joint in joints:
        if joint.place == "board_crossing" and joint.bolts:
            tally[joint.place, 1] += joint.bolts
        elif joint.bolts:
            tally[joint.place, joint.bolts] += 1
    steps = [
        Step(
            Sentence("{0}: {1} × {2}", (PLACES[place].capitalize(), Amount(n, "count"), Amount(bolts, "count"))),
            Amount(n * bolts, "count"),
        )
        for (place, bolts), n in tally.items()
    ]
    total = sum(n * bolts for (_, bolts), n in tally.items())
    steps.append(Step(Sentence("Bolts"), Amount(total, "count"), total=True))
    rule = Sentence("Count joints, then bolts: plates mated on one joint share its bolts.")
    return total, Reason(rule, "FIRM_JOINTS", tuple(steps))
