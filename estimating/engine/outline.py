"""Where sections lie in plan: their boxes, edges and corners, and where two of them meet."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from .spec import Section

EDGES = ("shore", "lake", "left", "right")
CORNERS = ("lake-left", "lake-right", "shore-left", "shore-right")
TOUCH_IN = 0.5  # sections this close are hung on the same hinge
OVERLAP_IN = 1 / 16  # less than this is rounding
SHARED_LEAST_IN = 1.0


class Box(NamedTuple):
    """A rectangle in plan, inches: x from shore to lake, y to the left of someone looking out."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def middle(self) -> tuple[float, float]:
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def covers(self, x: float, y: float) -> bool:
        return self.x0 <= x <= self.x1 and self.y0 <= y <= self.y1


class Line(NamedTuple):
    """A line along an axis, from the lesser to the greater end."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length_in(self) -> float:
        return self.x1 - self.x0 + self.y1 - self.y0

    def at(self, along_in: float) -> tuple[float, float]:
        return (self.x0 + along_in, self.y0) if self.x1 > self.x0 else (self.x0, self.y0 + along_in)


def box_of(section: Section) -> Box:
    long_in, wide_in = section.length_in, section.width_in
    size_x, size_y = (wide_in, long_in) if section.turned else (long_in, wide_in)
    return Box(section.x_in, section.y_in, section.x_in + size_x, section.y_in + size_y)


def in_plan(section: Section, u0: float, v0: float, u1: float, v1: float) -> Box:
    """A rectangle in the section's own axes, laid into the plan."""
    x, y = section.x_in, section.y_in
    if section.turned:
        return Box(x + v0, y + u0, x + v1, y + u1)
    return Box(x + u0, y + v0, x + u1, y + v1)


def point_in_plan(section: Section, u: float, v: float) -> tuple[float, float]:
    return (section.x_in + v, section.y_in + u) if section.turned else (section.x_in + u, section.y_in + v)


def own_axes(section: Section, x: float, y: float) -> tuple[float, float]:
    """The way back: a point in plan as (u, v) of the section."""
    u, v = x - section.x_in, y - section.y_in
    return (v, u) if section.turned else (u, v)


def edge_of(box: Box, edge: str) -> Line:
    """An edge as a line. Raises KeyError for a word that is no edge."""
    return {
        "shore": Line(box.x0, box.y0, box.x0, box.y1),
        "lake": Line(box.x1, box.y0, box.x1, box.y1),
        "right": Line(box.x0, box.y0, box.x1, box.y0),
        "left": Line(box.x0, box.y1, box.x1, box.y1),
    }[edge]


def corner_of(box: Box, corner: str) -> tuple[float, float]:
    return (box.x1 if corner.startswith("lake") else box.x0, box.y1 if corner.endswith("left") else box.y0)


def outward(edge_or_corner: str) -> tuple[int, int]:
    """The direction away from the dock, as signs of x and y."""
    signs = {"shore": (-1, 0), "lake": (1, 0), "left": (0, 1), "right": (0, -1)}
    parts = [signs[word] for word in edge_or_corner.split("-")]
    return sum(x for x, _ in parts), sum(y for _, y in parts)


def shared_line(first: Box, second: Box) -> Line | None:
    """The line along which two boxes touch, or None."""
    low_y, high_y = max(first.y0, second.y0), min(first.y1, second.y1)
    if high_y - low_y >= SHARED_LEAST_IN:
        for lesser, greater in ((first, second), (second, first)):
            if -OVERLAP_IN <= greater.x0 - lesser.x1 <= TOUCH_IN:
                x = (greater.x0 + lesser.x1) / 2
                return Line(x, low_y, x, high_y)
    low_x, high_x = max(first.x0, second.x0), min(first.x1, second.x1)
    if high_x - low_x >= SHARED_LEAST_IN:
        for lesser, greater in ((first, second), (second, first)):
            if -OVERLAP_IN <= greater.y0 - lesser.y1 <= TOUCH_IN:
                y = (greater.y0 + lesser.y1) / 2
                return Line(low_x, y, high_x, y)
    return None


def overlap_in(first: Box, second: Box) -> float:
    """How far two boxes lie over each other, the lesser way; zero or less when they do not."""
    return min(min(first.x1, second.x1) - max(first.x0, second.x0), min(first.y1, second.y1) - max(first.y0, second.y0))


def near_pairs(boxes: Sequence[Box], reach_in: float = TOUCH_IN) -> Iterator[tuple[int, int]]:
    """Pairs of indices of boxes that touch or lie over each other, lower index first, without trying every pair."""
    order = sorted(range(len(boxes)), key=lambda i: boxes[i].x0)
    open_ones: list[int] = []
    for i in order:
        box = boxes[i]
        open_ones = [j for j in open_ones if boxes[j].x1 + reach_in >= box.x0]
        for j in open_ones:
            if boxes[j].y0 <= box.y1 + reach_in and box.y0 <= boxes[j].y1 + reach_in:
                yield (j, i) if j < i else (i, j)
        open_ones.append(i)


def groups(count: int, pairs: Sequence[tuple[int, int]]) -> list[list[int]]:
    """Indices 0..count-1 gathered by the pairs that hold them together, in order of their first member."""
    root = list(range(count))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for i, j in pairs:
        a, b = find(i), find(j)
        root[max(a, b)] = min(a, b)
    found: dict[int, list[int]] = {}
    for i in range(count):
        found.setdefault(find(i), []).append(i)
    return list(found.values())
