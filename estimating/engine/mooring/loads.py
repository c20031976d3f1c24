"""What pushes one dock from each side: wind on its sides and its boats, and the current, with the place it acts."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estimating.engine.mooring_result import Push
from estimating.engine.outline import Box
from estimating.engine.parts import MooringRules
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.spec import Boat

from .equilibrium import Pushes
from .forces import current_psf, shallow_drag, wind_psf
from .sides import FROM_DEG, TOWARDS, WORDS, Array, seen

BEAM_SHARE = 0.36  # of a boat's length, from memory
BOAT_DRAFT_IN = 12.0
SQIN_PER_SQFT = 144.0


@dataclass(frozen=True, slots=True)
class Hull:
    """One section as wind and water see it: box in plan, deck over the water and bottom under it, inches."""

    box: Box
    above_in: float
    below_in: float


@dataclass(frozen=True, slots=True)
class Weather:
    """What blows and runs: wind in mph, current in knots (0 where none is known), weight of the water."""

    rules: MooringRules
    current_kn: float
    water_lb_per_cuft: float


@dataclass(frozen=True, slots=True)
class DockLoads:
    """Pushes of one dock by side, before and after the current grows in shallow water."""

    weather: Weather
    wind_lb: Array  # by side
    boats_lb: Array
    current_lb: Array  # at the firm's drag, deep water
    wind_sqft: Array
    boats_sqft: Array
    current_sqft: Array
    at_x_in: Array
    at_y_in: Array
    draft_in: float

    def by_level(self, depths_in: Sequence[float | None]) -> Pushes:
        """All sides at each of the depths, depth by depth. None is an unknown depth: deep."""
        totals = [self.wind_lb + self.boats_lb + self.current_lb * self.growth(depth) for depth in depths_in]
        total = np.concatenate(totals)
        towards = np.tile(TOWARDS, (len(depths_in), 1))
        at_x, at_y = np.tile(self.at_x_in, len(depths_in)), np.tile(self.at_y_in, len(depths_in))
        return Pushes(total * towards[:, 0], total * towards[:, 1], at_x, at_y)

    def growth(self, depth_in: float | None) -> float:
        """How many times the current pushes in shallow water."""
        drag = self.weather.rules.current_drag
        if depth_in is None:
            return 1.0
        return shallow_drag(drag=drag, draft_in=self.draft_in, depth_in=max(depth_in, 0.0)) / drag

    def pushes(self) -> tuple[Push, ...]:
        rows = zip(FROM_DEG, WORDS, self.wind_lb, self.boats_lb, self.current_lb, strict=True)
        return tuple(Push(deg, words, float(wind), float(boats), float(run)) for deg, words, wind, boats, run in rows)

    def reason(self, shallowest_in: float | None) -> Reason:
        """The ledger of the side that pushes hardest."""
        growth = self.growth(shallowest_in)
        total = self.wind_lb + self.boats_lb + self.current_lb * growth
        worst = int(total.argmax())
        rules = self.weather.rules
        steps = [
            Step(Sentence("Wind"), Amount(rules.wind_mph, "mph")),
            Step(Sentence("It presses 0.00256 V²"), Amount(round(wind_psf(rules.wind_mph), 2), "psf")),
            Step(Sentence("Side of the dock, seen from {0}", (WORDS[worst],)), Amount(self.wind_sqft[worst], "sqft")),
            Step(Sentence("Push on it, × {0} for its shape", _times(rules.wind_drag)), _lb(self.wind_lb[worst])),
        ]
        if self.boats_lb.any():
            steps.append(Step(Sentence("Boats, seen from there"), Amount(self.boats_sqft[worst], "sqft")))
            steps.append(Step(Sentence("Push on the boats, with current on them"), _lb(self.boats_lb[worst])))
        if self.current_lb.any():
            pressure = current_psf(self.weather.current_kn, water_lb_per_cuft=self.weather.water_lb_per_cuft)
            steps.append(Step(Sentence("Current ½ρV² presses"), Amount(round(pressure, 2), "psf")))
            steps.append(Step(Sentence("Floats under water"), Amount(self.current_sqft[worst], "sqft")))
            words = Sentence(
                "× {0} for their shape, × {1} for shallow water", (*_times(rules.current_drag), *_times(growth))
            )
            steps.append(Step(words, _lb(self.current_lb[worst] * growth)))
        steps.append(Step(Sentence("Pushed from {0}", (WORDS[worst],)), _lb(total[worst]), total=True))
        rule = (
            "Wind and current are taken from the same side, one side after another; the ramp is not counted on to hold."
        )
        return Reason(Sentence(rule), "WIND_PRESSURE", tuple(steps))


def dock_loads(hulls: Sequence[Hull], boats: Sequence[Boat], weather: Weather) -> DockLoads:
    """Loads of one dock. Sections behind others count only for what shows; boats lie along its longer side.

    Sources: WIND_PRESSURE, CURRENT_PRESSURE, GEOMETRY.
    """
    rules = weather.rules
    boxes = [hull.box for hull in hulls]
    wide = seen(boxes)
    shares = wide.shares[:, None] * wide.own / SQIN_PER_SQFT
    above = np.maximum([hull.above_in for hull in hulls], 0.0)
    below = np.maximum([hull.below_in for hull in hulls], 0.0)
    wind_sqft, current_sqft = shares * above, shares * below
    wind_at = wind_psf(rules.wind_mph) * rules.wind_drag
    current_at = current_psf(weather.current_kn, water_lb_per_cuft=weather.water_lb_per_cuft) * rules.current_drag
    by_section = wind_sqft * wind_at + current_sqft * current_at
    middle = np.array([box.middle for box in boxes])
    acts = by_section @ middle / np.maximum(by_section.sum(axis=1), 1e-12)[:, None]
    acts = np.where(by_section.sum(axis=1)[:, None] > 0, acts, middle.mean(axis=0))
    moored = _boats_wide_in(boxes, boats)
    boats_sqft = moored * rules.boat_profile_in / SQIN_PER_SQFT
    return DockLoads(
        weather=weather,
        wind_lb=wind_sqft.sum(axis=1) * wind_at,
        boats_lb=boats_sqft * wind_at + moored * BOAT_DRAFT_IN / SQIN_PER_SQFT * current_at,
        current_lb=current_sqft.sum(axis=1) * current_at,
        wind_sqft=wind_sqft.sum(axis=1).round(1),
        boats_sqft=boats_sqft.round(1),
        current_sqft=current_sqft.sum(axis=1).round(1),
        at_x_in=acts[:, 0],
        at_y_in=acts[:, 1],
        draft_in=float(below.max()),
    )


def _boats_wide_in(boxes: Sequence[Box], boats: Sequence[Boat]) -> Array:
    """How wide all boats together look from each side."""
    corners = np.array(boxes, dtype=float)
    out = corners[:, 2].max() - corners[:, 0].min()
    along = corners[:, 3].max() - corners[:, 1].min()
    total = sum(boat.length_in * boat.count for boat in boats)
    size = (total, BEAM_SHARE * total) if out >= along else (BEAM_SHARE * total, total)
    return seen([Box(0.0, 0.0, *size)]).whole


def _lb(value: float) -> Amount:
    return Amount(round(float(value)), "lb")


def _times(value: float) -> tuple[Amount]:
    return (Amount(round(value, 2), "count"),)
