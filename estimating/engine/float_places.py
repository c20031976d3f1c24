"""Floats in their places: whether floats put by hand fit and keep clear, and what a layout leaves to say."""

from collections.abc import Sequence
from dataclasses import dataclass

from .defaults import Picked
from .limits import Inspector
from .outline import Box, edge_of, outward, overlap_in, point_in_plan
from .parts import FloatItem
from .reasons import Amount, Finding, Sentence
from .result import PlacedFloat
from .spec import Ramp

TUCK_IN = 1 / 16
UNDER_LANDING_IN = 24.0


@dataclass(frozen=True, slots=True)
class Spot:
    """One float in the section's own axes: centre and size."""

    u: float
    v: float
    size_u: float
    size_v: float
    item: FloatItem

    @property
    def lengthwise(self) -> bool:
        """Whether its length lies along the section."""
        return self.size_u == self.item.length_in

    @property
    def ends(self) -> tuple[float, float]:
        return self.u - self.size_u / 2, self.u + self.size_u / 2

    @property
    def sides(self) -> tuple[float, float]:
        return self.v - self.size_v / 2, self.v + self.size_v / 2


def check_by_hand(picked: Picked, spots: Sequence[Spot], inspector: Inspector) -> None:
    """Floats put by hand lie inside their section and clear of each other. Source: GEOMETRY."""
    for k, spot in enumerate(spots):
        _check_inside(picked, k, spot, inspector)
    order = sorted(range(len(spots)), key=lambda k: spots[k].ends[0])
    for n, i in enumerate(order):
        for j in order[n + 1 :]:
            if spots[j].ends[0] >= spots[i].ends[1] - TUCK_IN:
                break
            over = overlap_in(_own_box(spots[i]), _own_box(spots[j]))
            if over > TUCK_IN:
                first, second = sorted((i, j))
                text = "Floats {0} and {1} of section {2} lie over each other by {3}."
                values = Amount(first + 1, "count"), Amount(second + 1, "count"), picked.mark, Amount(over, "in")
                inspector.fault(f"{picked.path}.flotation.placed[{second}].u_in", text, *values)


def place_floats(picked: Picked, spots: Sequence[Spot]) -> list[PlacedFloat]:
    """The floats in plan."""
    section, placed = picked.section, []
    for spot in spots:
        x, y = point_in_plan(section, spot.u, spot.v)
        sizes = (spot.size_v, spot.size_u) if section.turned else (spot.size_u, spot.size_v)
        item = spot.item
        figures = item.height_in, item.weight_lb, item.net_lift_lb
        along = ("x" if spot.lengthwise != section.turned else "y") if item.round else ""
        placed.append(PlacedFloat(section.mark, item.code, x, y, *sizes, *figures, along))
    return placed


def float_findings(picked: Picked, spots: Sequence[Spot]) -> list[Finding]:
    """A single row of floats tips; floats of two heights under one section leave one kind idle."""
    found, field = [], f"{picked.path}.flotation"
    if len({round(spot.v) for spot in spots}) == 1:
        headline = Sentence("Section {0} sits on a single row of floats: it tips sideways.", (picked.mark,))
        cure = Sentence("Make it wide enough for two rows, or join it rigidly to its neighbour.")
        found.append(Finding("check", headline, cure, f"{field}.rows", "COMMON_PRACTICE", "single_row"))
    if len({spot.item.height_in for spot in spots}) > 1:
        headline = Sentence("Section {0} has floats of different heights.", (picked.mark,))
        cure = Sentence("The lower ones carry less, or nothing. Use one height.")
        found.append(Finding("check", headline, cure, f"{field}.item", "COMMON_PRACTICE", "mixed_heights"))
    return found


def landing_findings(ramp: Ramp, host: Picked, floats: Sequence[PlacedFloat]) -> list[Finding]:
    """A ramp wants a float under its landing."""
    strip = _landing_strip(ramp, host.box)
    if any(overlap_in(strip, _plan_box(f)) > 0 for f in floats if f.section == host.mark):
        return []
    headline = Sentence("No float under the ramp landing on section {0}.", (host.mark,))
    cure = Sentence("Half the ramp sits there: put a float within {0} of it.", (Amount(UNDER_LANDING_IN, "in"),))
    return [Finding("check", headline, cure, f"{host.path}.flotation", "COMMON_PRACTICE", "bare_landing")]


def _check_inside(picked: Picked, number: int, spot: Spot, inspector: Inspector) -> None:
    section, path = picked.section, f"{picked.path}.flotation.placed[{number}]"
    near_end, far_end = ("right", "left") if section.turned else ("shore", "lake")
    near_side, far_side = ("shore", "lake") if section.turned else ("right", "left")
    out = [
        ("u_in", near_end, -spot.ends[0]),
        ("u_in", far_end, spot.ends[1] - section.length_in),
        ("v_in", near_side, -spot.sides[0]),
        ("v_in", far_side, spot.sides[1] - section.width_in),
    ]
    for field, side, over in out:
        if over > TUCK_IN:
            values = Amount(number + 1, "count"), Amount(over, "in"), side, section.mark
            inspector.fault(f"{path}.{field}", "Float {0} sticks out {1} past the {2} edge of section {3}.", *values)


def _own_box(spot: Spot) -> Box:
    return Box(spot.ends[0], spot.sides[0], spot.ends[1], spot.sides[1])


def _plan_box(f: PlacedFloat) -> Box:
    half_x, half_y = f.size_x_in / 2, f.size_y_in / 2
    return Box(f.x_in - half_x, f.y_in - half_y, f.x_in + half_x, f.y_in + half_y)


def _landing_strip(ramp: Ramp, box: Box) -> Box:
    x, y = edge_of(box, ramp.edge).at(ramp.offset_in)
    out_x, out_y = outward(ramp.edge)
    half = ramp.width_in / 2
    in_x, in_y = x - out_x * UNDER_LANDING_IN, y - out_y * UNDER_LANDING_IN
    aside_x, aside_y = half * abs(out_y), half * abs(out_x)
    return Box(min(x, in_x) - aside_x, min(y, in_y) - aside_y, max(x, in_x) + aside_x, max(y, in_y) + aside_y)
