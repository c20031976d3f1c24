"""Sections gathered into rigid bodies, and the hinges left between them."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from estimating.engine.outline import groups
from estimating.engine.result import SharedEdge

SAME_LINE_IN = 1.0


def gather(
    count: int, rigid: Sequence[tuple[int, int]], edges: Sequence[SharedEdge], at: dict[str, int]
) -> tuple[list[list[int]], list[SharedEdge], list[list[int]]]:
    """Bodies as lists of section indices; the hinges between them, no two between the same bodies; what made a ring.

    Two hinges on one line are one hinge. Hinges that close a ring hold each other flat: those sections are one body.
    Source: GEOMETRY.
    """
    rings: list[tuple[int, int]] = []
    while True:
        bodies = groups(count, [*rigid, *rings])
        forest = _Forest(at, {section: body for body, members in enumerate(bodies) for section in members})
        for edge in sorted(edges, key=_length_in, reverse=True):
            forest.add(edge)
        if not forest.closing:
            return bodies, forest.hinges(edges), [ring for ring in groups(count, rings) if len(ring) > 1]
        rings += [(bodies[a][0], bodies[b][0]) for a, b in forest.closing]


@dataclass(slots=True)
class _Forest:
    """Hinges that close no ring; `closing` are pairs of bodies on the way round where one would."""

    at: dict[str, int]
    body_of: dict[int, int]
    kept: dict[frozenset[int], SharedEdge] = field(default_factory=dict)
    linked: dict[int, list[int]] = field(default_factory=dict)
    closing: list[tuple[int, int]] = field(default_factory=list)

    def add(self, edge: SharedEdge) -> None:
        first, second = self.body_of[self.at[edge.first]], self.body_of[self.at[edge.second]]
        pair = frozenset((first, second))
        if len(pair) == 1 or (pair in self.kept and _in_line(self.kept[pair], edge)):
            return
        way = self._way(first, second)
        if way:
            self.closing += pairwise(way)
            return
        self.kept[pair] = edge
        self.linked.setdefault(first, []).append(second)
        self.linked.setdefault(second, []).append(first)

    def hinges(self, edges: Sequence[SharedEdge]) -> list[SharedEdge]:
        kept = {id(edge) for edge in self.kept.values()}
        return [edge for edge in edges if id(edge) in kept]

    def _way(self, first: int, second: int) -> list[int]:
        """The bodies passed from the first to the second over the hinges kept so far; empty if there is no way."""
        came, queue = {first: first}, [first]
        for body in queue:
            for other in self.linked.get(body, ()):
                if other not in came:
                    came[other] = body
                    queue.append(other)
        if second not in came:
            return []
        way = [second]
        while way[-1] != first:
            way.append(came[way[-1]])
        return way


def _length_in(edge: SharedEdge) -> float:
    return abs(edge.x1_in - edge.x0_in) + abs(edge.y1_in - edge.y0_in)


def _in_line(one: SharedEdge, other: SharedEdge) -> bool:
    along_y = [abs(e.x1_in - e.x0_in) < abs(e.y1_in - e.y0_in) for e in (one, other)]
    gap = one.x0_in - other.x0_in if along_y[0] else one.y0_in - other.y0_in
    return along_y[0] == along_y[1] and abs(gap) < SAME_LINE_IN
