"""The level case: a section, or sections bolted as one, sinking evenly into still water. No heel, no trim.

The full equilibrium, with loads to one side, is worked out elsewhere from the weighted items.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, floor, pi, sqrt

from .reasons import Amount, Reason, Sentence, Step
from .result import LevelFloat


@dataclass(frozen=True, slots=True)
class Tub:
    """One float as the water sees it: height in inches, own weight and net lift in pounds (in this water).

    A round one lies on its side; its height is its diameter.
    """

    height_in: float
    own_lb: float
    net_lift_lb: float
    round: bool = False

    @property
    def gross_lb(self) -> float:
        return self.net_lift_lb + self.own_lb

    def lift_at_lb(self, draft_in: float) -> float:
        """What the water holds up, own weight included, at a draft.

        >>> Tub(16, 46, 600).lift_at_lb(4), round(Tub(24, 46, 600, round=True).lift_at_lb(12), 6)
        (161.5, 323.0)
        """
        part = min(max(draft_in / self.height_in, 0.0), 1.0)
        return self.gross_lb * (wet_share_of_circle(part) if self.round else part)


def wet_share_of_circle(depth: float) -> float:
    """How much of a circle lies below a chord so much of the diameter from its lowest point. Source: GEOMETRY.

    >>> wet_share_of_circle(0.0), round(wet_share_of_circle(0.25), 4), wet_share_of_circle(1.0)
    (0.0, 0.1955, 1.0)
    """
    up = 1 - 2 * depth
    return (acos(up) - up * sqrt(1 - up * up)) / pi


@dataclass(frozen=True, slots=True)
class Afloat:
    """What floats as one: its tubs, its weights without the tubs' own, the deck above them, and the load on it."""

    sections: tuple[str, ...]
    tubs: tuple[Tub, ...]
    dead_wet_lb: float
    dead_seasoned_lb: float
    live_lb: float
    deck_area_sqft: float
    above_tubs_in: float  # frame depth and deck thickness
    person_lb: float = 175.0
    live_psf: float = 0.0  # as said in the reason
    ramp_wet_lb: float = 0.0  # how much of the dead weight is the ramp's half


def draft_in(*, height_in: float, share_lb: float, own_lb: float, net_lift_lb: float) -> float:
    """How deep a float of straight sides sits, inches, from its rated lift.

    Draft = height x (its share of the load + its own weight) / (net lift + its own weight). Beyond the height of the
    float it only says how much is missing. Raises ValueError when the float lifts nothing. Source: COMMON_PRACTICE.

    >>> round(draft_in(height_in=16, share_lb=820 / 6, own_lb=46, net_lift_lb=600), 2)
    4.52
    """
    if net_lift_lb + own_lb <= 0:
        raise ValueError("the float lifts nothing")
    return height_in * (share_lb + own_lb) / (net_lift_lb + own_lb)


def tops_above_water_in(tubs: Sequence[Tub], load_lb: float) -> float:
    """How far the float tops stand above water under a load, inches; below zero when the load is more than the lift.

    Floats of different heights hang level from one frame; a short one may not reach the water. Source: ARCHIMEDES.

    >>> round(tops_above_water_in([Tub(16, 46, 600)] * 6, 820), 2)
    11.48
    """
    wet = Counter(tubs)
    whole = load_lb + sum(tub.own_lb * n for tub, n in wet.items())
    if any(tub.round for tub in tubs):
        return _tops_of_rounds_in(wet, whole)
    while True:
        lift = sum(tub.gross_lb * n for tub, n in wet.items())
        per_inch = sum(tub.gross_lb / tub.height_in * n for tub, n in wet.items())
        top = (lift - whole) / per_inch
        dry = [tub for tub in wet if tub.height_in <= top]
        if not dry or len(dry) == len(wet):
            return top
        for tub in dry:
            del wet[tub]


def _tops_of_rounds_in(tubs: Counter[Tub], whole_lb: float) -> float:
    """The level halved in on; where the load is more than the lift, by how much, as if they went on straight up."""
    low, high = 0.0, max(tub.height_in for tub in tubs)
    missing = sum(tub.gross_lb * n for tub, n in tubs.items()) - whole_lb
    if missing <= 0:
        return missing / sum(tub.gross_lb / tub.height_in * n for tub, n in tubs.items())
    for _ in range(48):
        middle = (low + high) / 2
        lift = sum(tub.lift_at_lb(tub.height_in - middle) * n for tub, n in tubs.items())
        low, high = (middle, high) if lift > whole_lb else (low, middle)
    return low


def level_float(afloat: Afloat) -> LevelFloat:
    """Draft and freeboard wet, seasoned and loaded, and the load that puts the float tops under.

    Source: COMMON_PRACTICE.
    """
    tubs = afloat.tubs
    deepest = max(tub.height_in for tub in tubs)
    lift = round(sum(tub.net_lift_lb for tub in tubs))
    loads = (afloat.dead_wet_lb, afloat.dead_seasoned_lb, afloat.dead_wet_lb + afloat.live_lb)
    tops = [tops_above_water_in(tubs, load) for load in loads]
    left = lift - afloat.dead_wet_lb
    drafts = [deepest - top for top in tops]
    boards = [top + afloat.above_tubs_in for top in tops]
    return LevelFloat(
        afloat.sections,
        len(tubs),
        afloat.dead_wet_lb,
        afloat.dead_seasoned_lb,
        afloat.live_lb,
        lift,
        left - afloat.live_lb,
        *drafts,
        *boards,
        left / afloat.deck_area_sqft,
        max(0, floor(left / afloat.person_lb)),
        _reason(afloat, lift, drafts[0], boards[0]),
    )


def _reason(afloat: Afloat, lift: float, draft: float, freeboard: float) -> Reason:
    draft, freeboard = round(draft, 1), round(freeboard, 1)
    left = lift - afloat.dead_wet_lb
    ramp, load = (), "Less the design load, {0}"
    if afloat.ramp_wet_lb:
        ramp = (Step(Sentence("Less half the ramp"), Amount(-afloat.ramp_wet_lb, "lb")),)
        load = "Less the design load, {0}, with half the ramp's"
    steps = (
        Step(Sentence("{0} floats lift, net", (Amount(len(afloat.tubs), "count"),)), Amount(lift, "lb")),
        Step(Sentence("Less the dock, wet"), Amount(afloat.ramp_wet_lb - afloat.dead_wet_lb, "lb")),
        *ramp,
        Step(Sentence("Left for people"), Amount(left, "lb"), total=True),
        Step(Sentence(load, (Amount(afloat.live_psf, "psf"),)), Amount(-afloat.live_lb, "lb")),
        Step(Sentence("Lift to spare"), Amount(left - afloat.live_lb, "lb"), total=True),
        Step(Sentence("Bottom of floats to top of deck"), Amount(round(draft + freeboard, 1), "in_small")),
        Step(Sentence("Less the draft, wet, nobody aboard"), Amount(-draft, "in_small")),
        Step(Sentence("Freeboard, wet"), Amount(freeboard, "in_small"), total=True),
    )
    rule = "Draft = float height × (its share of the load + its own weight) ÷ (net lift + its own weight). "
    if any(tub.round for tub in afloat.tubs):
        rule = "A round float sinks until the part of its circle under water lifts its share and its own weight. "
    return Reason(Sentence(rule + "The dock sinks level; chains are left out."), "COMMON_PRACTICE", steps)
