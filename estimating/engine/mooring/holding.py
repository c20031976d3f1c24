"""One anchor and its chain at every level: slack, wander, the worst tension and uplift, and whether they hold."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite

import numpy as np

from estimating.engine.anchors import wander_in
from estimating.engine.mooring_result import AnchorHold, ChainAtLevel, WaterLevel
from estimating.engine.parts import Catalogue, FirmRules, Good, MooringRules
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.result import PlacedAnchor
from estimating.engine.spec import Place

from .bottoms import Grip, grip_of, holding_lb, under_water_lb
from .catenary import hung_at
from .chains import BREAKING_TIMES, GRADES, UNKNOWN_LB_PER_FT, dry_lb_per_ft, wet_lb_per_in, working_load_lb
from .sides import WORDS, Array

NEAR = 0.9
NOTHING_HOLDS = 1e9
DRY_IN = 1.0  # a weight out of the water still lies below the fitting
LEAST_CHAIN_IN = 1.0


@dataclass(frozen=True, slots=True)
class Tackle:
    """One anchor as it is reckoned with: chain without tie-off, weights in the water, grip of the bottom."""

    placed: PlacedAnchor
    depth_known: bool
    length_in: float
    lb_per_in: float
    working_lb: float | None
    dry_lb: float
    sunk_lb: float
    bottom: str
    grip: Grip
    chain: Good
    rules: MooringRules

    @property
    def reach_in(self) -> float:
        return hypot(self.placed.x_in - self.placed.corner_x_in, self.placed.y_in - self.placed.corner_y_in)

    def height_in(self, level: WaterLevel) -> float:
        return max(self.placed.counted_depth_in + level.rise_in, DRY_IN)


def tackle_of(placed: PlacedAnchor, place: Place, catalogue: Catalogue, rules: FirmRules) -> Tackle:
    """An anchor of the design with what the catalogue knows of it."""
    water = rules.density_lb_per_cuft[place.water.kind]
    item, chain = catalogue.goods[placed.item], catalogue.goods[placed.chain]
    sunk = item.submerged_weight_lb
    if sunk is None:
        sunk = under_water_lb(dry_lb=item.weight_lb, water_lb_per_cuft=water)
    bottom = bottom_at(placed, place)
    return Tackle(
        placed=placed,
        depth_known=placed.depth_in is not None,
        length_in=max(placed.chain_length_in - rules.mooring.tie_off_in, LEAST_CHAIN_IN),
        lb_per_in=wet_lb_per_in(dry_lb_per_ft(chain) or UNKNOWN_LB_PER_FT, water_lb_per_cuft=water),
        working_lb=working_load_lb(chain),
        dry_lb=item.weight_lb,
        sunk_lb=sunk,
        bottom=bottom,
        grip=grip_of(bottom),
        chain=chain,
        rules=rules.mooring,
    )


def bottom_at(placed: PlacedAnchor, place: Place) -> str:
    """The bottom sounded nearest in depth to the anchor's, or else what the site says."""
    sounded = [point for point in place.depths if point.bottom != "unknown"]
    if not sounded:
        return place.bottom
    return min(sounded, key=lambda point: abs(point.depth_in - placed.counted_depth_in)).bottom


def hold_of(tackle: Tackle, levels: Sequence[WaterLevel], pull_lb: Array, reach_in: Array) -> AnchorHold:
    """What an anchor is asked, from its pulls and reaches: one row a level, one column a side.

    It holds while (weight under water - uplift) x friction is over the pull; its share is of the weight that takes.
    """
    heights = np.array([tackle.height_in(level) for level in levels])[:, None]
    grids = np.broadcast_arrays(reach_in, heights, tackle.length_in, tackle.lb_per_in)
    hung = hung_at(pull_lb / tackle.lb_per_in, *grids)
    uplift = np.minimum(hung.uplift_lb, NOTHING_HOLDS)
    asked_lb = tackle.rules.holding_factor * (pull_lb / tackle.grip.friction + uplift)
    shares = np.minimum(asked_lb / max(tackle.sunk_lb, 1e-9), NOTHING_HOLDS)
    rows = []
    for k, level in enumerate(levels):
        side = int(shares[k].argmax()) if shares[k].any() else int(pull_lb[k].argmax())
        rows.append(
            _row(
                tackle,
                level,
                _Worst(side, *(float(v[k, side]) for v in (pull_lb, hung.uplift_lb)), hung.tension_lb[k].max()),
            )
        )
    place = np.unravel_index(int(shares.argmax()), shares.shape)
    tension = float(hung.tension_lb.max())
    chain_share = None
    if tackle.working_lb:
        allowed = tackle.working_lb * tackle.rules.chain_share_percent / 100
        chain_share = min(tension / allowed, NOTHING_HOLDS) if isfinite(tension) else NOTHING_HOLDS
    asked = rows[int(place[0])]
    holding_share = float(shares[place])
    return _hold(tackle, rows, asked, chain_share, holding_share)


@dataclass(frozen=True, slots=True)
class _Worst:
    side: int
    pull_lb: float
    uplift_lb: float
    tension_lb: float


