"""Bodies hung on one another by hinges: how the attitude of every body follows from a few free coordinates.

A body's attitude is x = (n, h): its up vector in its own frame and the height of the origin above the water. One body
of each connected group is the root, free to heave and to lean both ways. Every other body turns about the hinge to
the body before it, so that its attitude is T(angle) times that body's, exactly and at any angle; the hinge line stays
common to both. Turning in plan changes no height and is left out.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Self

import numpy as np
from numpy.typing import NDArray

from .geometry import Assembly, FlotationInputError, Hinge, Point
from .immersion import Array

Index = NDArray[np.intp]

_TINY = 1e-150
_SAME = np.eye(4)


@dataclass(frozen=True, slots=True)
class _Level:
    """All bodies equally far from the root: who they are, what they hang on, their free angle, their hinge."""

    children: Index
    parents: Index
    angles: Index
    columns: Index
    swing: Array
    bend: Array
    forked: bool

    def gather(self, onto: Array, values: Array) -> None:
        """Add each child's values to its parent's, in place."""
        if self.forked:
            np.add.at(onto, (slice(None), self.parents), values)
        else:
            onto[:, self.parents] += values


@dataclass(frozen=True, slots=True)
class Linkage:
    """One connected group. `members` are the places of its bodies in the assembly, in the order used here."""

    members: tuple[int, ...]
    hinges: tuple[Hinge, ...]
    levels: tuple[_Level, ...]
    reach_in: Array = field(repr=False)

    @property
    def bodies(self) -> int:
        return len(self.members)

    @property
    def freedoms(self) -> int:
        return 2 + len(self.members)

    def start(self, height_in: Array) -> Array:
        """Level rows: (rows, 4 + hinges) of the root's up vector, its height in inches and the hinge angles."""
        state = np.zeros((len(height_in), 3 + self.bodies))
        state[:, 2] = 1.0
        state[:, 3] = height_in
        return state

    def move(self, state: Array, step: Array) -> Array:
        """The state after heaving by step 0 (in), leaning by steps 1 and 2 and bending the hinges (radians)."""
        moved = state.copy()
        moved[:, 3] += step[:, 0]
        moved[:, 4:] += step[:, 3:]
        size = np.hypot(step[:, 1], step[:, 2])[:, None]
        toward = (step[:, None, 1:3] @ _across(state[:, :3]))[:, 0]
        up = np.cos(size) * state[:, :3] + np.sin(size) / np.maximum(size, _TINY) * toward
        moved[:, :3] = up / np.sqrt(up[:, :1] ** 2 + up[:, 1:2] ** 2 + up[:, 2:] ** 2)
        return moved

    def bends(self, state: Array) -> list["Bend"]:
        """Every level's turn T and its first two slopes with the hinge angle, in the order of the levels."""
        return [Bend.of(level, state) for level in self.levels]

    def attitudes(self, state: Array, bends: list["Bend"] | None = None) -> Array:
        """The attitude of every body, (rows, bodies, 4)."""
        attitude = np.empty((len(state), self.bodies, 4))
        attitude[:, 0] = state[:, :4]
        for bend in self.bends(state) if bends is None else bends:
            level = bend.level
            attitude[:, level.children] = apply(bend.turn, attitude[:, level.parents])
        return attitude

    def root_slopes(self, state: Array) -> Array:
        """How the root's attitude changes with heave and its two leans, (rows, 4, 3)."""
        slopes = np.zeros((len(state), 4, 3))
        slopes[:, 3, 0] = 1.0
        slopes[:, :3, 1:] = np.swapaxes(_across(state[:, :3]), 1, 2)
        return slopes


def apply(matrices: Array, vectors: Array) -> Array:
    """Each matrix on its vector."""
    return (matrices @ vectors[..., None])[..., 0]


@dataclass(frozen=True, slots=True)
class Bend:
    """One level's hinges at their angles: T, and its slope and second slope with the angle, (rows, hinges, 4, 4)."""

    level: _Level
    turn: Array
    slope: Array
    curve: Array

    @classmethod
    def of(cls, level: _Level, state: Array) -> Self:
        angle = state[:, level.angles, None, None]
        sine, cosine = np.sin(angle), np.cos(angle)
        swing, bend = level.swing, level.bend
        return cls(
            level,
            _SAME + sine * swing + (1 - cosine) * bend,
            cosine * swing + sine * bend,
            cosine * bend - sine * swing,
        )


def _across(up: Array) -> Array:
    """Two unit vectors square to the up vector, (rows, 2, 3): towards x first, so that leaning along it is trim."""
    across = _square_to(up, 0)
    plumb = np.abs(up[:, 0]) > 0.9
    if plumb.any():
        across[plumb] = _square_to(up[plumb], 1)
    return across


