"""How much of a round float, lying on its side, is under water at any heel and trim, square ends cut rightly.

Every slice across the axis is a circle cut by a straight water line: a segment with half angle phi, where the depth
of the slice's middle is -radius x cos phi. The depth is linear along the axis, so the axis splits into a part wholly
under, a part cut, and a part dry. Over the cut part everything is a polynomial in sines, cosines and phi itself, and
sixteen Gauss points in phi (not in length, where the ends of the cut have root-like corners) reach about 1e-14.
"""

from dataclasses import dataclass

import numpy as np

from .immersion import Array, Immersion

_TINY = 1e-150
_PLUMB = 1e-9  # an axis this near to plumb, in radians, is taken to lean so much
_LEVEL = 1e-3
_SERIES_BELOW = 0.1
_POINTS, _WEIGHTS = (part.reshape(-1, 1, 1) for part in np.polynomial.legendre.leggauss(16))
_POINTS, _WEIGHTS = 0.5 * (1 + _POINTS), 0.5 * _WEIGHTS


@dataclass(frozen=True, slots=True)
class _Cut:
    """The cut part of each axis at the Gauss points: half angle, place x along the axis, weight in inches."""

    angle: Array
    along: Array
    weight: Array
    under: Array


def immerse_rounds(size_in: Array, centre_in: Array, normal: Array, height_in: Array) -> Immersion:
    """Wet volume, moments and waterplane of round floats lying along their own first axis, at any attitude.

    size_in: (3, 1 or cases, floats), length, diameter, diameter; the rest as for `immerse_boxes`, in inches.
    Source GEOMETRY.

    >>> def column(*values): return np.array(values, dtype=float).reshape(3, 1, 1)
    >>> half = immerse_rounds(column(1, 2, 2), column(0, 0, 0), column(0, 0, 1), np.zeros((1, 1)))
    >>> round(float(half.volume_in3[0, 0]), 6), round(float(half.plane[3, 3, 0, 0]), 6)
    (1.570796, 2.0)
    """
    with np.errstate(over="ignore", under="ignore"):
        length, radius = size_in[0], 0.5 * size_in[1]
        lean = np.maximum(np.hypot(normal[1], normal[2]), _PLUMB)
        depth = -height_in - (centre_in * normal).sum(0)
        cut = _cut_axis(length, radius * lean, normal[0], depth)
        upward = np.stack(np.broadcast_arrays(np.zeros_like(lean), normal[1] / lean, normal[2] / lean))
        volume, along, fall = _wet_slices(cut, length, radius, normal[0])
        moment = centre_in * volume + upward * fall
        moment[0] += along
        return Immersion(volume, moment, _plane_moments(cut, radius, upward, centre_in, lean))


def _cut_axis(length: Array, reach: Array, tilt: Array, depth: Array) -> _Cut:
    """Split the axis, measured from its deeper end; `reach` is the radius seen upright."""
    fall = np.abs(tilt)
    rate = fall / reach + _TINY
    deep, shallow = (depth + 0.5 * fall * length) / reach, (depth - 0.5 * fall * length) / reach
    under = np.minimum(np.maximum((deep - 1) / rate, 0.0), length)
    end = np.minimum(np.maximum((deep + 1) / rate, 0.0), length)
    deep, shallow = (np.minimum(np.maximum(part, -1.0), 1.0) for part in (deep, shallow))
    width = np.where(rate * length < _LEVEL, end - under, (deep - shallow) / rate)
    most, least = np.arccos(-deep), np.arccos(-shallow)
    angle = least + (most - least) * _POINTS
    share = _WEIGHTS * np.sin(angle)
    share = share / (share.sum(0) + _TINY)
    half = 0.5 * (most - least) + _TINY
    part = np.sin(0.5 * (most + angle)) * np.sin(half * (1 - _POINTS))
    part = part / ((np.sin(0.5 * (most + least)) + _TINY) * np.sin(half))
    along = np.where(tilt < 0, -1.0, 1.0) * (under + width * part - 0.5 * length)
    return _Cut(angle, along, width * share, under)


def _segment(angle: Array) -> Array:
    """Area of a segment of the unit circle of this half angle: angle - sin cos, by its series where that cancels."""
    square = angle * angle
    series = 2 / 3 * angle * square * (1 - square / 5 * (1 - 2 * square / 21 * (1 - square / 18)))
    return np.where(angle < _SERIES_BELOW, series, angle - 0.5 * np.sin(2 * angle))


def _wet_slices(cut: _Cut, length: Array, radius: Array, tilt: Array) -> tuple[Array, Array, Array]:
    """Wet volume, its first moment along the axis, and its first moment upright across the axis."""
    area = cut.weight * _segment(cut.angle) * radius**2
    circle = np.pi * radius**2
    volume = circle * cut.under + area.sum(0)
    deep_side = np.where(tilt < 0, -1.0, 1.0)
    along = 0.5 * circle * deep_side * cut.under * (cut.under - length) + (area * cut.along).sum(0)
    fall = -2 / 3 * radius**3 * (cut.weight * np.sin(cut.angle) ** 3).sum(0)
    return volume, along, fall


def _plane_moments(cut: _Cut, radius: Array, upward: Array, centre: Array, lean: Array) -> Array:
    """Second moments of the water plane: strips of half width radius x sin phi, one for each slice."""
    half = radius * np.sin(cut.angle)
    strip = 2 * half * cut.weight / lean
    rise = -radius * np.cos(cut.angle)
    area = strip.sum(0)
    by_rise = strip * rise
    across = upward[[0, 2, 1]] * np.array([0.0, -1.0, 1.0]).reshape(3, 1, 1)
    first = upward * by_rise.sum(0)
    first[0] = (strip * cut.along).sum(0)
    second = upward[:, None] * upward * (by_rise * rise).sum(0)
    second += across[:, None] * across * ((strip * half * half).sum(0) / 3)
    second[0] = second[:, 0] = upward * (by_rise * cut.along).sum(0)
    second[0, 0] = (strip * cut.along**2).sum(0)
    about_origin = first + centre * area
    plane = np.empty((4, 4, *area.shape))
    plane[:3, :3] = second + centre[:, None] * about_origin + first[:, None] * centre
    plane[:3, 3] = plane[3, :3] = about_origin
    plane[3, 3] = area
    return plane