def _row(tackle: Tackle, level: WaterLevel, worst: _Worst) -> ChainAtLevel:
    height = tackle.height_in(level)
    over = tackle.length_in - hypot(tackle.reach_in, height)
    up = worst.uplift_lb if isfinite(worst.uplift_lb) else tackle.sunk_lb
    return ChainAtLevel(
        level=level.name,
        depth_in=tackle.placed.counted_depth_in + level.rise_in,
        slack_in=max(over, 0.0),
        short_in=max(-over, 0.0),
        wander_in=wander_in(chain_in=tackle.length_in, low_depth_in=height, reach_in=tackle.reach_in),
        hanging_lb=tackle.lb_per_in * min(height, tackle.length_in),
        pull_lb=worst.pull_lb,
        tension_lb=worst.tension_lb if isfinite(worst.tension_lb) else None,
        uplift_lb=worst.uplift_lb if isfinite(worst.uplift_lb) else None,
        holding_lb=holding_lb(under_water_lb=tackle.sunk_lb, uplift_lb=up, friction=tackle.grip.friction),
        from_words=WORDS[worst.side],
    )


def _hold(
    tackle: Tackle, rows: Sequence[ChainAtLevel], asked: ChainAtLevel, chain_share: float | None, holding_share: float
) -> AnchorHold:
    placed = tackle.placed
    return AnchorHold(
        mark=placed.mark,
        section=placed.section,
        corner_x_in=placed.corner_x_in,
        corner_y_in=placed.corner_y_in,
        x_in=placed.x_in,
        y_in=placed.y_in,
        depth_in=placed.counted_depth_in,
        depth_known=tackle.depth_known,
        bottom=tackle.bottom,
        friction=tackle.grip.friction,
        dry_lb=tackle.dry_lb,
        under_water_lb=tackle.sunk_lb,
        chain_length_in=placed.chain_length_in,
        tie_off_in=placed.chain_length_in - tackle.length_in,
        chain_lb_per_ft=tackle.lb_per_in * 12,
        chain_weighed=dry_lb_per_ft(tackle.chain) is not None,
        working_load_lb=tackle.working_lb,
        levels=tuple(rows),
        worst=asked.level,
        chain_share=chain_share,
        holding_share=holding_share,
        level=_level(tackle, rows, chain_share, holding_share),
        holding_reason=_holding_reason(tackle, asked),
        chain_reason=_chain_reason(tackle, rows),
    )


def _level(tackle: Tackle, rows: Sequence[ChainAtLevel], chain_share: float | None, holding_share: float) -> str:
    """Stop where it drags, parts or pulls the dock under; Check where it keeps less than the firm's margin."""
    over = holding_share > tackle.rules.holding_factor + 1e-9 or (chain_share or 0.0) > 1 + 1e-9
    if over or any(row.short_in > 0 for row in rows):
        return "stop"
    unsure = not tackle.depth_known or not tackle.grip.sure or chain_share is None
    return "check" if unsure or holding_share > 1 + 1e-9 or (chain_share or 0.0) > NEAR else "fine"


def _holding_reason(tackle: Tackle, asked: ChainAtLevel) -> Reason:
    up = asked.uplift_lb if asked.uplift_lb is not None else tackle.sunk_lb
    steps = (
        Step(Sentence("Anchor, dry"), Amount(tackle.dry_lb, "lb")),
        Step(Sentence("Under water"), Amount(round(tackle.sunk_lb), "lb")),
        Step(Sentence("Less what the chain lifts"), Amount(-round(up), "lb")),
        Step(Sentence("Bottom: {0}. It rubs", (tackle.bottom,)), Amount(tackle.grip.friction, "count")),
        Step(Sentence("So it resists"), Amount(round(asked.holding_lb), "lb"), total=True),
        Step(Sentence("The chain pulls, load from {0}", (asked.from_words,)), Amount(round(asked.pull_lb), "lb")),
        Step(Sentence("It is to hold over that"), Amount(tackle.rules.holding_factor, "times")),
    )
    rule = Sentence(
        f"(Weight under water − uplift) × friction, at {asked.level} water, where it is asked most. A pull that grows "
        "lifts more as well."
    )
    return Reason(rule, tackle.grip.source, steps)


def _chain_reason(tackle: Tackle, rows: Sequence[ChainAtLevel]) -> Reason:
    most = max(rows, key=lambda row: row.tension_lb if row.tension_lb is not None else float("inf"))
    tension = None if most.tension_lb is None else Amount(round(most.tension_lb), "lb")
    steps = [
        Step(Sentence("Chain, without the tie-off"), Amount(tackle.length_in, "in")),
        Step(Sentence("In the water it weighs"), Amount(round(tackle.lb_per_in * 12, 2), "lb_per_ft")),
        Step(Sentence(f"Tension at the dock, {most.level} water"), tension, total=True),
    ]
    if tackle.working_lb:
        steps.append(Step(_working_words(tackle.chain), Amount(tackle.working_lb, "lb")))
    rule = Sentence(
        "A hanging chain: its tension is √(pull² + what hangs²). Where it cannot reach, there is none to give."
    )
    return Reason(rule, "CHAIN_LIMITS" if tackle.working_lb else "CATENARY", tuple(steps))


def _working_words(chain: Good) -> Sentence:
    if chain.working_load_lb is not None or chain.chain_grade not in GRADES:
        return Sentence("Working load limit, from its sheet")
    times = Amount(BREAKING_TIMES[chain.chain_grade], "count")
    return Sentence("Working load limit, {0}; it breaks at {1} times", (GRADES[chain.chain_grade], times))
