"""Straight beams on any number of rigid supports and springs, by direct stiffness, many load patterns at a time.

Bernoulli-Euler: slender, straight, linear. Inches, pounds; deflection and load down are positive downwards, shear is
the sum of upward less downward forces to the left, a sagging moment is positive. Springs push and pull: a float that
would leave the water is not noticed here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
SLIM_IN = 1e-6


class Unsupported(ValueError):
    """The beam can move without resistance: it needs two supports apart, or springs."""


@dataclass(frozen=True, slots=True)
class Spring:
    """A spring under the beam: position in inches, stiffness in pounds per inch; infinite is a rigid support."""

    x_in: float
    lb_per_in: float = float("inf")


@dataclass(frozen=True, slots=True)
class Spread:
    """An even load from one place to another, pounds per inch, downwards."""

    from_in: float
    to_in: float
    lb_per_in: float


@dataclass(frozen=True, slots=True)
class Point:
    """A load at one place, pounds, downwards."""

    x_in: float
    lb: float


Load = Spread | Point


@dataclass(frozen=True, slots=True)
class Beam:
    """A prismatic beam from 0 to its length: EI in lb sq in, and what holds it."""

    length_in: float
    ei_lb_sqin: float
    springs: tuple[Spring, ...]


class Bent:
    """Beams of one length, each under each of its patterns: arrays with one row a beam, one column a pattern.

    `x_in` are the nodes, which all beams share.
    """

    def __init__(self, grid: "_Grid", loads: "_Loads", moved: Array) -> None:
        self.x_in, self.loads, self._moved = grid.x_in, loads, moved
        dofs = grid.dofs
        forces = np.einsum("eij,bpej->bpei", grid.stiffness, moved[:, :, dofs])
        ends = forces * loads.ei[:, None, None, None] - loads.spread[..., None] * grid.fixed
        self._ends = ends * _SIGNS
        self._length = grid.length

    @property
    def deflection_in(self) -> Array:
        """Down at each node."""
        return self._moved[..., 0::2]

    @property
    def shear_lb(self) -> Array:
        """At both ends of each element between nodes."""
        return self._ends[..., 0::2]

    @property
    def moment_lb_in(self) -> Array:
        """At both ends of each element between nodes."""
        return self._ends[..., 1::2]

    @property
    def most_moment_lb_in(self) -> Array:
        """The greatest moment of either sign, also between nodes."""
        start, load = self._ends[..., 0], self.loads.spread
        zero = start / np.where(load == 0, -1.0, load)
        inside = (zero > 0) & (zero < self._length) & (load != 0)
        peak = np.abs(self._ends[..., 1] + start * zero / 2) * inside
        return np.maximum(np.abs(self.moment_lb_in).max(axis=-1), peak).max(axis=-1)

    @property
    def most_shear_lb(self) -> Array:
        return np.abs(self.shear_lb).max(axis=(-1, -2))

    @property
    def most_bend_in(self) -> Array:
        """The furthest any node lies from the straight line through the two ends of the beam."""
        down, share = self.deflection_in, self.x_in / self.x_in[-1]
        return np.abs(down - down[..., :1] * (1 - share) - down[..., -1:] * share).max(axis=-1)

    @property
    def reactions_lb(self) -> Array:
        """What holds each node, upwards: nothing where there is no support."""
        shear = self.shear_lb
        held = -self.loads.points
        held[..., 1:] += shear[..., 1]
        held[..., :-1] -= shear[..., 0]
        return -held


def bend(beams: Sequence[Beam], patterns: Sequence[Sequence[Sequence[Load]]], *, also_at: Sequence[float] = ()) -> Bent:
    """Solve beams of one length together, each under its own patterns of loads, as many for each.

    `also_at` adds places where deflection is wanted, inches. Raises ValueError for a size, stiffness or place that
    cannot be, and Unsupported when nothing holds a beam. Source: STATICS.

    >>> span = Beam(100.0, 1e6, (Spring(0), Spring(100)))
    >>> bent = bend([span], [[[Spread(0, 100, 2)], [Point(50, 40)]]])
    >>> [round(float(m), 6) for m in bent.most_moment_lb_in[0]], [round(float(v), 6) for v in bent.most_shear_lb[0]]
    ([2500.0, 1000.0], [100.0, 20.0])
    """
    _refuse(beams, patterns)
    grid = _Grid(_nodes(beams, patterns, also_at))
    loads = _Loads(grid, beams, patterns)
    springs, rigid = _springs(grid, beams)
    whole = grid.assembled * loads.ei[:, None, None]
    diagonal = np.arange(0, 2 * len(grid.x_in), 2)
    whole[:, diagonal, diagonal] += springs
    force = loads.force(grid)
    # A rigid support is a node that cannot sink: its own row says so, and nobody else hears of it.
    for beam, node in rigid:
        whole[beam, 2 * node, :] = whole[beam, :, 2 * node] = force[beam, :, 2 * node] = 0.0
        whole[beam, 2 * node, 2 * node] = loads.ei[beam]
    return Bent(grid, loads, _solve(whole, force))


_SIGNS = np.array([-1.0, 1.0, 1.0, -1.0])


class _Grid:
    """Nodes, the elements between them and their stiffness for an EI of one."""

    def __init__(self, x_in: Array) -> None:
        self.x_in, self.length = x_in, np.diff(x_in)
        self.middle = x_in[:-1] + self.length / 2
        self.dofs = 2 * np.arange(len(self.length))[:, None] + np.arange(4)
        one, half = np.ones_like(self.length), self.length / 2
        square = half * half
        terms = np.array([one, half, square * 4 / 3, square * 2 / 3])
        self.stiffness = (terms[_TERM] * _SIGN[..., None] * (12 / self.length**3)).transpose(2, 0, 1)
        self.fixed = np.array([half, square / 3, half, -square / 3]).T
        size = 2 * len(x_in)
        flat = np.bincount(_places(size), self.stiffness.ravel(), size * size)
        self.assembled = flat.reshape(size, size)

    def node(self, places: Sequence[float]) -> NDArray[np.intp]:
        return np.searchsorted(self.x_in, np.asarray(places, dtype=float) - 2 * SLIM_IN)


@lru_cache(maxsize=128)
def _places(size: int) -> NDArray[np.intp]:
    """Where the terms of the elements' stiffness go in the whole beam's, row after row."""
    dofs = np.arange(0, size - 2, 2)[:, None] + np.arange(4)
    return (dofs[:, :, None] * size + dofs[:, None, :]).ravel()


_TERM = np.array([[0, 1, 0, 1], [1, 2, 1, 3], [0, 1, 0, 1], [1, 3, 1, 2]])
_SIGN = np.array([[1.0, 1, -1, 1], [1, 1, -1, 1], [-1, -1, 1, -1], [1, 1, -1, 1]])


class _Loads:
    """The even load of each element and the point load of each node, one row a beam, one column a pattern."""

    def __init__(self, grid: _Grid, beams: Sequence[Beam], patterns: Sequence[Sequence[Sequence[Load]]]) -> None:
        self.ei = np.array([beam.ei_lb_sqin for beam in beams])
        shape = len(beams), len(patterns[0])
        flat = [
            (row * shape[1] + column, load)
            for row, own in enumerate(patterns)
            for column, pattern in enumerate(own)
            for load in pattern
        ]
        rows, nodes, pounds = _columns([(at, load.x_in, load.lb) for at, load in flat if isinstance(load, Point)])
        points = np.zeros((shape[0] * shape[1], len(grid.x_in)))
        np.add.at(points, (rows.astype(int), grid.node(nodes)), pounds)
        even = [(at, load.from_in, load.to_in, load.lb_per_in) for at, load in flat if isinstance(load, Spread)]
        rows, start, end, per_in = _columns(even, 4)
        over = ((grid.middle > start[:, None]) & (grid.middle < end[:, None])) * per_in[:, None]
        spread = np.zeros((shape[0] * shape[1], len(grid.middle)))
        np.add.at(spread, rows.astype(int), over)
        self.points = points.reshape(*shape, -1)
        self.spread = spread.reshape(*shape, -1)

    def force(self, grid: _Grid) -> Array:
        force = np.zeros((*self.points.shape, 2))
        ends = self.spread[..., None] * grid.fixed
        force[..., :-1, :] += ends[..., :2]
        force[..., 1:, :] += ends[..., 2:]
        force[..., 0] += self.points
        return force.reshape(*self.points.shape[:2], -1)


def _columns(rows: Sequence[tuple[float, ...]], width: int = 3) -> Array:
    return np.array(rows, dtype=float).reshape(-1, width).T


def _refuse(beams: Sequence[Beam], patterns: Sequence[Sequence[Sequence[Load]]]) -> None:
    if not beams or len(beams) != len(patterns) or len({len(own) for own in patterns}) != 1 or not patterns[0]:
        raise ValueError("every beam needs as many load patterns, and at least one")
    if len({beam.length_in for beam in beams}) != 1:
        raise ValueError("beams solved together are of one length")
    for beam in beams:
        if not (beam.length_in > 0 and beam.ei_lb_sqin > 0):
            raise ValueError("a beam needs a length and a stiffness")
        places = [spring.x_in for spring in beam.springs]
        if not places or max(places) - min(places) <= SLIM_IN:
            raise Unsupported("the beam needs two supports apart")
        if not (min(places) >= -SLIM_IN and max(places) <= beam.length_in + SLIM_IN):
            raise ValueError("supports lie on the beam")
        if not all(spring.lb_per_in > 0 for spring in beam.springs):
            raise ValueError("supports push back")


def _nodes(beams: Sequence[Beam], patterns: Sequence[Sequence[Sequence[Load]]], also_at: Sequence[float]) -> Array:
    length = beams[0].length_in
    places = {0.0, length, *also_at}
    for beam in beams:
        places.update([spring.x_in for spring in beam.springs])
    for own in patterns:
        for pattern in own:
            for load in pattern:
                places.update((load.x_in,) if isinstance(load, Point) else (load.from_in, load.to_in))
    inside = sorted({min(max(place, 0.0), length) for place in places})
    kept = [inside[0]]
    kept += [place for before, place in pairwise(inside) if place - before > SLIM_IN]
    kept[-1] = length
    return np.array(kept)


def _springs(grid: _Grid, beams: Sequence[Beam]) -> tuple[Array, list[tuple[int, int]]]:
    """Stiffness under each node of each beam, and the nodes that are held outright."""
    flat = [(row, spring.x_in, spring.lb_per_in) for row, beam in enumerate(beams) for spring in beam.springs]
    rows, places, stiff = _columns(flat)
    rows, nodes = rows.astype(int), grid.node(places)
    held = np.isinf(stiff)
    under = np.zeros((len(beams), len(grid.x_in)))
    np.add.at(under, (rows, nodes), np.where(held, 0.0, stiff))
    return under, list(zip(rows[held].tolist(), nodes[held].tolist(), strict=True))


def _solve(stiffness: Array, force: Array) -> Array:
    try:
        return np.linalg.solve(stiffness, force.transpose(0, 2, 1)).transpose(0, 2, 1)
    except np.linalg.LinAlgError:
        raise Unsupported("nothing holds the beam") from None
