"""Floats under a section: in rows out to the edges and columns along it, counted for the load, or put by hand.

Columns spread evenly with one at each end. Under the section that carries the ramp the inner columns move toward it,
as far as the weight does, so the landing has floats below it.
"""

from dataclasses import dataclass
from math import ceil

from .defaults import Picked
from .float_places import Spot, check_by_hand
from .frame import section_cross_lines
from .level import Tub
from .level_checks import LOW_TOPS_IN
from .limits import COLUMNS, Inspector
from .parts import FloatItem
from .reasons import Amount

ROW_REACH_IN = 48.0  # one more row of floats for every 4 ft of width beyond 8 ft
SPARE_LB = 4.0  # so that weights rounded to the pound never tip a count the other way


@dataclass(frozen=True, slots=True)
class Burden:
    """What the floats of one section carry, pounds, and how far along the ramp presses, if it lands there."""

    fixed_lb: float  # wet, without cross members and without floats
    per_line_lb: float  # one line of cross members with its hardware
    live_lb: float
    fixings_lb: float = 0.0  # lags and washers of one float
    lift_ratio: float = 1.0  # the water's density to fresh
    ramp_lb: float = 0.0
    landing_u: float | None = None


@dataclass(frozen=True, slots=True)
class Floated:
    """A section's floats, with rows and columns as counted (None where put by hand)."""

    spots: tuple[Spot, ...]
    rows: int | None
    columns: int | None

    @property
    def ends(self) -> list[float]:
        return sorted({end for spot in self.spots for end in spot.ends})


def net_lift_lb(item: FloatItem, lift_ratio: float = 1.0) -> float:
    """What a float carries beyond its own weight, in water of that density against fresh. Source: FLOAT_RATING."""
    return (item.net_lift_lb + item.weight_lb) * lift_ratio - item.weight_lb


def rows_wanted(width_in: float) -> int:
    """Two rows up to 8 ft wide, then one more for every 4 ft. Source: COMMON_PRACTICE.

    >>> rows_wanted(72), rows_wanted(96), rows_wanted(120), rows_wanted(150)
    (2, 2, 3, 4)
    """
    return max(2, ceil(width_in / ROW_REACH_IN - 1e-6))


def spread(length_in: float, size_in: float, count: int) -> list[float]:
    """Centres of so many floats from end to end; one alone sits in the middle.

    >>> spread(192, 48, 3), spread(192, 48, 1)
    ([24.0, 96.0, 168.0], [96.0])
    """
    if count == 1:
        return [length_in / 2]
    return [size_in / 2 + (length_in - size_in) * k / (count - 1) for k in range(count)]


def spread_toward(length_in: float, size_in: float, count: int, weight_at_in: float) -> list[float]:
    """Columns moved so that their middle comes as near as it can to where the weight acts.

    The end columns stay at the ends, where joints want them; the others close up toward the weight.

    >>> spread_toward(192, 48, 3, 88)
    [24.0, 72.0, 168.0]
    """
    even = spread(length_in, size_in, count)
    if count == 1:
        return [min(max(weight_at_in, size_in / 2), length_in - size_in / 2)]
    if weight_at_in > length_in / 2:
        mirrored = spread_toward(length_in, size_in, count, length_in - weight_at_in)
        return [length_in - u for u in reversed(mirrored)]
    packed = [size_in / 2 + k * size_in for k in range(count - 1)] + even[-1:]
    most = (sum(even) - sum(packed)) / count
    share = min(1.0, (length_in / 2 - weight_at_in) / most) if most > 1e-9 else 0.0
    return [e + (p - e) * share for e, p in zip(even, packed, strict=True)]


