"""The righting moment of one rigid dock as it is leaned further and further, free to heave and to lean the other way.

At every angle the lean is held and the rest let go to its least energy; the righting moment is then the slope of the
energy with the angle, exact at any angle. All angles are solved together. Source GEOMETRY; near upright the curve
rises by weight x GM for each radian, and for straight sides follows sin(angle) (GM + BM tan2(angle) / 2).
"""

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

import numpy as np

from .descent import Energy, Rows, dense_step, descend, steepest_fall
from .equilibrium import DockAfloat
from .geometry import FlotationInputError
from .immersion import Array
from .landscape import starting_height_in
from .loads import LoadCase, dead_weights, live_weights
from .prepared import Group

_GRID_DEG = np.linspace(0.0, 90.0, 91)


class Side(StrEnum):
    """Which side goes down, in plan axes."""

    LEFT = "+y"
    RIGHT = "-y"
    OUT = "+x"
    SHORE = "-x"

    @property
    def direction(self) -> tuple[float, float]:
        """Unit vector in plan.

        >>> Side.RIGHT.direction
        (0.0, -1.0)
        """
        sign = 1.0 if self.value[0] == "+" else -1.0
        return (sign, 0.0) if self.value[1] == "x" else (0.0, sign)


@dataclass(frozen=True, slots=True)
class RightingPoint:
    """At this lean (degrees) the water turns the dock back with this moment (ft-lb; below zero it turns it over).

    arm_in is the moment by the weight. freeboard_in is the least of the deck's corners; first_top_in is the
    lowest top corner of the float nearest to going under, last_top_in the highest of the one furthest from it.
    """

    angle_deg: float
    moment_ft_lb: float
    arm_in: float
    freeboard_in: float
    first_top_in: float
    last_top_in: float

    @property
    def end(self) -> str:
        """Why the curve ends here, or nothing."""
        if self.freeboard_in <= 0:
            return "deck edge under"
        return "float tops under" if self.last_top_in <= 0 else ""


@dataclass(frozen=True, slots=True)
class RightingCurve:
    """From upright to `end_deg` (to 0.02 degrees): "deck edge under", "float tops under" (all), or "90 degrees".

    points lie a degree apart, the last at the end. greatest is the one of most moment; vanishes_deg where the moment
    falls back to nothing, first_top_deg where the first top corner of a float goes under: None if not before the end.
    """

    side: Side
    points: tuple[RightingPoint, ...]
    end_deg: float
    end: str
    greatest: RightingPoint
    vanishes_deg: float | None
    first_top_deg: float | None


@dataclass(frozen=True, slots=True)
class _HeldLean:
    """Energy with the lean held. State: lean held (radians), lean the other way, unused, height of the origin."""

    group: Group
    side: tuple[float, float]
    weights: Array
    water: float

    @property
    def reach_in(self) -> Array:
        reach = self.group.linkage.reach_in
        return np.array([1.0, reach[1] if self.side[0] == 0 else reach[2]])

    @property
    def weight_lb(self) -> Array:
        return np.full(len(_GRID_DEG), self.weights[3] + 1e-3 * self.water * self.group.plan_in2)

    @property
    def stiffness_lb_per_in(self) -> Array:
        return np.full(len(_GRID_DEG), self.water * self.group.plan_in2)

    def move(self, state: Array, step: Array) -> Array:
        moved = state.copy()
        moved[:, 3] += step[:, 0]
        moved[:, 1] += step[:, 1]
        return moved

    def up(self, state: Array) -> tuple[Array, Array, Array]:
        """The up vector and its slopes with the lean held and with the other lean, each (rows, 3)."""
        held, other = state[:, :1], state[:, 1:2]
        toward = np.array([*self.side, 0.0])
        square = np.array([-self.side[1], self.side[0], 0.0])
        plumb = np.array([0.0, 0.0, 1.0])
        leaning = np.cos(held) * plumb - np.sin(held) * toward
        along_held = np.cos(other) * (-np.sin(held) * plumb - np.cos(held) * toward)
        along_other = np.cos(other) * square - np.sin(other) * leaning
        return np.cos(other) * leaning + np.sin(other) * square, along_held, along_other

    def pull(self, state: Array) -> tuple[Array, Array]:
        attitude = np.concatenate([self.up(state)[0], state[:, 3:]], axis=1)
        water = np.full(len(state), self.water)
        slope, stiffness = self.group.floats.pull(attitude.T[:, :, None], water)
        return self.weights + slope[:, :, 0].T, stiffness[:, :, :, 0].transpose(2, 0, 1)

    def energy(self, state: Array, rows: Rows) -> Energy:
        value, slope, curvature = self._whole(state)
        step, along, least = dense_step(slope, curvature, self.stiffness_lb_per_in[rows])
        return Energy(value, slope, step, along, least, curvature, np.zeros(len(state), dtype=np.bool_))

    def escape(self, state: Array, rows: Rows) -> Array:
        return steepest_fall(*self._whole(state)[1:])

    def _whole(self, state: Array) -> tuple[Array, Array, Array]:
        """The energy, its slopes and curvatures in heave and the other lean, scaled to inches."""
        up, _, along = self.up(state)
        force, stiffness = self.pull(state)
        freedom = np.zeros((len(state), 4, 2))
        freedom[:, 3, 0] = 1.0
        freedom[:, :3, 1] = along
        curvature = np.swapaxes(freedom, 1, 2) @ stiffness @ freedom
        curvature[:, 1, 1] -= (force[:, :3] * up).sum(1)
        slope = (force[:, None] @ freedom)[:, 0]
        value = (force[:, :3] * up).sum(1) + force[:, 3] * state[:, 3]
        reach = self.reach_in
        return value, slope / reach, curvature / (reach[:, None] * reach)

    def righting_moment(self, state: Array) -> Array:
        return (self.pull(state)[0][:, :3] * self.up(state)[1]).sum(1)


