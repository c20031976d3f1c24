"""How much of each float is under water at any attitude, exactly, for whole arrays of floats and cases at once.

A body's attitude is its upward unit vector n in its own frame, and the height h of its origin above the water. A
point p of the body is then at height h + n.p, so the water is the plane h + n.p = 0 seen from the body. The water
lifts a float with the energy (density x integral of depth over the wet part), whose slopes are the wet volume and its
first moments, and whose curvatures are the second moments of the cut by the water plane. These are worked out here.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_TINY = 1e-200
_MANY = 1000  # floats by cases, from which looking at each is quicker than working all out
_GAUSS = np.array([0.5 - np.sqrt(1 / 12), 0.5 + np.sqrt(1 / 12)])
_SHARE = np.array([1, 1 / 2, 1, 1 / 3, 1 / 2, 1]) / 2
_WHOLE = np.array([[1, 1 / 2, 1 / 2], [1 / 2, 1 / 3, 1 / 4], [1 / 2, 1 / 4, 1 / 3]])
_BOTTOM_WET = np.stack([_WHOLE, np.zeros((3, 3))], axis=2).reshape(3, 3, 2, 1, 1)
_SQUARE = np.array([0, 1, 2, 1, 3, 4, 2, 4, 5])


@dataclass(frozen=True, slots=True)
class Immersion:
    """Of each float, in its own axes.

    volume_in3: the wet volume, shape (cases, floats). moment_in4: its first moments, shape (3, cases, floats).
    plane: the integral of (x, y, z, 1)(x, y, z, 1)^T over the cut by the water plane, shape (4, 4, cases, floats):
    its last entry is the waterplane area in square inches.
    """

    volume_in3: Array
    moment_in4: Array
    plane: Array


def immerse_boxes(size_in: Array, centre_in: Array, normal: Array, height_in: Array) -> Immersion:
    """Wet volume, moments and waterplane of boxes cut by the water plane at any attitude.

    size_in, centre_in: (3, 1 or cases, floats), edges and centre of the boxes along their own axes; normal:
    (3, cases, 1 or floats), up in those axes; height_in: (cases, floats), of the origin of those axes above the water.
    Each box is taken as columns standing on the side most level; the wet length of a column is linear over the base,
    so the base cut by the water line needs polynomials of degree three only, which two Gauss points integrate
    without error. Nothing is divided by a small slope, so a level box loses no figures. Source GEOMETRY.

    >>> def column(*values): return np.array(values, dtype=float).reshape(3, 1, 1)
    >>> half = immerse_boxes(column(4, 2, 1), column(0, 0, 0), column(0, 0, 1), np.zeros((1, 1)))
    >>> float(half.volume_in3[0, 0]), float(half.plane[3, 3, 0, 0])
    (4.0, 8.0)
    """
    slope = np.abs(normal)
    if (slope[2] >= np.maximum(slope[0], slope[1])).all():
        return _upright_boxes(size_in, centre_in, normal, height_in)
    shape = np.broadcast_shapes(size_in.shape, normal.shape)
    last = np.argmax(np.broadcast_to(slope, shape), axis=0)
    order = np.stack([(last + 1) % 3, (last + 2) % 3, last])
    size, centre, up = (
        np.take_along_axis(np.broadcast_to(part, shape), order, 0) for part in (size_in, centre_in, normal)
    )
    return _back_in_order(_upright_boxes(size, centre, up, height_in), order)


def _back_in_order(turned: Immersion, order: NDArray[np.intp]) -> Immersion:
    back = np.argsort(order, axis=0)
    moment = np.take_along_axis(turned.moment_in4, back, 0)
    rows = np.concatenate([back, np.full((1, *back.shape[1:]), 3)])
    plane = np.take_along_axis(turned.plane, rows[:, None], 0)
    return Immersion(turned.volume_in3, moment, np.take_along_axis(plane, rows[None], 1))


def _upright_boxes(size: Array, centre: Array, normal: Array, height: Array) -> Immersion:
    """Boxes whose third axis is the most upright, measured along u, v, w from the deepest corner of each."""
    edge = np.copysign(size, normal)
    drop = normal * edge
    corner = centre - 0.5 * edge
    line = _depth_lines(corner, normal, height, drop)
    base = _wet_base(line[0], drop[0], drop[1])
    edge[2] = 1 / normal[2]
    scale = size[0] * size[1] * np.abs(edge[2])
    volume, along = _wet_columns(line, base, drop[2])
    volume = scale * volume
    moment = edge * (scale * along) + corner * volume
    return Immersion(volume, moment, _plane_moments(line[:, 0], base[:, :, 0] - base[:, :, 1], edge, corner, scale))


def _dot(first: Array, second: Array) -> Array:
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def _depth_lines(corner: Array, normal: Array, height: Array, drop: Array) -> Array:
    """Depth over the box's bottom and over its top as d0 + du u + dv v, for u and v from 0 to 1."""
    deepest = -height - _dot(corner, normal)
    line = np.empty((3, 2, *deepest.shape))
    line[0, 0] = deepest
    line[0, 1] = deepest - drop[2]
    line[1] = -drop[0]
    line[2] = -drop[1]
    return line


