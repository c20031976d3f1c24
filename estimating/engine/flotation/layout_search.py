"""The cheapest floats that do: which item, how many, and where, for one section or rigid group.

Layouts are laid in rows and columns into the places the frame leaves free, close together or far apart, evenly or
crowded to one end, with or without more floats at an end. All cases of many layouts are solved to their true
equilibrium together; layouts are tried from the cheapest up until enough have passed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from itertools import groupby, product
from typing import Self

import numpy as np
from numpy.typing import NDArray

from .apart import Apart, SettledApart, settle_apart
from .criteria import Criterion, Dimensions, Level, Measure, Verdict, judge, worst_level
from .equilibrium import CAPSIZE_DEG, DockAfloat
from .geometry import Assembly, FloatBody, FloatShape, FlotationInputError, RigidBody, buoyancy_factor_from_rating
from .immersion import Array
from .loads import CaseKind, LoadCase, dead_weights, live_weights

_AT_ONCE = 48
_SKEWS = (1.0, 1.25, 1.6, 2.0, 1 / 1.25, 1 / 1.6, 1 / 2.0)
_MOST_ROWS = 4
_FALLEN_DEG = 60.0

Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class FloatChoice:
    """A float that can be bought: sizes in inches, weight and rated net lift (fresh water) in lb, price of one.

    Raises FlotationInputError for a size or lift that is not above zero.
    """

    code: str
    length_in: float
    width_in: float
    height_in: float
    own_weight_lb: float
    net_lift_lb: float
    price: Decimal
    shape: FloatShape = FloatShape.BOX

    def __post_init__(self) -> None:
        self.placed(0.0, 0.0, 0.0, turned=False)

    def placed(self, x_in: float, y_in: float, top_in: float, *, turned: bool) -> FloatBody:
        """One of them, its middle at x, y and its top at a level; turned lays its length along y."""
        sizes, weight = (self.length_in, self.width_in, self.height_in), self.own_weight_lb
        turn, bottom = 90.0 if turned else 0.0, top_in - self.height_in
        body = FloatBody(*sizes, x_in, y_in, bottom, weight, turn_deg=turn, shape=self.shape)
        factor = buoyancy_factor_from_rating(
            net_lift_lb=self.net_lift_lb, own_weight_lb=weight, gross_volume_in3=body.gross_volume_in3
        )
        return replace(body, buoyancy_factor=factor)


@dataclass(frozen=True, slots=True)
class Bay:
    """A rectangle in plan that floats may fill, inches."""

    x0_in: float
    y0_in: float
    x1_in: float
    y1_in: float

    def __post_init__(self) -> None:
        if self.x1_in <= self.x0_in or self.y1_in <= self.y0_in:
            raise FlotationInputError("bays", "a place for floats needs some length and width")


@dataclass(frozen=True, slots=True)
class LayoutTask:
    """What to find floats for. The floats `body` already has are left out of it.

    float_top_in: level of the floats' tops (the underside of the frame), in the body's own frame. gap_in: least
    distance between floats. Cases and criteria as for solving and judging; a layout passes when nothing is worse than
    `allowed`.
    """

    body: RigidBody
    bays: tuple[Bay, ...]
    choices: tuple[FloatChoice, ...]
    cases: tuple[LoadCase, ...]
    criteria: tuple[Criterion, ...]
    dimensions: Dimensions
    float_top_in: float
    gap_in: float = 1.0
    allowed: Level = Level.CHECK


@dataclass(frozen=True, slots=True)
class LayoutOption:
    """A layout that passes: its floats, their price, and over all cases the least freeboard and the most tilt."""

    code: str
    floats: tuple[FloatBody, ...]
    price: Decimal
    least_freeboard_in: float
    most_tilt_deg: float
    verdicts: tuple[Verdict, ...]


@dataclass(frozen=True, slots=True)
class _Candidate:
    choice: FloatChoice
    floats: tuple[FloatBody, ...]

    @property
    def price(self) -> Decimal:
        return self.choice.price * len(self.floats)

    @property
    def key(self) -> tuple[Decimal, str, int]:
        return self.price, self.choice.code, len(self.floats)


def find_layouts(task: LayoutTask, *, best: int = 3) -> tuple[LayoutOption, ...]:
    """The cheapest layouts that pass, cheapest first, at most one for each item and number of floats.

    Of layouts alike in item and number the one that tilts least is taken. Empty if none passes.
    Raises FlotationInputError without cases, and DidNotSettle.
    """
    if not task.cases:
        raise FlotationInputError("cases", "say at least one load case the floats are to carry")
    trial = _Trial.of(task)
    passed: list[LayoutOption] = []
    for batch in _batches(sorted(_worth_trying(task, trial), key=lambda c: c.key)):
        tilts = trial.tilts_of_passing(batch)
        for _, alike in groupby(zip(batch, tilts, strict=True), key=lambda pair: pair[0].key):
            candidate, tilt = min(alike, key=lambda pair: pair[1])
            option = _option(task, candidate) if np.isfinite(tilt) else None
            if option is not None:
                passed.append(option)
        if len(passed) >= best:
            break
    return tuple(passed[:best])


def _batches(candidates: list[_Candidate]) -> Iterator[list[_Candidate]]:
    """Some at a time, never parting those alike in item and number."""
    batch: list[_Candidate] = []
    for _, alike in groupby(candidates, key=lambda c: c.key):
        batch.extend(alike)
        if len(batch) >= _AT_ONCE:
            yield batch
            batch = []
    if batch:
        yield batch


def _option(task: LayoutTask, candidate: _Candidate) -> LayoutOption | None:
    body = replace(task.body, floats=candidate.floats)
    results = DockAfloat(Assembly((body,))).solve(task.cases)
    verdicts = judge(task.criteria, results, task.dimensions)
    if list(Level).index(worst_level(verdicts)) > list(Level).index(task.allowed):
        return None
    freeboard = min((r.least_freeboard_in for r in results if r.bodies), default=0.0)
    tilt = max((r.most_tilt_deg for r in results if r.bodies), default=0.0)
    return LayoutOption(candidate.choice.code, candidate.floats, candidate.price, freeboard, tilt, verdicts)


def _worth_trying(task: LayoutTask, trial: "_Trial") -> Iterator[_Candidate]:
    for choice in task.choices:
        spare = np.array([case.water.lb_per_ft3 / 62.4 for case in task.cases])
        full = spare * (choice.net_lift_lb + choice.own_weight_lb) - choice.own_weight_lb
        least = int(np.max(trial.weights[:, 3] / full))
        seen = set()
        for turned in (False, True):
            for places in _arrangements(task, choice, turned):
                if len(places) > least and places not in seen:
                    seen.add(places)
                    yield _Candidate(
                        choice, tuple(choice.placed(x, y, task.float_top_in, turned=turned) for x, y in places)
                    )


def _arrangements(task: LayoutTask, choice: FloatChoice, turned: bool) -> Iterator[tuple[tuple[float, float], ...]]:
    """Places in rows and columns that fit: flush with the ends or not, crowded to an end or not, more at an end."""
    along, across = (choice.width_in, choice.length_in) if turned else (choice.length_in, choice.width_in)
    most_columns = max(_fitting(bay.x1_in - bay.x0_in, along, task.gap_in) for bay in task.bays)
    most_rows = max(_fitting(bay.y1_in - bay.y0_in, across, task.gap_in) for bay in task.bays)
    for columns in range(1, most_columns + 1):
        for rows in range(1, min(most_rows, _MOST_ROWS) + 1):
            skews = _SKEWS if columns > 2 else _SKEWS[:1]
            extras = tuple(_Extra) if rows < most_rows else (_Extra.NONE,)
            for skew, extra in product(skews, extras):
                pattern = _Pattern(along, across, columns, rows, skew, extra, task.gap_in)
                yield tuple(place for bay in task.bays for place in pattern.places(bay))


def _fitting(room: float, size: float, gap: float) -> int:
    return int((room + gap + 1e-9) // (size + gap))


class _Extra(Enum):
    """Which columns get one float more."""

    # Sets, because Python before 3.11.3 loses an empty tuple as the value of a member.
    NONE = frozenset[int]()
    FIRST = frozenset({0})
    LAST = frozenset({-1})
    BOTH = frozenset({0, -1})

    def columns(self, count: int) -> set[int]:
        return {column % count for column in self.value}


@dataclass(frozen=True, slots=True)
class _Pattern:
    """Columns and rows of floats of a size in plan; skew above 1 crowds the columns to the start, below 1 to the end;
    extra puts one more into the end columns."""

    along_in: float
    across_in: float
    columns: int
    rows: int
    skew: float
    extra: _Extra
    gap_in: float

    def places(self, bay: Bay) -> Iterator[tuple[float, float]]:
        """Middles of the floats in one bay, as many as fit."""
        columns = min(self.columns, _fitting(bay.x1_in - bay.x0_in, self.along_in, self.gap_in))
        most_rows = _fitting(bay.y1_in - bay.y0_in, self.across_in, self.gap_in)
        fuller = self.extra.columns(columns)
        for column, share in enumerate(_shares(columns, self.skew)):
            x = self._place((bay.x0_in, bay.x1_in), self.along_in, column, columns, share)
            rows = min(self.rows + (column in fuller), most_rows)
            for row, even in enumerate(_shares(rows, 1.0)):
                yield round(x, 3), round(self._place((bay.y0_in, bay.y1_in), self.across_in, row, rows, even), 3)

    def _place(self, ends: tuple[float, float], size: float, index: int, count: int, share: float) -> float:
        free = ends[1] - ends[0] - count * size - (count - 1) * self.gap_in
        return ends[0] + size / 2 + index * (size + self.gap_in) + share * free


def _shares(count: int, skew: float) -> list[float]:
    """How the free room is shared out before each of so many floats, the outer ones flush with the ends.

    >>> _shares(3, 1.0), _shares(1, 1.0)
    ([0.0, 0.5, 1.0], [0.5])
    """
    return [(i / (count - 1)) ** skew for i in range(count)] if count > 1 else [0.5] * count


@dataclass(frozen=True, slots=True)
class _Trial:
    """The cases in arrays; the hardest few of them weed out most layouts before the rest are solved."""

    task: LayoutTask
    weights: Array
    water: Array
    corners: Array
    reach_in: tuple[float, float]
    hardest: Rows
    dead: int

    @classmethod
    def of(cls, task: LayoutTask) -> Self:
        bare = Assembly((replace(task.body, floats=(FloatBody(1.0, 1.0, 1.0),)),))
        weights = np.array([(dead_weights(bare, c) + live_weights(bare, c.live))[0] for c in task.cases])
        corners = np.array(task.body.deck)
        reach = np.maximum(np.ptp(corners[:, :2], axis=0) / 2, 1.0)
        water = np.array([case.water.lb_per_in3 for case in task.cases])
        turning = np.abs(weights[:, :2] - weights[:, 3:] * corners[:, :2].mean(0))
        dead = next((i for i, case in enumerate(task.cases) if case.kind is CaseKind.DEAD), 0)
        hardest = np.unique([dead, weights[:, 3].argmax(), *turning.argmax(0), turning.sum(1).argmax()])
        return cls(task, weights, water, corners, (float(reach[0]), float(reach[1])), hardest, dead)

    def tilts_of_passing(self, batch: Sequence[_Candidate]) -> Array:
        """The most tilt of each candidate over the cases; infinite where a criterion is not met."""
        tilts = self._tilts(batch, self.hardest)
        left = np.flatnonzero(np.isfinite(tilts))
        if len(left):
            tilts[left] = self._tilts([batch[i] for i in left], np.arange(len(self.weights)))
        return tilts

    def _tilts(self, batch: Sequence[_Candidate], chosen: Rows) -> Array:
        count, cases = len(batch), len(chosen)
        apart = Apart.of([candidate.floats for candidate in batch]).rows(np.repeat(np.arange(count), cases))
        own = np.array([_own_weight(candidate.floats) for candidate in batch])
        weights = np.tile(self.weights[chosen], (count, 1)) + np.repeat(own, cases, axis=0)
        water = np.tile(self.water[chosen], count)
        settled = settle_apart(apart, weights, water, self.reach_in, fallen_deg=_FALLEN_DEG)
        heights = settled.attitude[:, :3] @ self.corners.T + settled.attitude[:, 3:]
        dead = chosen.tolist().index(self.dead)
        figures = _Measured.of(settled, apart, heights.reshape(count, cases, -1), dead)
        kinds = [self.task.cases[i].kind for i in chosen]
        passing = [figures.meets(criterion, kinds, self.task) for criterion in self.task.criteria]
        return np.where(np.all(passing, axis=0), figures.tilt_deg.max(1), np.inf)


def _own_weight(floats: tuple[FloatBody, ...]) -> Array:
    table = np.array([(f.own_weight_lb, *f.centre) for f in floats])
    return np.append(table[:, 0] @ table[:, 1:], table[:, 0].sum())


@dataclass(frozen=True, slots=True)
class _Measured:
    """Measures of every layout in every case, each (layouts, cases); freeboard is lost against the dead case."""

    upright: NDArray[np.bool_]
    tilt_deg: Array
    freeboard_in: Array
    top_in: Array
    lost_in: Array

    @classmethod
    def of(cls, settled: SettledApart, apart: Apart, heights: Array, dead: int) -> Self:
        """heights: of the deck corners, (layouts, cases, corners); `dead` is the place of the dead case."""
        shape, attitude = heights.shape[:2], settled.attitude
        own = attitude.copy()
        own[:, 3] += (attitude[:, :3] * apart.origins).sum(1)
        tops = apart.floats.extremes_in(own.T[:, :, None])[0].min(1)
        tilt = np.degrees(np.arctan2(np.hypot(attitude[:, 0], attitude[:, 1]), attitude[:, 2])).reshape(shape)
        upright = settled.afloat.reshape(shape) & (tilt <= CAPSIZE_DEG)
        lost = (heights[:, dead : dead + 1] - heights).max(2)
        return cls(upright, tilt, heights.min(2), tops.reshape(shape), lost)

    def meets(self, criterion: Criterion, kinds: list[CaseKind], task: LayoutTask) -> NDArray[np.bool_]:
        """Whether each layout meets a criterion in all cases it bears on, a miss that is allowed being none."""
        chosen = [kind in criterion.kinds for kind in kinds]
        ok = self.upright
        if list(Level).index(criterion.beyond) > list(Level).index(task.allowed):
            margin = criterion.margin if task.allowed is Level.FINE else 0.0
            ok = ok & self._within(criterion, margin, task.dimensions)
        return ok[:, chosen].all(1)

    def _within(self, criterion: Criterion, margin: float, dimensions: Dimensions) -> NDArray[np.bool_]:
        if criterion.measure is Measure.AFLOAT:
            return self.freeboard_in > 0
        values = {
            Measure.TILT_DEG: self.tilt_deg,
            Measure.DECK_FREEBOARD_IN: self.freeboard_in,
            Measure.FRAME_CLEARANCE_IN: self.freeboard_in - dimensions.frame_depth_in,
            Measure.FLOAT_TOP_IN: self.top_in,
            Measure.FREEBOARD_LOSS_IN: self.lost_in,
        }[criterion.measure]
        if criterion.measure.most:
            return values <= criterion.limit - margin
        return values >= criterion.limit + margin