class FloatLayer:
    """Lays the floats of one section."""

    def __init__(self, picked: Picked, burden: Burden, inspector: Inspector) -> None:
        self.picked, self.burden, self.inspector = picked, burden, inspector
        self.section, self.item = picked.section, picked.float_item
        self.lift_lb = net_lift_lb(self.item, burden.lift_ratio) - burden.fixings_lb
        self.most_fit = 0

    def lay(self) -> Floated | None:
        """The floats, or None with the fault noted."""
        flotation = self.section.flotation
        if flotation.placed:
            return self._by_hand()
        if self.lift_lb <= 0:
            text = "{0} does not lift its own weight in this water. Correct the float, or pick another."
            self.inspector.fault(f"{self.picked.path}.flotation.item", text, self.item.name)
            return None
        for lift_lb in (self._dry_lift_lb(), self.lift_lb):
            for rows, turned in self._arrangements():
                most = self._most_columns(turned)
                self.most_fit = max(self.most_fit, rows * min(most, COLUMNS.high))
                columns = flotation.columns or self._columns_needed(rows, turned, most, lift_lb)
                if columns is not None and columns <= most:
                    return Floated(tuple(self._grid(rows, columns, turned)), rows, columns)
        self._does_not_fit()
        return None

    def _dry_lift_lb(self) -> float:
        """What one float carries with its top still as far above water as the level check asks."""
        tub = Tub(self.item.height_in, self.item.weight_lb, self.lift_lb, self.item.round)
        return tub.lift_at_lb(tub.height_in - LOW_TOPS_IN) - tub.own_lb

    def _arrangements(self) -> list[tuple[int, bool]]:
        """Rows and orientation to try, best first."""
        width, given = self.section.width_in, self.section.flotation.rows
        wanted = rows_wanted(width)
        widest = int(width / min(self.item.length_in, self.item.width_in) + 1e-6)
        rows = [given] if given else [*range(wanted, widest + 1), *range(min(wanted - 1, widest), 0, -1)]
        tries = [(count, turned) for count in rows for turned in (False, True)]
        return [(count, turned) for count, turned in tries if count * self._size(turned)[1] <= width + 1e-6]

    def _size(self, turned: bool) -> tuple[float, float]:
        item = self.item
        return (item.width_in, item.length_in) if turned else (item.length_in, item.width_in)

    def _most_columns(self, turned: bool) -> int:
        return int(self.section.length_in / self._size(turned)[0] + 1e-6)

    def _columns_needed(self, rows: int, turned: bool, most: int, lift_lb: float) -> int | None:
        """The fewest columns that carry the wet dock and its live load; at least one at each end where two fit."""
        first = min(2, most)
        if turned and rows * self._size(False)[1] <= self.section.width_in + 1e-6:
            first = self._most_columns(False) + 1  # fewer would be read as floats lying lengthwise
        for columns in range(max(1, first), most + 1):
            if rows * columns * lift_lb >= self._load_lb(rows, columns, turned):
                return columns
        return None

    def _load_lb(self, rows: int, columns: int, turned: bool) -> float:
        ends = Floated(tuple(self._grid(rows, columns, turned)), rows, columns).ends
        burden = self.burden
        lines = len(section_cross_lines(self.picked, ends))
        return burden.fixed_lb + lines * burden.per_line_lb + burden.live_lb + SPARE_LB

    def _grid(self, rows: int, columns: int, turned: bool) -> list[Spot]:
        size_u, size_v = self._size(turned)
        us, vs = self._column_centres(columns, size_u), spread(self.section.width_in, size_v, rows)
        return [Spot(u, v, size_u, size_v, self.item) for u in us for v in vs]

    def _column_centres(self, columns: int, size_u: float) -> list[float]:
        length, burden = self.section.length_in, self.burden
        if burden.landing_u is None:
            return spread(length, size_u, columns)
        dock = burden.fixed_lb - burden.ramp_lb
        weight_at = (dock * length / 2 + burden.ramp_lb * burden.landing_u) / burden.fixed_lb
        centres = spread_toward(length, size_u, columns, weight_at)
        return _one_under(centres, burden.landing_u, size_u, length)

    def _does_not_fit(self) -> None:
        section, flotation = self.section, self.section.flotation
        if flotation.columns or (flotation.rows and not self.most_fit):
            count = Amount((flotation.columns or 1) * (flotation.rows or 1), "count")
            sizes = Amount(self.item.length_in, "in"), Amount(self.item.width_in, "in")
            room = Amount(section.length_in, "in"), Amount(section.width_in, "in")
            field = "columns" if flotation.columns else "rows"
            text = "{0} floats of {1} by {2} do not fit under section {3}, {4} by {5}."
            path = f"{self.picked.path}.flotation.{field}"
            self.inspector.fault(path, text, count, *sizes, section.mark, *room)
            return
        burden = self.burden
        dock = Amount(ceil(burden.fixed_lb), "lb")
        needed = Amount(ceil((burden.fixed_lb + burden.live_lb + SPARE_LB) / self.lift_lb), "count")
        text = (
            "Section {0}: {1} of “{2}” fit; the dock at {3} with {4} of people takes {5} or more. "
            "Take a bigger float, a bigger section, or a lower load."
        )
        values = section.mark, Amount(self.most_fit, "count"), self.item.name, dock, Amount(round(burden.live_lb), "lb")
        self.inspector.fault(f"{self.picked.path}.flotation.item", text, *values, needed)

    def _by_hand(self) -> Floated:
        spots = []
        for place, item in zip(self.section.flotation.placed, self.picked.placed_items, strict=True):
            size_u, size_v = (item.width_in, item.length_in) if place.turned else (item.length_in, item.width_in)
            spots.append(Spot(place.u_in, place.v_in, size_u, size_v, item))
        check_by_hand(self.picked, spots, self.inspector)
        return Floated(tuple(spots), None, None)


def _one_under(centres: list[float], landing_u: float, size_u: float, length_in: float) -> list[float]:
    """The columns with the nearest one slid under the landing, as far as its neighbours let it."""
    nearest = min(range(len(centres)), key=lambda k: abs(centres[k] - landing_u))
    if abs(centres[nearest] - landing_u) <= size_u / 2 + 1e-6:
        return centres
    least = centres[nearest - 1] + size_u if nearest else size_u / 2
    most = centres[nearest + 1] - size_u if nearest + 1 < len(centres) else length_in - size_u / 2
    slid = min(max(landing_u, least), most)
    return [*centres[:nearest], slid, *centres[nearest + 1 :]]
