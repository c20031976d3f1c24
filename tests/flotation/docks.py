"""Docks the tests float: the trade's check dock, plain boxes in feet, and random ones."""

import math

import numpy as np

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import (
    Assembly,
    FloatBody,
    FloatShape,
    Hinge,
    Mass,
    PointLoad,
    RigidBody,
    buoyancy_factor_from_rating,
)
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Equilibrium

FT = 12.0
RATED = buoyancy_factor_from_rating(net_lift_lb=600, own_weight_lb=46, gross_volume_in3=48 * 24 * 16)
DECK_IN = 16 + 7.25 + 1  # float, 2x8 stringer, 5/4 deck
WET = Mass(820, 96, 0, 20)
SEASONED = Mass(650, 96, 0, 20)


def check_dock(name: str = "A", x_in: float = 0.0) -> RigidBody:
    """6 x 16 ft, six floats 24 x 48 x 16 in of 46 lb and 600 lb net, set to the outer edges and evenly along."""
    floats = tuple(FloatBody(48, 24, 16, x_in + x, y, 0, 46, RATED) for x in (28, 96, 164) for y in (-24, 24))
    corners = ((0, -36), (192, -36), (192, 36), (0, 36))
    deck = tuple((x_in + x, float(y), DECK_IN) for x, y in corners)
    return RigidBody(name, floats, Mass(820, x_in + 96, 0, 20), deck)


def chain(count: int) -> Assembly:
    """Check docks end to end, hinged to one another at the top of the frame."""
    bodies = tuple(check_dock(f"S{i}", 192.0 * i) for i in range(count))
    joints = (Hinge(i, i + 1, 192.0 * (i + 1), -36, 192.0 * (i + 1), 36, 23.25) for i in range(count - 1))
    return Assembly(bodies, tuple(joints))


def on_deck(weight_lb: float, x_in: float, y_in: float, body: int = 0) -> PointLoad:
    return PointLoad(body, weight_lb, x_in, y_in, DECK_IN)


def float_one(body: RigidBody, case: LoadCase) -> Equilibrium:
    return DockAfloat(Assembly((body,))).solve([case])[0]


def boxes_ft(
    boxes: list[tuple[float, float, float, float, float]], weight_lb: float, kg_ft: float, deck_ft: float = 6.0
) -> RigidBody:
    """Boxes (length, width, height, x, y) in feet, keels at level 0, with one weight on the middle line at KG."""
    floats = tuple(FloatBody(*(FT * value for value in box), 0.0) for box in boxes)
    x0, x1 = (side(f.x_in + sign * f.length_in / 2 for f in floats) for side, sign in ((min, -1), (max, 1)))
    y0, y1 = (side(f.y_in + sign * f.width_in / 2 for f in floats) for side, sign in ((min, -1), (max, 1)))
    z = FT * deck_ft
    deck = ((x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z))
    return RigidBody("boxes", floats, Mass(weight_lb, 0, 0, FT * kg_ft), deck)


def random_float(rng: np.random.Generator, x0: float, length: float, width: float) -> FloatBody:
    height = rng.uniform(6, 30)
    is_round = rng.random() < 0.3
    return FloatBody(
        rng.uniform(12, 120),
        height if is_round else rng.uniform(8, 60),
        height,
        x0 + rng.uniform(0, length),
        rng.uniform(-width / 2, width / 2),
        -height + rng.choice([0.0, rng.normal() * 3]),
        rng.choice([0.0, rng.uniform(5, 80)]),
        rng.uniform(0.5, 1.05),
        rng.choice([0.0, 90.0, rng.uniform(0, 360)]),
        FloatShape.ROUND if is_round else FloatShape.BOX,
    )


def random_assembly(rng: np.random.Generator, most_bodies: int = 6, *, stout: bool = False) -> Assembly:
    """Sections of any size on any floats, hinged at random, some of them weightless, lopsided or top heavy.

    Stout ones are light and have a good float near every corner besides.
    """
    bodies, hinges, starts, x0 = [], [], [], 0.0
    for index in range(int(rng.integers(1, most_bodies + 1))):
        length, width, level = rng.uniform(48, 360), rng.uniform(30, 144), rng.uniform(2, 14)
        floats = tuple(random_float(rng, x0, length, width) for _ in range(rng.integers(1, 9)))
        weight = rng.choice([0.0, 1.0, 1.0, 1.0]) * length * width / 144 * rng.uniform(2, 14)
        if stout:
            places = [(x0 + share * length, side * width / 2) for share in (0.1, 0.9) for side in (-0.8, 0.8)]
            floats += tuple(FloatBody(length / 4, width / 4, 18, x, y, -18, 20) for x, y in places)
            weight = 0.2 * sum(f.full_lift_lb() for f in floats)
        frame = Mass(weight, x0 + length / 2 + rng.normal() * 5, rng.normal() * 3, rng.uniform(0, level))
        corners = ((x0, -width / 2), (x0 + length, -width / 2), (x0 + length, width / 2), (x0, width / 2))
        bodies.append(RigidBody(f"{index}", floats, frame, tuple((x, y, level) for x, y in corners)))
        if index:
            angle = rng.choice([math.pi / 2, math.pi / 2, rng.uniform(0, 2 * math.pi)])
            end = (x0 + 40 * math.cos(angle), -20 + 40 * math.sin(angle))
            before = index - 1 if rng.random() < 0.8 else int(rng.integers(0, index))
            hinges.append(Hinge(before, index, x0, -20.0, *end, level))
        starts.append((x0, length, width, level))
        x0 += length
    return Assembly(tuple(bodies), tuple(hinges))


def random_loads(rng: np.random.Generator, assembly: Assembly) -> tuple[PointLoad, ...]:
    loads = []
    for _ in range(rng.integers(0, 4)):
        body = int(rng.integers(0, len(assembly.bodies)))
        (x0, y0, z), (x1, _, _), (_, y1, _), _ = assembly.bodies[body].deck
        weight = rng.uniform(0, 3000) * rng.choice([0.1, 1.0])
        loads.append(PointLoad(body, weight, rng.uniform(x0, x1), rng.uniform(y0, y1), z))
    return tuple(loads)
