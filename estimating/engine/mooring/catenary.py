"""A chain that does not stretch, hung from a dock to a weight on a level bottom, in closed form; arrays go through.

Inches and pounds, but any one unit of length and of force will do. `reach` is how far the dock stands from the weight
in plan, `height` how far its fitting is above the bottom. The chain lies on the bottom without friction. Three states:
slack (it hangs straight down, the rest lies), resting (part of it lies), hanging (all of it is off the bottom and pulls
upwards at the weight).
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
ROUNDS = 40  # five or six do; the rest is for cases nobody thought of
SETTLED = 1e-14


@dataclass(frozen=True, slots=True)
class Hung:
    """How chains hang: pull is level, the same all along; `vertical` is at the dock, `uplift` at the weight.

    A chain too short for where it is asked to reach has an infinite pull.
    """

    pull_lb: Array
    vertical_lb: Array
    uplift_lb: Array
    tension_lb: Array  # at the dock, where it is greatest
    resting: Array  # length that lies on the bottom, in the unit of lengths


def least_length(*, height: float, pull_lb: float, weight: float) -> float:
    """The shortest chain that does not lift at its weight: √(h² + 2Hh/w). Weight is per unit of length, in water.

    Raises ValueError below zero, or for a chain that weighs nothing. Source: CATENARY.

    >>> round(least_length(height=10, pull_lb=200, weight=1.23), 2)
    57.9
    """
    if not (height >= 0 and pull_lb >= 0 and weight > 0):
        raise ValueError("height and pull are zero or more, the chain weighs something")
    return sqrt(height * height + 2 * pull_lb / weight * height)


def least_length_under(*, height: float, tension_lb: float, weight: float) -> float:
    """The same from the tension at the dock: h √(2T/(wh) − 1). Raises ValueError where T is less than the chain's wh.

    Source: CATENARY.

    >>> round(least_length_under(height=25, tension_lb=1510e3, weight=828), 2)
    300.93
    """
    if not (height > 0 and weight > 0 and tension_lb >= weight * height):
        raise ValueError("the chain hangs at least its own weight from the dock")
    return height * sqrt(2 * tension_lb / (weight * height) - 1)


def reach_under(*, pull_lb: ArrayLike, height: ArrayLike, length: ArrayLike, weight: ArrayLike) -> Array:
    """How far from its weight a chain stands under a level pull: the way back from `hang`.

    Raises ValueError as `hang` does. Source: CATENARY.

    >>> round(float(reach_under(pull_lb=200, height=10, length=57.90, weight=1.23)), 2)
    56.74
    """
    pull, height, length, weight = _checked(pull_lb, height, length, weight)
    return reach_of(np.maximum(pull / weight, 1e-300), height, length)


def hang(*, reach: ArrayLike, height: ArrayLike, length: ArrayLike, weight: ArrayLike) -> Hung:
    """Pull, tension and uplift of chains at a reach. Weight is per unit of length, in water.

    Raises ValueError for a reach or height below zero, a length or weight not above zero, or what is no number.
    Source: CATENARY.

    >>> hung = hang(reach=56.74, height=10, length=57.90, weight=1.23)
    >>> [round(float(value)) for value in (hung.pull_lb, hung.tension_lb, hung.vertical_lb, hung.uplift_lb)]
    [199, 212, 71, 0]
    """
    reach, height, length, weight = _checked(reach, height, length, weight)
    a = _parameter(reach, height, length)
    return hung_at(a, reach, height, length, weight)


def hung_at(a: Array, reach: Array, height: Array, length: Array, weight: Array) -> Hung:
    """How chains hang whose pull is `a` lengths of their own weight. `reach` matters only where all of it hangs."""
    tight = ~np.isfinite(a) | (length < height)
    a = np.where(tight, 0.0, a)
    lifted = np.sqrt(height * height + 2 * a * height)
    hanging = (lifted > length) & ~tight
    chord = np.sqrt(np.maximum(length * length - height * height, 0.0))
    u = np.arcsinh(chord / np.maximum(2 * a, 1e-300))
    tanh = np.tanh(np.where(hanging, u, 1.0))
    vertical = np.where(hanging, (height / np.maximum(tanh, 1e-300) + length) / 2, np.minimum(lifted, length)) * weight
    vertical = np.where(tight, np.inf, vertical)
    pull = np.where(tight, np.inf, weight * a)
    return Hung(
        pull_lb=pull,
        vertical_lb=vertical,
        uplift_lb=np.where(hanging | tight, np.maximum(vertical - weight * length, 0.0), 0.0),
        tension_lb=np.hypot(pull, vertical),
        resting=np.where(hanging | tight, 0.0, np.maximum(length - lifted, 0.0)),
    )


def reach_of(a: Array, height: Array, length: Array) -> Array:
    """Reach where the pull is `a` lengths of the chain's weight; 0 where the chain is shorter than the height."""
    return reach_and_give(a, height, length)[0]


