"""Where people and loads stand: on the whole deck, on half of it, along an edge, at an end, on the ramp.

Sides are found from the deck's own outline: its longest edge says which way it lies. A rigid deck feels a crowd as
its weight at the crowd's middle, so every crowd is a few point loads at deck level.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Self

from .geometry import Assembly, FlotationInputError, Hinge, Point, PointLoad

Direction = tuple[float, float]


@dataclass(frozen=True, slots=True)
class RampLanding:
    """Where a ramp bears on the dock, and what it brings there: its own part in lb, and its live load when full."""

    body: int
    x_in: float
    y_in: float
    z_in: float
    own_lb: float
    full_live_lb: float

    @property
    def standing(self) -> PointLoad:
        return PointLoad(self.body, self.own_lb, self.x_in, self.y_in, self.z_in)

    @property
    def full(self) -> PointLoad:
        return PointLoad(self.body, self.full_live_lb, self.x_in, self.y_in, self.z_in)

    def person(self, person_lb: float) -> tuple[PointLoad, ...]:
        """One person of a crowd spread along the ramp: half of him bears on the dock."""
        return (PointLoad(self.body, person_lb / 2, self.x_in, self.y_in, self.z_in),)


@dataclass(frozen=True, slots=True)
class Outline:
    """A deck outline in plan with its area (square inches) and the middle of it, at deck level."""

    corners: tuple[Point, ...]
    area_in2: float
    middle: Point

    @classmethod
    def of(cls, corners: tuple[Point, ...]) -> Self:
        """Area and middle of any simple outline.

        >>> Outline.of(((0, 0, 5), (4, 0, 5), (4, 2, 5), (0, 2, 5))).area_in2
        8.0
        """
        level = sum(z for _, _, z in corners) / len(corners)
        area = moment_x = moment_y = 0.0
        x0, y0, _ = corners[0]
        for (ax, ay, _), (bx, by, _) in pairwise((*corners, corners[0])):
            twice = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
            area += twice / 2
            moment_x += twice * (ax + bx - 2 * x0) / 6
            moment_y += twice * (ay + by - 2 * y0) / 6
        if area == 0:
            raise FlotationInputError("deck", "the outline of the deck has no area")
        return cls(corners, abs(area), (x0 + moment_x / area, y0 + moment_y / area, level))

    @property
    def sides(self) -> tuple[Direction, Direction]:
        """Directions square to the longest edge: out over the two long sides."""
        edges = [(bx - ax, by - ay) for (ax, ay, _), (bx, by, _) in pairwise((*self.corners, self.corners[0]))]
        ex, ey = max(edges, key=lambda edge: round(hypot(*edge), 6))
        long = hypot(ex, ey)
        return (ey / long, -ex / long), (-ey / long, ex / long)

    @property
    def ends(self) -> tuple[Direction, Direction]:
        """Directions along the longest edge: out over the two ends."""
        (ax, ay), (bx, by) = self.sides
        return (-ay, ax), (-by, bx)

    def edge(self, toward: Direction, inset_in: float = 0.0) -> Point:
        """The middle of the edge furthest out in a direction, set in from it."""
        reach = [x * toward[0] + y * toward[1] for x, y, _ in self.corners]
        furthest = max(reach)
        outer = [corner for corner, out in zip(self.corners, reach, strict=True) if furthest - out < 0.5]
        x, y, z = (sum(values) / len(outer) for values in zip(*outer, strict=True))
        return (x - inset_in * toward[0], y - inset_in * toward[1], z)

    def half(self, toward: Direction) -> Self:
        """The part of the deck beyond its middle in a direction."""
        start = self.middle[0] * toward[0] + self.middle[1] * toward[1]
        kept: list[Point] = []
        for a, b in pairwise((*self.corners, self.corners[0])):
            out_a, out_b = (p[0] * toward[0] + p[1] * toward[1] - start for p in (a, b))
            if out_a >= 0:
                kept.append(a)
            if out_a * out_b < 0:
                share = out_a / (out_a - out_b)
                kept.append(tuple(p + share * (q - p) for p, q in zip(a, b, strict=True)))
        return type(self).of(tuple(kept))

    def corner_points(self, inset_in: float) -> Iterator[Point]:
        """A point near each corner, set in that far from it in both directions of the deck."""
        (ux, uy), (vx, vy) = self.sides[0], self.ends[0]
        mx, my, _ = self.middle
        for x, y, z in self.corners:
            side = 1 if (x - mx) * ux + (y - my) * uy > 0 else -1
            end = 1 if (x - mx) * vx + (y - my) * vy > 0 else -1
            yield (x - inset_in * (side * ux + end * vx), y - inset_in * (side * uy + end * vy), z)


def at(body: int, weight_lb: float, point: Point) -> PointLoad:
    """A load of so many lb on a body at a point."""
    return PointLoad(body, weight_lb, *point)


def spread(assembly: Assembly, total_lb: float) -> tuple[PointLoad, ...]:
    """A load spread evenly over all decks, lb in all."""
    outlines = [Outline.of(body.deck) for body in assembly.bodies]
    area = sum(outline.area_in2 for outline in outlines)
    return tuple(at(i, total_lb * one.area_in2 / area, one.middle) for i, one in enumerate(outlines))


def spread_psf(assembly: Assembly, psf: float) -> tuple[PointLoad, ...]:
    """So many pounds on every square foot of every deck.

    >>> from estimating.engine.flotation.geometry import FloatBody, Mass, RigidBody
    >>> raft = RigidBody("raft", (FloatBody(1, 1, 1),), Mass(0), ((0, 0, 0), (120, 0, 0), (120, 60, 0), (0, 60, 0)))
    >>> spread_psf(Assembly((raft,)), 20)[0].weight_lb
    1000.0
    """
    outlines = [Outline.of(body.deck) for body in assembly.bodies]
    return tuple(at(i, psf * one.area_in2 / 144, one.middle) for i, one in enumerate(outlines))


def half_psf(assembly: Assembly, psf: float, toward: Direction) -> tuple[PointLoad, ...]:
    """So many pounds on every square foot of the half of each deck that lies in a direction of the plan."""
    halves = [Outline.of(body.deck).half(toward) for body in assembly.bodies]
    return tuple(at(i, psf * one.area_in2 / 144, one.middle) for i, one in enumerate(halves))


def free_ends(assembly: Assembly, body: int, near_in: float = 12.0) -> tuple[Direction, ...]:
    """The ends of a body that no hinge joins to another."""
    outline = Outline.of(assembly.bodies[body].deck)
    hinges = [h for h in assembly.hinges if body in (h.first, h.second)]
    return tuple(end for end in outline.ends if not any(_on_edge(outline, end, h, near_in) for h in hinges))


def _on_edge(outline: Outline, toward: Direction, hinge: Hinge, near_in: float) -> bool:
    x, y, _ = outline.edge(toward)
    (ax, ay, _), (bx, by, _) = hinge.ends
    out = ((ax + bx) / 2 - x) * toward[0] + ((ay + by) / 2 - y) * toward[1]
    return abs(out) < near_in