def righting_curve(dock: DockAfloat, case: LoadCase, side: Side) -> RightingCurve:
    """Lean the dock, under a case's loads, to one side: a point a degree, and the exact end.

    Raises FlotationInputError for more than one body (hinged sections have no one curve) or for a case that sinks it.
    """
    if len(dock.assembly.bodies) != 1:
        raise FlotationInputError("bodies", "a righting curve is of one rigid body; take the sections one by one")
    group = dock.prepared.groups[0]
    weights = (dead_weights(dock.assembly, case) + live_weights(dock.assembly, case.live))[0]
    if weights[3] >= group.full_lift_in3 * case.water.lb_per_in3:
        raise FlotationInputError("case", f"the dock sinks under {case.name}")
    weights[:3] -= weights[3] * group.origin
    lean = _Leaned(dock, _HeldLean(group, side.direction, weights, case.water.lb_per_in3))
    return _curve(lean, side)


@dataclass(frozen=True, slots=True)
class _Leaned:
    """Points of the curve at any 91 angles."""

    dock: DockAfloat
    land: _HeldLean

    def points(self, angles_deg: Array) -> list[RightingPoint]:
        land, group = self.land, self.land.group
        state = np.zeros((len(angles_deg), 4))
        state[:, 0] = np.radians(angles_deg)
        weight = np.full(len(angles_deg), land.weights[3])
        state[:, 3] = starting_height_in(group.floats, weight, np.full(len(angles_deg), land.water))
        state = descend(land, state).state
        moment = land.righting_moment(state)
        up = land.up(state)[0]
        attitude = np.concatenate([up, (state[:, 3] - up @ group.origin)[:, None]], axis=1)[:, None]
        deck = self.dock.prepared.deck_heights_in(attitude).min(1)
        tops = self.dock.prepared.floats.extremes_in(attitude.transpose(2, 0, 1))
        arm = moment / max(land.weights[3], 1e-9)
        columns = (
            angles_deg,
            moment / 12,
            arm,
            deck,
            tops[0].min(1),
            np.where(np.isinf(tops[1]), -np.inf, tops[1]).max(1),
        )
        return [RightingPoint(*row) for row in np.stack(columns, axis=1).tolist()]


def _curve(lean: _Leaned, side: Side) -> RightingCurve:
    points = lean.points(_GRID_DEG)
    first = next((i for i, point in enumerate(points) if point.end), None)
    if first:
        between = lean.points(np.linspace(points[first - 1].angle_deg, points[first].angle_deg, len(_GRID_DEG)))
        points = [*points[:first], next(point for point in between if point.end)]
    elif first == 0:
        points = points[:1]
    end = points[-1]
    greatest = max(points, key=lambda point: point.moment_ft_lb)
    falling = [(p.angle_deg, p.moment_ft_lb) for p in points if p.angle_deg >= greatest.angle_deg]
    return RightingCurve(
        side,
        tuple(points),
        end.angle_deg,
        end.end or "90 degrees",
        greatest,
        _crossing(falling),
        _crossing([(p.angle_deg, p.first_top_in) for p in points]),
    )


def _crossing(line: list[tuple[float, float]]) -> float | None:
    """Where a line of (angle, value) first falls to zero, straight between its points; None if it does not.

    >>> _crossing([(0, 4.0), (1, 1.0), (2, -1.0)])
    1.5
    """
    for (angle, value), (later, lower) in pairwise(line):
        if value > 0 >= lower:
            return angle + (later - angle) * value / (value - lower)
    return None
