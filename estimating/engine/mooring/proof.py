"""The mooring proof of a whole design: every dock under loads from sixteen sides at every level, at one go.

Preliminary: a check for a competent builder, not engineering.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

import numpy as np

from estimating.engine.mooring_result import (
    AnchorHold,
    DockHeld,
    Drift,
    Exposure,
    MooringProof,
    PullDown,
    Reset,
    WaterLevel,
)
from estimating.engine.outline import box_of, groups
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.result import Design, LevelFloat
from estimating.engine.spec import DockSpec, Place, Water

from .catenary import hung_at
from .crossing import crossed_chains
from .equilibrium import Fastened, Rest, come_to_rest
from .findings import mooring_findings
from .forces import waves
from .holding import Tackle, hold_of, tackle_of
from .loads import DockLoads, Hull, Weather, dock_loads
from .sides import FROM_DEG, Array

NAMES = ("low", "normal", "high", "storm")
SIDES = len(FROM_DEG)


def prove_mooring(design: Design, catalogue: Catalogue, rules: FirmRules) -> MooringProof:
    """What holds the docks of a design, where they go, and what is wrong with it.

    Sources: CATENARY, STATICS, WIND_PRESSURE, CURRENT_PRESSURE, DM_7_02, CHAIN_LIMITS.
    """
    return _Proof(design, catalogue, rules).proof()


def levels_of(water: Water) -> tuple[WaterLevel, ...]:
    """The levels a site knows, lowest first; normal always, as that is what depths are measured from.

    >>> [(level.name, level.rise_in) for level in levels_of(Water(low_in=12, normal_in=36, storm_in=60))]
    [('low', -24), ('normal', 0), ('storm', 24)]
    """
    if water.normal_in is None:
        return (WaterLevel("normal", None, 0.0),)
    named = ((name, getattr(water, f"{name}_in")) for name in NAMES)
    return tuple(WaterLevel(name, level, level - water.normal_in) for name, level in named if level is not None)


def exposure_of(place: Place, wave_wind_mph: float) -> Exposure | None:
    """The waves of a site; None where its open water is unknown. Source: CEM_WAVES."""
    if place.fetch_mi is None:
        return None
    sea = waves(wind_mph=wave_wind_mph, fetch_mi=place.fetch_mi)
    steps = (
        Step(Sentence("Wind that raises them"), Amount(wave_wind_mph, "mph")),
        Step(Sentence("Open water"), Amount(place.fetch_mi, "mi")),
        Step(Sentence("Every"), Amount(round(sea.period_s, 1), "s")),
        Step(Sentence("Significant height"), Amount(round(sea.height_in, 1), "in_small"), total=True),
    )
    rule = Sentence("Waves limited by fetch, deep water. The older Shore Protection Manual gives 20 to 30 % more.")
    return Exposure(sea.exposure, sea.height_in, sea.period_s, Reason(rule, "CEM_WAVES", steps))


def docks_of(spec: DockSpec) -> list[list[int]]:
    """Section indices of each dock: what joints hold together, hinged or rigid."""
    at = {section.mark: i for i, section in enumerate(spec.sections)}
    return groups(len(spec.sections), [(at[joint.first], at[joint.second]) for joint in spec.joints])


@dataclass(frozen=True, slots=True)
class _Dock:
    """One dock before it is solved."""

    sections: tuple[str, ...]
    anchors: tuple[int, ...]
    loads: DockLoads
    depths_in: tuple[float | None, ...]  # one a level


class _Proof:
    def __init__(self, design: Design, catalogue: Catalogue, rules: FirmRules) -> None:
        self.design, self.rules, self.place = design, rules, design.spec.place
        self.levels = levels_of(self.place.water)
        self.water_lb = rules.density_lb_per_cuft[self.place.water.kind]
        self.tackles = [tackle_of(placed, self.place, catalogue, rules) for placed in design.anchors]
        self.holds: list[AnchorHold | None] = [None] * len(self.tackles)
        self.vertical: list[float] = [0.0] * len(self.tackles)

    def proof(self) -> MooringProof:
        docks = tuple(self._held(dock) for dock in self._docks())
        anchors = tuple(hold for hold in self.holds if hold is not None)
        bare = MooringProof(
            levels=self.levels,
            anchors=anchors,
            docks=docks,
            pulls=tuple(self._pulls()),
            resets=tuple(self._resets()),
            crossed=crossed_chains(self.design.anchors),
            exposure=exposure_of(self.place, self.rules.mooring.wave_wind_mph),
            findings=(),
        )
        return mooring_findings(bare, self.rules.mooring, self.water_lb)

    # Loads

    def _docks(self) -> list[_Dock]:
        spec = self.design.spec
        floating = {mark: level for level in self.design.level for mark in level.sections}
        weather = Weather(self.rules.mooring, self.place.current_kn or 0.0, self.water_lb)
        docks = []
        groups_of = docks_of(spec)
        for group in groups_of:
            sections = [spec.sections[i] for i in group]
            marks = tuple(section.mark for section in sections)
            hulls = [
                Hull(box_of(section), floating[section.mark].freeboard_wet_in, floating[section.mark].draft_wet_in)
                for section in sections
            ]
            boats = spec.boats if group == max(groups_of, key=len) else ()
            anchors = tuple(i for i, placed in enumerate(self.design.anchors) if placed.section in marks)
            docks.append(_Dock(marks, anchors, dock_loads(hulls, boats, weather), self._depths(anchors)))
        return docks

    def _depths(self, anchors: Sequence[int]) -> tuple[float | None, ...]:
        """The least depth at the dock's own anchors at every level; where none is known, the deepest sounding."""
        known = [self.tackles[i].placed.counted_depth_in for i in anchors if self.tackles[i].depth_known]
        least = min(known) if known else max((point.depth_in for point in self.place.depths), default=None)
        return tuple(None if least is None else least + level.rise_in for level in self.levels)

    # Where it lies

    def _held(self, dock: _Dock) -> DockHeld:
        known = [depth for depth in dock.depths_in if depth is not None]
        reason = dock.loads.reason(min(known, default=None))
        tackles = [self.tackles[i] for i in dock.anchors]
        drifts: tuple[Drift, ...] = ()
        middle = float(dock.loads.at_x_in.mean()), float(dock.loads.at_y_in.mean())
        if tackles:
            rest, heights = self._rest(dock, tackles)
            drifts = self._drifts(tackles, rest, heights)
            shape = (len(self.levels), SIDES)
            for column, index in enumerate(dock.anchors):
                pull, reach = rest.pull_lb[:, column].reshape(shape), rest.reach_in[:, column].reshape(shape)
                self.holds[index] = hold_of(tackles[column], self.levels, pull, reach)
                self.vertical[index] = _worst_vertical(tackles[column], self.levels[-1], pull[-1], reach[-1])
            middle = tuple(
                sum(getattr(t.placed, name) for t in tackles) / len(tackles) for name in ("corner_x_in", "corner_y_in")
            )
        return DockHeld(dock.sections, dock.anchors, *middle, dock.loads.pushes(), reason, drifts)

    def _rest(self, dock: _Dock, tackles: Sequence[Tackle]) -> tuple[Rest, Array]:
        chains = Fastened(
            *(_column(tackles, name) for name in ("corner_x_in", "corner_y_in", "x_in", "y_in")),
            length_in=np.array([tackle.length_in for tackle in tackles]),
            lb_per_in=np.array([tackle.lb_per_in for tackle in tackles]),
        )
        heights = np.array([[tackle.height_in(level) for tackle in tackles] for level in self.levels])
        heights = np.repeat(heights, SIDES, axis=0)
        return come_to_rest(chains, dock.loads.by_level(dock.depths_in), heights), heights

    def _drifts(self, tackles: Sequence[Tackle], rest: Rest, heights: Array) -> tuple[Drift, ...]:
        lengths, weights = (np.array([getattr(t, name) for t in tackles]) for name in ("length_in", "lb_per_in"))
        grids = np.broadcast_arrays(rest.reach_in, heights, lengths, weights)
        tensions = hung_at(rest.pull_lb / weights, *grids).tension_lb.tolist()
        turns = np.degrees((rest.turn_rad + np.pi) % (2 * np.pi) - np.pi).tolist()
        dx, dy, settled = rest.dx_in.tolist(), rest.dy_in.tolist(), rest.settled.tolist()
        named = [(level.name, deg) for level in self.levels for deg in FROM_DEG]
        return tuple(
            Drift(name, deg, dx[k], dy[k], turns[k], settled[k], tuple(t if isfinite(t) else None for t in tensions[k]))
            for k, (name, deg) in enumerate(named)
        )

    # What it means

    def _pulls(self) -> list[PullDown]:
        highest = self.levels[-1]
        found = []
        for group in self.design.level:
            mine = [i for i, tackle in enumerate(self.tackles) if tackle.placed.section in group.sections]
            if mine:
                hanging = sum(self.holds[i].at(highest.name).hanging_lb for i in mine)
                worst = sum(self.vertical[i] for i in mine)
                found.append(self._pull_down(group, highest, hanging, worst))
        return found

    def _pull_down(self, group: LevelFloat, highest: WaterLevel, hanging_lb: float, worst_lb: float) -> PullDown:
        floats = [placed for placed in self.design.floats if placed.section in group.sections]
        lb_per_in = sum(placed.size_x_in * placed.size_y_in for placed in floats) / 1728 * self.water_lb
        lower = worst_lb / lb_per_in
        steps = (
            Step(Sentence(f"Chains hanging straight down, {highest.name} water"), Amount(round(hanging_lb), "lb")),
            Step(Sentence("With the worst load pulling"), Amount(round(worst_lb), "lb")),
            Step(Sentence("The floats carry, for each inch they sink"), Amount(round(lb_per_in), "lb")),
            Step(Sentence("Lower by"), Amount(round(lower, 1), "in_small"), total=True),
        )
        rule = Sentence("Chain off the bottom hangs on the dock; the flotation above leaves it out.")
        return PullDown(
            sections=group.sections,
            level=highest.name,
            hanging_lb=hanging_lb,
            worst_lb=worst_lb,
            lower_in=lower,
            freeboard_in=group.freeboard_wet_in,
            spare_lb=group.net_lift_lb - group.dead_wet_lb,
            reason=Reason(rule, "ARCHIMEDES", steps),
        )

    def _resets(self) -> list[Reset]:
        """The level under which each chain lets its corner wander further than the firm allows."""
        normal, lowest = self.place.water.normal_in, self.levels[0]
        found = []
        for tackle in self.tackles:
            far = tackle.reach_in + self.rules.mooring.wander_in
            depth = sqrt(max(tackle.length_in**2 - far**2, 0.0))
            fall = max(tackle.placed.counted_depth_in - depth, 0.0)
            if tackle.length_in > far and fall < -lowest.rise_in - 1e-9:
                found.append(Reset(tackle.placed.mark, None if normal is None else normal - fall, fall))
        return found


def _worst_vertical(tackle: Tackle, level: WaterLevel, pull: Array, reach: Array) -> float:
    """What the chain weighs on the dock under the worst load; a chain that cannot reach, all an anchor weighs."""
    grids = np.broadcast_arrays(reach, tackle.height_in(level), tackle.length_in, tackle.lb_per_in)
    vertical = float(hung_at(pull / tackle.lb_per_in, *grids).vertical_lb.max())
    return min(vertical, tackle.sunk_lb + tackle.lb_per_in * tackle.length_in)


def _column(tackles: Sequence[Tackle], name: str) -> Array:
    return np.array([getattr(tackle.placed, name) for tackle in tackles])
