"""Solved arrays put into figures a person can read, one Equilibrium a load case."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Self

import numpy as np

from .geometry import Assembly
from .immersion import Array
from .loads import LoadCase
from .prepared import Group, PreparedDock, Settled
from .results import BodyLevel, CornerLevel, Equilibrium, FloatLevel, Outcome

_OUTCOMES = tuple(Outcome)


def describe(
    dock: PreparedDock, cases: Sequence[LoadCase], weights_lb: Array, water_lb_per_in3: Array, settled: Settled
) -> tuple[Equilibrium, ...]:
    """Equilibria of rows solved; weights_lb is (rows, bodies), all that each body carries and is."""
    table = _Table.of(dock, weights_lb, water_lb_per_in3, settled)
    return tuple(table.equilibrium(row, case) for row, case in enumerate(cases))


@dataclass(frozen=True, slots=True)
class _Table:
    """Every figure of every row as an array."""

    assembly: Assembly
    settled: Settled
    weights: Array
    reserve: Array
    angles: Array
    corners: Array
    floats: Array
    hinges: Array

    @classmethod
    def of(cls, dock: PreparedDock, weights: Array, water: Array, settled: Settled) -> Self:
        lift = sum(group.full_lift_in3 for group in dock.groups)
        floats = _float_figures(dock, water, settled.attitude)
        return cls(
            dock.assembly,
            settled,
            weights,
            lift * water - weights.sum(1),
            _angles(settled.attitude[:, :, :3], weights),
            _corner_figures(dock, settled.attitude),
            floats,
            _hinge_lifts(dock, weights, floats[:, :, 1]),
        )

    def equilibrium(self, row: int, case: LoadCase) -> Equilibrium:
        settled = self.settled
        outcome = _OUTCOMES[settled.severity[row]]
        weight, reserve, steps = float(self.weights[row].sum()), float(self.reserve[row]), int(settled.steps[row])
        if not settled.afloat[row]:
            return Equilibrium(case, outcome, weight, reserve, steps=steps)
        across, along = (None if gm != gm else gm for gm in settled.gm_in[row].tolist())
        hinges = tuple(self.hinges[row].tolist())
        return Equilibrium(case, outcome, weight, reserve, tuple(self._bodies(row)), across, along, hinges, steps)

    def _bodies(self, row: int) -> Iterator[BodyLevel]:
        corners, floats = iter(self.corners[row].tolist()), iter(self.floats[row].tolist())
        for body, angles in zip(self.assembly.bodies, self.angles[row].tolist(), strict=True):
            own_corners = tuple(CornerLevel(*figures) for figures in islice(corners, len(body.deck)))
            own = zip(body.floats, islice(floats, len(body.floats)), strict=True)
            own_floats = tuple(FloatLevel(*figures) for f, figures in own if not f.frame_part)
            yield BodyLevel(body.name, *angles, own_corners, own_floats)


def _angles(up: Array, weights: Array) -> Array:
    """Heel, trim and tilt in degrees, and the weight: (rows, bodies, 4)."""
    heel = np.arctan2(-up[..., 1], up[..., 2])
    trim = np.arcsin(np.clip(-up[..., 0], -1, 1))
    tilt = np.arctan2(np.hypot(up[..., 0], up[..., 1]), up[..., 2])
    return np.stack([np.degrees(heel), np.degrees(trim), np.degrees(tilt), weights], axis=2)


def _corner_figures(dock: PreparedDock, attitude: Array) -> Array:
    """Place, freeboard and draft of every deck corner: (rows, corners, 4)."""
    freeboard = dock.deck_heights_in(attitude)
    bottoms = [min((f.bottom_in for f in body.floats), default=0.0) for body in dock.assembly.bodies]
    below_deck = dock.corners[:, 2] - np.array(bottoms)[dock.corner_body]
    figures = np.empty((*freeboard.shape, 4))
    figures[:, :, :2] = dock.corners[:, :2]
    figures[:, :, 2] = freeboard
    figures[:, :, 3] = attitude[:, dock.corner_body, 2] * below_deck - freeboard
    return figures


def _float_figures(dock: PreparedDock, water: Array, attitude: Array) -> Array:
    """Load carried, buoyancy, immersed share, draft and top clearance of every float: (rows, floats, 5)."""
    floats = [f for body in dock.assembly.bodies for f in body.floats]
    gross, factor, own = np.array([(f.gross_volume_in3, f.buoyancy_factor, f.own_weight_lb) for f in floats]).T
    by_row = attitude.transpose(2, 0, 1)
    wet = dock.floats.wet_volumes_in3(by_row)
    tops, _, bottoms = dock.floats.extremes_in(by_row)
    buoyancy = wet * factor * water[:, None]
    return np.stack([buoyancy - own, buoyancy, wet / gross, -bottoms, tops], axis=2)


def _hinge_lifts(dock: PreparedDock, weights: Array, buoyancy: Array) -> Array:
    """What each hinge hands over from its second body to its first, (rows, hinges), lb."""
    hinges = dock.assembly.hinges
    lifts = np.zeros((len(weights), len(hinges)))
    if not hinges:
        return lifts
    ends = np.cumsum([len(body.floats) for body in dock.assembly.bodies])[:-1]
    held = np.stack([part.sum(1) for part in np.split(buoyancy, ends, axis=1)], axis=1)
    place = {hinge: column for column, hinge in enumerate(hinges)}
    for group in dock.groups:
        _hand_over(group, weights - held, place, lifts)
    return lifts


def _hand_over(group: Group, unheld: Array, place: dict, lifts: Array) -> None:
    members = group.linkage.members
    load = unheld[:, members]
    for level in reversed(group.linkage.levels):
        for child, parent in zip(level.children.tolist(), level.parents.tolist(), strict=True):
            hinge = group.linkage.hinges[child - 1]
            lifts[:, place[hinge]] = load[:, child] if hinge.second == members[child] else -load[:, child]
            load[:, parent] += load[:, child]
