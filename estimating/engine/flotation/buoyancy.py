"""Floats packed into arrays, and what the water does to the bodies they carry.

A row is one thing to solve: one load case of one arrangement of floats. Every row has the same number of floats; a
row may have floats of its own (a search among layouts), and then spare places hold floats without lift or weight.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from .geometry import FloatBody, FloatShape, Point
from .immersion import Array, Immersion, immerse_boxes
from .round_immersion import immerse_rounds


@dataclass(frozen=True, slots=True)
class _Kind:
    """Floats of one shape. Leading axes (3, 1 or rows, floats); `column` is each float's place among all floats.

    `proper` leaves out spare places and parts of the frame.
    """

    size: Array
    centre: Array
    turn: tuple[Array, Array] | None
    lift: Array
    proper: NDArray[np.bool_]
    body: NDArray[np.intp]
    column: NDArray[np.intp]
    is_round: bool

    def rows(self, rows: NDArray[np.intp]) -> "_Kind":
        if self.lift.shape[0] == 1:
            return self
        return replace(
            self,
            size=self.size[:, rows],
            centre=self.centre[:, rows],
            turn=self.turn and (self.turn[0][rows], self.turn[1][rows]),
            lift=self.lift[rows],
            proper=self.proper[rows],
        )

    def immerse(self, normal: Array, height: Array) -> Immersion:
        if self.turn is not None:
            normal = _turned(normal, self.turn[0], -self.turn[1])
        kernel = immerse_rounds if self.is_round else immerse_boxes
        wet = kernel(self.size, self.centre, normal, height)
        if self.turn is None:
            return wet
        plane = _turned(np.swapaxes(_turned(wet.plane, *self.turn), 0, 1), *self.turn)
        return Immersion(wet.volume_in3, _turned(wet.moment_in4, *self.turn), plane)

    def extremes(self, normal: Array, height: Array) -> tuple[Array, Array, Array]:
        """Heights above the water of the lowest and the highest corner of each float's top, and of its lowest point."""
        up = normal if self.turn is None else _turned(normal, self.turn[0], -self.turn[1])
        middle = height + (self.centre * up).sum(0)
        half = 0.5 * self.size
        across = half[0] * np.abs(up[0])
        if self.is_round:
            rise = half[1] * np.hypot(up[1], up[2])
            return middle + rise - across, middle + rise + across, middle - rise - across
        across = across + half[1] * np.abs(up[1])
        rise = half[2] * up[2]
        return middle + rise - across, middle + rise + across, middle - np.abs(rise) - across


def _turned(vector: Array, cosine: Array, sine: Array) -> Array:
    """The first two entries along axis 0 turned in plan, the others as they are."""
    shape = np.broadcast_shapes(vector.shape, (1, *np.broadcast_shapes(cosine.shape, vector.shape[-2:])))
    turned = np.empty(shape)
    turned[0] = cosine * vector[0] - sine * vector[1]
    turned[1] = sine * vector[0] + cosine * vector[1]
    turned[2:] = vector[2:]
    return turned


@dataclass(frozen=True, slots=True)
class FloatArrays:
    """All floats of all rows, told apart by shape; `bodies` is how many bodies they belong to."""

    kinds: tuple[_Kind, ...]
    bodies: int
    floats: int

    def rows(self, rows: NDArray[np.intp]) -> "FloatArrays":
        """The same floats for some of the rows only."""
        return FloatArrays(tuple(kind.rows(rows) for kind in self.kinds), self.bodies, self.floats)

    def pull(self, attitude: Array, water_lb_per_in3: Array) -> tuple[Array, Array]:
        """Slopes (4, rows, bodies) and curvatures (4, 4, rows, bodies) of the water's energy in (n, h) of each body.

        attitude is (4, rows, bodies): up vector and height of the origin, inches. Energy in in-lb.
        """
        rows = attitude.shape[1]
        slope, stiffness = np.zeros((4, rows, self.bodies)), np.zeros((4, 4, rows, self.bodies))
        for kind in self.kinds:
            up = attitude if self.bodies == 1 else attitude[:, :, kind.body]
            wet = kind.immerse(up[:3], np.broadcast_to(up[3], (rows, len(kind.body))))
            lift = kind.lift * water_lb_per_in3[:, None]
            slope[:3] -= self._by_body(kind, lift * wet.moment_in4)
            slope[3] -= self._by_body(kind, lift * wet.volume_in3)
            stiffness += self._by_body(kind, lift * wet.plane)
        return slope, stiffness

    def _by_body(self, kind: _Kind, values: Array) -> Array:
        if self.bodies == 1:
            return values.sum(-1, keepdims=True)
        starts = np.flatnonzero(np.diff(kind.body, prepend=-1))
        summed = np.zeros((*values.shape[:-1], self.bodies))
        summed[..., kind.body[starts]] = np.add.reduceat(values, starts, axis=-1)
        return summed

    def wet_volumes_in3(self, attitude: Array) -> Array:
        """Wet gross volume of every float, (rows, floats), in the order the floats were given."""
        volumes = np.zeros((attitude.shape[1], self.floats))
        for kind in self.kinds:
            up = attitude[:, :, kind.body]
            volumes[:, kind.column] = kind.immerse(up[:3], up[3]).volume_in3
        return volumes

    def extremes_in(self, attitude: Array) -> Array:
        """Of every float the heights above water of its lowest and highest top corner and of its lowest point.

        (3, rows, floats), inches; attitude as for `pull`. Spare places and parts of the frame say infinity.
        """
        heights = np.full((3, attitude.shape[1], self.floats), np.inf)
        for kind in self.kinds:
            up = attitude[:, :, kind.body]
            for height, own in zip(heights, kind.extremes(up[:3], up[3]), strict=True):
                height[:, kind.column] = np.where(kind.proper, own, np.inf)
        return heights


