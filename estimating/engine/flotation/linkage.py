"""Bodies hung on one another by hinges: how the attitude of every body follows from a few free coordinates.

A body's attitude is x = (n, h): its up vector in its own frame and the height of the origin above the water. One body
of each connected group is the root, free to heave and to lean both ways. Every other body turns about the hinge to
the body before it, so that its attitude is T(angle) times that body's, exactly and at any angle; the hinge line stays
common to both. Turning in plan changes no height and is left out. Energies are linear in the attitude apart from the
water's, so slopes and curvatures in the free coordinates follow by carrying x and its slopes out along the tree and
the forces back along it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from .geometry import Assembly, FlotationInputError, Hinge, Point
from .immersion import Array

Index = NDArray[np.intp]

_TINY = 1e-150


@dataclass(frozen=True, slots=True)
class _Level:
    """All bodies equally far from the root: who they are, what they hang on, their free angle, their hinge."""

    children: Index
    parents: Index
    angles: Index
    columns: Index
    swing: Array
    bend: Array


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

    def attitudes(self, state: Array) -> Array:
        """The attitude of every body, (rows, bodies, 4)."""
        attitude = np.empty((len(state), self.bodies, 4))
        attitude[:, 0] = state[:, :4]
        for level in self.levels:
            turn = _turn(level, state)
            attitude[:, level.children] = (turn @ attitude[:, level.parents, :, None])[..., 0]
        return attitude

    def slopes(self, state: Array, attitude: Array) -> Array:
        """How each body's attitude changes with each free coordinate, (rows, bodies, 4, freedoms)."""
        slopes = np.zeros((len(state), self.bodies, 4, self.freedoms))
        slopes[:, 0, 3, 0] = 1.0
        slopes[:, 0, :3, 1:3] = np.swapaxes(_across(state[:, :3]), 1, 2)
        for level in self.levels:
            slopes[:, level.children] = _turn(level, state) @ slopes[:, level.parents]
            bent = _turn_slope(level, state) @ attitude[:, level.parents, :, None]
            slopes[:, level.children, :, level.columns] = np.moveaxis(bent[..., 0], 0, 1)
        return slopes

    def bending(self, state: Array, attitude: Array, slopes: Array, force: Array) -> Array:
        """What the curving of x itself adds to the curvature of the energy, `force` (rows, bodies, 4) being its slope.

        Of one body alone this is minus the up vector's share: the weight above the buoyancy, as in B - G.
        """
        force = force.copy()
        bending = np.zeros((len(state), self.freedoms, self.freedoms))
        for level in reversed(self.levels):
            pushed = force[:, level.children]
            parent = attitude[:, level.parents, :, None]
            across = np.einsum("rbi,rbij->rbj", pushed, _turn_slope(level, state))
            row = np.einsum("rbi,rbij->rbj", across, slopes[:, level.parents])
            twice = np.einsum("rbi,rbij,rbjk->rb", pushed, _turn_curve(level, state), parent)
            bending[:, level.columns, :] += row
            bending[:, :, level.columns] += np.swapaxes(row, 1, 2)
            bending[:, level.columns, level.columns] += twice
            carried = np.einsum("rbi,rbij->rbj", pushed, _turn(level, state))
            np.add.at(force, (slice(None), level.parents), carried)
        upright = np.einsum("ri,ri->r", force[:, 0, :3], state[:, :3])
        bending[:, 1, 1] -= upright
        bending[:, 2, 2] -= upright
        return bending


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


def _turn(level: _Level, state: Array) -> Array:
    angle = state[:, level.angles, None, None]
    return np.eye(4) + np.sin(angle) * level.swing + (1 - np.cos(angle)) * level.bend


def _turn_slope(level: _Level, state: Array) -> Array:
    angle = state[:, level.angles, None, None]
    return np.cos(angle) * level.swing + np.sin(angle) * level.bend


def _turn_curve(level: _Level, state: Array) -> Array:
    angle = state[:, level.angles, None, None]
    return np.cos(angle) * level.bend - np.sin(angle) * level.swing


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
    """Places of the bodies that hang together, each group in order of distance from its first body.

    >>> from estimating.engine.flotation.geometry import Mass, RigidBody, FloatBody
    >>> deck = ((0., 0., 0.), (1., 0., 0.), (1., 1., 0.))
    >>> one = RigidBody("A", (FloatBody(1, 1, 1),), Mass(1), deck)
    >>> connected_groups(Assembly((one, one, one), (Hinge(0, 2, 0, 0, 0, 1),)))
    [[0, 2], [1]]
    """
    groups, seen = [], set()
    for body in range(len(assembly.bodies)):
        if body in seen:
            continue
        group = [body]
        seen.add(body)
        for member in group:
            for other in _neighbours(assembly, member):
                if other not in seen:
                    seen.add(other)
                    group.append(other)
        groups.append(group)
    return groups


def _neighbours(assembly: Assembly, body: int) -> list[int]:
    ends = [(h.first, h.second) for h in assembly.hinges]
    return [b if a == body else a for a, b in ends if body in (a, b)]


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
    return _Level(children, parents, 3 + children, 2 + children, np.stack(swing), np.stack(bend))