def _wet_base(depth: Array, drop_u: Array, drop_v: Array) -> Array:
    """As `_cut_base`. Of a box whose bottom is wet all over and whose top is dry the answer is known beforehand."""
    known = (depth[0] >= drop_u + drop_v) & (depth[1] <= 0)
    if known.all():
        return _BOTTOM_WET
    if known.size < _MANY:
        return _cut_base(depth, drop_u, drop_v)
    base = np.empty((3, 3, *depth.shape))
    base[:] = _BOTTOM_WET
    cut = ~known
    u, v = (np.broadcast_to(drop, cut.shape)[cut] for drop in (drop_u, drop_v))
    base[:, :, :, cut] = _cut_base(depth[:, cut], u, v)
    return base


def _cut_base(depth: Array, drop_u: Array, drop_v: Array) -> Array:
    """Moments (1, u, v)(1, u, v)^T of the part of the unit square where depth - drop_u u - drop_v v is above zero.

    Along v the wet part is first as wide as the square, then narrows on a slant, then ends.
    """
    reach = np.empty((2, 1, *depth.shape))
    reach[0, 0] = depth - drop_u
    reach[1, 0] = depth
    reach /= drop_v + _TINY
    np.minimum(np.maximum(reach, 0.0, out=reach), 1.0, out=reach)
    start = reach.copy()
    reach[1] -= reach[0]
    start[1] = start[0]
    start[0] = 0.0
    gauss = _GAUSS.reshape(2, *[1] * depth.ndim)
    v = start + reach * gauss
    width = (depth - drop_v * v) / (drop_u + _TINY)
    np.minimum(np.maximum(width, 0.0, out=width), 1.0, out=width)
    terms = np.empty((6, *v.shape))
    np.multiply(reach, width, out=terms[0])
    np.multiply(terms[0], width, out=terms[1])
    np.multiply(terms[0], v, out=terms[2])
    np.multiply(terms[1], width, out=terms[3])
    np.multiply(terms[1], v, out=terms[4])
    np.multiply(terms[2], v, out=terms[5])
    moments = terms.reshape(6, 4, *depth.shape).sum(1) * _SHARE.reshape(6, *[1] * depth.ndim)
    return moments[_SQUARE].reshape(3, 3, *depth.shape)


def _wet_columns(line: Array, base: Array, drop_w: Array) -> tuple[Array, Array]:
    """Volume and first moments of depth: the columns from the bottom up to the water, less what is above the top."""
    depth_moments = _dot(np.swapaxes(base, 0, 1), line)
    squares = _dot(depth_moments, line)
    wet = depth_moments[:, 0] - depth_moments[:, 1]
    along = np.empty_like(wet)
    along[:2] = wet[1:]
    along[2] = 0.5 * (squares[0] - squares[1]) - drop_w * depth_moments[0, 1]
    return wet[0], along


def _plane_moments(line: Array, cut: Array, edge: Array, corner: Array, scale: Array) -> Array:
    """Second moments of the water plane from those of its shadow on the base: p = corner + edge x (u, v, depth)."""
    cut = cut * scale
    lift = _dot(cut, line)
    first = np.empty_like(edge)
    first[:2] = cut[0, 1:]
    first[2] = lift[0]
    first *= edge
    second = np.empty((3, 3, *edge.shape[1:]))
    second[:2, :2] = cut[1:, 1:]
    second[:2, 2] = second[2, :2] = lift[1:]
    second[2, 2] = _dot(lift, line)
    second *= edge[:, None] * edge
    area = cut[0, 0]
    about_origin = first + corner * area
    plane = np.empty((4, 4, *edge.shape[1:]))
    plane[:3, :3] = second + corner[:, None] * about_origin + first[:, None] * corner
    plane[:3, 3] = plane[3, :3] = about_origin
    plane[3, 3] = area
    return plane