def reach_and_give(a: Array, height: Array, length: Array) -> tuple[Array, Array]:
    """Reach, and how much of it each further `a` gives: dx/da. Both 0 where the chain is shorter than the height."""
    chord2 = (length - height) * (length + height)
    chord = np.sqrt(np.maximum(chord2, 0.0))
    resting = 2 * a * height < chord2
    # Where part of it lies v is the angle's measure at the top, where all hangs half of the two ends' difference.
    ratio = np.where(resting, np.sqrt(height / (2 * a)), chord / (2 * a))
    half = np.arcsinh(ratio)
    give = 2 * _less_its_tanh(half)
    lain = length - height * _sag_share(np.where(resting & (half > 0), 2 * half, 1.0))
    return np.where(resting, lain, 2 * a * half), give


def _parameter(reach: Array, height: Array, length: Array) -> Array:
    """a = pull / weight: 0 where slack, infinite where the chain does not reach."""
    reach, height, length = np.broadcast_arrays(reach, height, length)
    chord2 = (length - height) * (length + height)
    chord = np.sqrt(np.maximum(chord2, 0.0))
    flat = height == 0
    limit = np.where(flat, np.inf, chord2 / np.where(flat, 1.0, 2 * height))
    edge = np.where(flat, length, reach_of(np.where(np.isfinite(limit) & (limit > 0), limit, 1.0), height, length))
    a = np.zeros(reach.shape)
    slack = reach <= length - height
    resting = ~slack & (reach <= edge) & (chord2 > 0)
    hanging = ~slack & ~resting & (reach < chord)
    a[~slack & ~resting & ~hanging] = np.inf
    a[resting] = _resting(reach[resting], height[resting], length[resting])
    a[hanging] = _hanging(reach[hanging], chord[hanging])
    a[chord2 < 0] = np.inf
    return a


def _resting(reach: Array, height: Array, length: Array) -> Array:
    """Solve (sinh v − v) / (cosh v − 1) = (L − x) / h for v, and a = h / (cosh v − 1)."""
    share = (length - reach) / height
    # Good at both ends: the left side starts as v/3 and comes up to 1 as 1 - 2(v - 1)/e^v.
    v = np.where(share < 0.7, 3 * share * (1 + share * share / 2), 4.0 - np.log(np.maximum(1 - share, 1e-300)))
    for _ in range(ROUNDS):
        value = _sag_share(v)
        slope = 1 - value / np.tanh(v / 2)
        stepped = np.clip(v - (value - share) / np.maximum(slope, 1e-300), v / 4, np.minimum(v * 4 + 1, 700.0))
        settled = (np.abs(stepped - v) <= SETTLED * v).all()
        v = stepped
        if settled:
            break
    return height / (2 * np.sinh(v / 2) ** 2)


def _hanging(reach: Array, chord: Array) -> Array:
    """Solve sinh u / u = √(L² − h²) / x for u, and a = x / 2u."""
    asked = np.log1p((chord - reach) / reach)
    u = np.sqrt(6 * asked * (1 + asked / 5)) + np.where(asked > 3, asked * 0.2, 0.0)
    for _ in range(ROUNDS):
        value = np.log1p(_sinh_less(u) / u)
        slope = _langevin(u)
        stepped = np.clip(u - (value - asked) / slope, u / 4, u * 4)
        settled = (np.abs(stepped - u) <= SETTLED * u).all()
        u = stepped
        if settled:
            break
    return reach / (2 * u)


def _sag_share(v: Array) -> Array:
    """(sinh v − v) / (cosh v − 1): how much of its height a lifted chain is longer than its reach."""
    return _sinh_less(v) / (2 * np.sinh(v / 2) ** 2)


def _sinh_less(v: Array) -> Array:
    """sinh v − v without losing figures near 0."""
    square = v * v
    near = v * square / 6 * (1 + square / 20 * (1 + square / 42 * (1 + square / 72 * (1 + square / 110))))
    return np.where(v < 0.3, near, np.sinh(v) - v)


def _langevin(u: Array) -> Array:
    """coth u − 1/u without losing figures near 0."""
    square = u * u
    near = u / 3 * (1 - square / 15 * (1 - square * 2 / 21))
    far = np.maximum(u, 0.05)
    return np.where(u < 0.05, near, 1 / np.tanh(far) - 1 / far)


def _less_its_tanh(u: Array) -> Array:
    """u − tanh u without losing figures near 0."""
    square = u * u
    near = u * square / 3 * (1 - square * 2 / 5 * (1 - square * 17 / 42 * (1 - square * 62 / 153)))
    return np.where(u < 0.15, near, u - np.tanh(u))


def _checked(first: ArrayLike, height: ArrayLike, length: ArrayLike, weight: ArrayLike) -> tuple[Array, ...]:
    given = np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in (first, height, length, weight)))
    first, height, length, weight = given
    if not all(np.isfinite(value).all() for value in given):
        raise ValueError("every figure of a chain is a number")
    if (first < 0).any() or (height < 0).any() or (length <= 0).any() or (weight <= 0).any():
        raise ValueError("reach, pull and height are zero or more, length and weight above zero")
    return first, height, length, weight