def pack_floats(bodies: Sequence[Sequence[FloatBody]], origin: Point) -> FloatArrays:
    """Arrays for one arrangement that serves every row; places are taken from `origin`, inches."""
    floats = [f for group in bodies for f in group]
    body = np.array([index for index, group in enumerate(bodies) for _ in group], dtype=np.intp)
    kinds = []
    for shape in FloatShape:
        column = np.array([i for i, f in enumerate(floats) if f.shape is shape], dtype=np.intp)
        if len(column):
            chosen = [[floats[i] for i in column]]
            kinds.append(_pack(chosen, np.array([origin]), body[column], column))
    return FloatArrays(tuple(kinds), len(bodies), len(floats))


def pack_rows(rows: Sequence[Sequence[FloatBody]], origins: Array) -> FloatArrays:
    """Arrays for single bodies with floats of their own in every row; `origins` is (rows, 3), inches.

    Boxes and round floats keep apart: each row's boxes come first, then its round floats.
    """
    kinds, used = [], 0
    for shape in FloatShape:
        split = [[f for f in row if f.shape is shape] for row in rows]
        most = max(len(row) for row in split)
        if most:
            spare = FloatBody(1.0, 1.0, 1.0, shape=shape)
            padded = [[*row, *[spare] * (most - len(row))] for row in split]
            body, column = np.zeros(most, dtype=np.intp), np.arange(used, used + most)
            kinds.append(_pack(padded, origins, body, column, counts=[len(row) for row in split]))
            used += most
    return FloatArrays(tuple(kinds), 1, used)


def _pack(
    rows: list[list[FloatBody]],
    origins: Array,
    body: NDArray[np.intp],
    column: NDArray[np.intp],
    counts: list[int] | None = None,
) -> _Kind:
    laid = [[_square_on(f) for f in row] for row in rows]
    table = np.array([[_numbers(f) for f in row] for row in laid]).transpose(2, 0, 1)
    size, centre, lift, angle, proper = table[:3], table[3:6] - origins.T[:, :, None], table[6], table[7], table[8] > 0
    if counts is not None:
        real = np.arange(lift.shape[1]) < np.array(counts)[:, None]
        lift, proper = lift * real, proper & real
    turn = (np.cos(angle), np.sin(angle)) if angle.any() else None
    if turn is not None:
        centre = _turned(centre, turn[0], -turn[1])
    return _Kind(size, centre, turn, lift, proper, body, column, rows[0][0].shape is FloatShape.ROUND)


def _numbers(f: FloatBody) -> tuple[float, ...]:
    proper = 0.0 if f.frame_part else 1.0
    return (f.length_in, f.width_in, f.height_in, *f.centre, f.buoyancy_factor, np.radians(f.turn_deg), proper)


def _square_on(f: FloatBody) -> FloatBody:
    """The same float without a turn, where swapping its sides says the same."""
    if f.turn_deg == 0:
        return f
    turn = f.turn_deg % 180
    if f.shape is FloatShape.BOX and turn == 90:
        return replace(f, length_in=f.width_in, width_in=f.length_in, turn_deg=0.0)
    return replace(f, turn_deg=0.0) if turn == 0 else f