def _square_to(up: Array, axis: int) -> Array:
    along = up[:, axis]
    with np.errstate(invalid="ignore", divide="ignore"):
        size = 1 / np.sqrt(1 - along * along)
    across = np.empty((len(up), 2, 3))
    np.multiply(up, (-along * size)[:, None], out=across[:, 0])
    across[:, 0, axis] += size
    second, third = (axis + 1) % 3, (axis + 2) % 3
    across[:, 1, axis] = 0.0
    across[:, 1, second] = up[:, third] * size
    across[:, 1, third] = -up[:, second] * size
    return across


def _hinge_turn(hinge: Hinge, origin: Point) -> tuple[Array, Array]:
    """The two constant parts of T: a turn about the hinge axis that leaves the heights along the hinge as they are."""
    (ax, ay, az), (bx, by, _) = hinge.ends
    long = np.hypot(bx - ax, by - ay)
    ex, ey = (bx - ax) / long, (by - ay) / long
    cross = np.array([[0, 0, ey], [0, 0, -ex], [-ey, ex, 0]])
    point = np.array([ax, ay, az]) - np.array(origin)
    swing, bend = np.zeros((4, 4)), np.zeros((4, 4))
    swing[:3, :3], swing[3, :3] = -cross, point @ cross
    bend[:3, :3], bend[3, :3] = cross @ cross, -point @ cross @ cross
    return swing, bend


def connected_groups(assembly: Assembly) -> list[list[int]]:
    """Places of the bodies that hang together, each group outwards from its middle, so that few follow one another.

    >>> from estimating.engine.flotation.geometry import FloatBody, Mass, RigidBody
    >>> deck = ((0., 0., 0.), (1., 0., 0.), (1., 1., 0.))
    >>> one = RigidBody("A", (FloatBody(1, 1, 1),), Mass(1), deck)
    >>> walk = Assembly((one,) * 4, (Hinge(0, 2, 0, 0, 0, 1), Hinge(2, 3, 1, 0, 1, 1)))
    >>> connected_groups(walk)
    [[2, 0, 3], [1]]
    """
    neighbours: dict[int, list[int]] = {body: [] for body in range(len(assembly.bodies))}
    for hinge in assembly.hinges:
        neighbours[hinge.first].append(hinge.second)
        neighbours[hinge.second].append(hinge.first)
    groups, seen = [], set()
    for body in neighbours:
        if body not in seen:
            group = _outwards(neighbours, _middle(neighbours, body))
            seen.update(group)
            groups.append(list(group))
    return groups


def _outwards(neighbours: dict[int, list[int]], start: int) -> dict[int, int]:
    """All bodies that hang together with one, nearest first, each with the one before it on the way."""
    before = {start: start}
    queue = [start]
    for body in queue:
        for other in neighbours[body]:
            if other not in before:
                before[other] = body
                queue.append(other)
    return before


def _middle(neighbours: dict[int, list[int]], body: int) -> int:
    """The body in the middle of the longest way through a group."""
    end = list(_outwards(neighbours, body))[-1]
    before = _outwards(neighbours, end)
    way = [list(before)[-1]]
    while way[-1] != end:
        way.append(before[way[-1]])
    return way[len(way) // 2]


def link(assembly: Assembly, group: Sequence[int], origin: Point, reach_in: Array) -> Linkage:
    """The linkage of one connected group, its first body the root.

    `reach_in` scales the free coordinates: about how far, in inches, a body's edge moves for one radian.
    Raises FlotationInputError if the hinges close a ring: then they are not free of one another.
    """
    place = {body: index for index, body in enumerate(group)}
    hinges = [h for h in assembly.hinges if h.first in place]
    if len(hinges) != len(group) - 1:
        raise FlotationInputError("hinges", "the hinges close a ring; join one pair of the sections rigidly")
    depth = {group[0]: 0}
    levels: dict[int, list[tuple[int, int, Hinge]]] = {}
    for member in group:
        for hinge in hinges:
            if member in (hinge.first, hinge.second):
                other = hinge.second if hinge.first == member else hinge.first
                if other not in depth:
                    depth[other] = depth[member] + 1
                    levels.setdefault(depth[other], []).append((place[other], place[member], hinge))
    ordered = tuple(_level(levels[d], origin) for d in sorted(levels))
    by_child = {c: h for links in levels.values() for c, _, h in links}
    return Linkage(tuple(group), tuple(by_child[c] for c in range(1, len(group))), ordered, reach_in)


def _level(links: list[tuple[int, int, Hinge]], origin: Point) -> _Level:
    children = np.array([child for child, _, _ in links], dtype=np.intp)
    parents = np.array([parent for _, parent, _ in links], dtype=np.intp)
    swing, bend = zip(*(_hinge_turn(hinge, origin) for _, _, hinge in links), strict=True)
    forked = len(set(parents.tolist())) < len(parents)
    return _Level(children, parents, 3 + children, 2 + children, np.stack(swing), np.stack(bend), forked)
