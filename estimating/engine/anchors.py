"""Anchors and their chain: where the weight lies, and how long a chain is slack at high water.

Trade rule: the weight lies as far out as the water is deep, so the chain hangs at 45 degrees at normal level.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, hypot, sqrt

from .defaults import Picked, fill_anchor
from .limits import Inspector
from .outline import corner_of, outward
from .parts import Catalogue, MooringRules
from .reasons import Amount, Finding, Reason, Sentence, Step
from .result import PlacedAnchor
from .spec import Anchor, DockSpec, Place, Water

WAVES_IN = 12.0
TIE_OFF_IN = 12.0
SLIM_IN = 1e-6


@dataclass(frozen=True, slots=True)
class Anchored:
    """Anchors in place, the spec's rows with their defaults filled, and what to say about them."""

    anchors: tuple[PlacedAnchor, ...]
    filled: tuple[Anchor, ...]
    findings: tuple[Finding, ...]


def chain_length_in(
    *, reach_in: float, high_depth_in: float, waves_in: float = WAVES_IN, tie_off_in: float = TIE_OFF_IN
) -> float:
    """Chain that is still slack at high water, with an allowance for waves and for tying off, all inches.

    The straight line from corner to weight at high water, plus both allowances. Raises ValueError below zero.
    Source: COMMON_PRACTICE.

    >>> round(chain_length_in(reach_in=120, high_depth_in=132, waves_in=12, tie_off_in=0) / 12, 1)
    15.9
    """
    if min(reach_in, high_depth_in, waves_in, tie_off_in) < 0:
        raise ValueError("reach, depth and allowances must not be below zero")
    return hypot(reach_in, high_depth_in) + waves_in + tie_off_in


def wander_in(*, chain_in: float, low_depth_in: float, reach_in: float) -> float:
    """How far the corner can drift from where it was set, at low water, inches; zero when the chain is tight.

    Source: COMMON_PRACTICE.

    >>> round(wander_in(chain_in=15.87 * 12, low_depth_in=84, reach_in=120) / 12)
    4
    """
    if chain_in <= low_depth_in:
        return 0.0
    return max(0.0, sqrt(chain_in**2 - low_depth_in**2) - reach_in)


def highest(water: Water) -> tuple[str, float]:
    """The highest level known, in words, and how far it stands above normal, inches; 0 where that is not known.

    >>> highest(Water(normal_in=36, high_in=48, storm_in=60)), highest(Water(high_in=48))
    (('storm water', 24), ('high water', 0.0))
    """
    named = (("high water", water.high_in), ("storm water", water.storm_in))
    rises = [(name, level - water.normal_in) for name, level in named if None not in (level, water.normal_in)]
    return max(rises, key=lambda rise: rise[1], default=("high water", 0.0))


def place_anchors(
    spec: DockSpec, picked: Sequence[Picked], catalogue: Catalogue, rules: MooringRules, inspector: Inspector
) -> Anchored:
    """Every anchor at its corner, with its chain. Faults: an item or chain the catalogue does not have."""
    anchors, place = spec.anchors, spec.place
    boxes = {p.mark: p for p in picked}
    findings = _count_findings(len(anchors))
    findings += _level_findings(anchors, place)
    filled, placed, wanders = [], [], [0.0]
    for i, anchor in enumerate(anchors):
        anchor = fill_anchor(anchor, catalogue.standing)
        known = inspector.good(f"anchors[{i}].item", anchor.item, catalogue.goods, "anchor")
        if inspector.good(f"anchors[{i}].chain", anchor.chain, catalogue.goods, "chain") and known:
            setting = _Setting(i, anchor, place, rules, catalogue.standing.anchor_offset_in)
            placed.append(setting.place_at(*corner_of(boxes[anchor.section].box, anchor.corner)))
            filled.append(setting.filled)
            findings += setting.findings()
            wanders.append(setting.wander_in())
    findings += _wander_findings(max(wanders), rules.wander_in)
    return Anchored(tuple(placed), tuple(filled), tuple(findings))


class _Setting:
    """One anchor being set: its depth, reach and chain."""

    def __init__(
        self, index: int, anchor: Anchor, place: Place, rules: MooringRules, standing_offset_in: float
    ) -> None:
        self.index, self.anchor, self.place, self.rules = index, anchor, place, rules
        soundings = [point.depth_in for point in place.depths if point.depth_in > 0]
        self.sounded = anchor.depth_in is None and bool(soundings)
        unknown = max(soundings, default=standing_offset_in)
        self.depth_in = unknown if anchor.depth_in is None else anchor.depth_in
        aside = (self.depth_in or standing_offset_in) / sqrt(2)
        sign_x, sign_y = outward(anchor.corner)
        dx = round(sign_x * aside, 1) if anchor.dx_in is None else anchor.dx_in
        dy = round(sign_y * aside, 1) if anchor.dy_in is None else anchor.dy_in
        self.reach_in = hypot(dx, dy)
        self.highest, self.rise_in = highest(place.water)
        deepest = max(0.0, self.depth_in + self.rise_in)
        self.straight_in = hypot(self.reach_in, deepest)
        slack = chain_length_in(
            reach_in=self.reach_in, high_depth_in=deepest, waves_in=rules.waves_in, tie_off_in=rules.tie_off_in
        )
        self.by_scope_in = rules.least_scope * deepest + rules.tie_off_in
        self.needed_in = max(slack, self.by_scope_in)
        self.chain_in = anchor.chain_length_in or 12 * ceil(self.needed_in / 12 - SLIM_IN)
        self.filled = replace(anchor, dx_in=dx, dy_in=dy)

    def place_at(self, x: float, y: float) -> PlacedAnchor:
        anchor = self.filled
        return PlacedAnchor(
            anchor.mark,
            anchor.section,
            anchor.item,
            anchor.chain,
            x,
            y,
            x + anchor.dx_in,
            y + anchor.dy_in,
            anchor.depth_in,
            self.chain_in,
            self._reason(),
            self.depth_in,
        )

    def _reason(self) -> Reason:
        rules, given = self.rules, self.anchor.chain_length_in is not None
        steps = [
            Step(Sentence("Weight lies out from the corner"), Amount(self.reach_in, "in")),
            Step(Sentence(f"Depth at {self.highest}"), Amount(self.depth_in + self.rise_in, "in")),
            Step(Sentence("Straight from corner to weight"), Amount(self.straight_in, "in")),
            Step(Sentence("For waves"), Amount(rules.waves_in, "in")),
            Step(Sentence("For tying off"), Amount(rules.tie_off_in, "in")),
        ]
        more = self.needed_in - self.straight_in - rules.waves_in - rules.tie_off_in
        if more > SLIM_IN:
            words = Sentence("More, for {0} times the depth", (Amount(rules.least_scope, "count"),))
            steps.append(Step(words, Amount(more, "in")))
        if not given:
            steps.append(Step(Sentence("Rounded up to the foot"), Amount(self.chain_in - self.needed_in, "in")))
        steps.append(Step(Sentence("Chain as given" if given else "Chain"), Amount(self.chain_in, "in"), total=True))
        rule = Sentence(f"Slack at {self.highest}: √(reach² + depth²), and an allowance for waves and tying off.")
        return Reason(rule, "COMMON_PRACTICE", tuple(steps))

    def findings(self) -> list[Finding]:
        found, path, mark = [], f"anchors[{self.index}]", self.anchor.mark
        if self.anchor.depth_in is None:
            text = "Anchor {0}: depth unknown. The chain is counted for {1}" + (
                ", the deepest sounding." if self.sounded else "."
            )
            headline = Sentence(text, (mark, Amount(self.depth_in, "ft_level")))
            cure = Sentence("Sound the depth there before the chain is ordered.")
            found.append(_check(headline, cure, f"{path}.depth_in", "depth_unknown"))
        if self.chain_in < self.straight_in:
            text = f"Anchor {{0}}: {{1}} of chain cannot be slack at {self.highest}: it pulls the dock under."
            headline = Sentence(text, (mark, Amount(self.chain_in, "in")))
            cure = Sentence("It takes {0} with waves and tie-off.", (Amount(self.needed_in, "in"),))
            field = f"{path}.chain_length_in"
            found.append(Finding("stop", headline, cure, field, "COMMON_PRACTICE", "chain_tight"))
        elif self.chain_in < self.needed_in - SLIM_IN:
            headline = Sentence("Anchor {0}: {1} of chain leaves little slack.", (mark, Amount(self.chain_in, "in")))
            cure = Sentence("The rule gives {0} with waves and tie-off.", (Amount(self.needed_in, "in"),))
            found.append(_check(headline, cure, f"{path}.chain_length_in", "chain_short"))
        return found

    def wander_in(self) -> float:
        """How far the corner drifts at low water; zero where the levels are unknown or do not fall."""
        fall = _difference(self.place.water.normal_in, self.place.water.low_in)
        if fall <= 0:
            return 0.0
        slack, low = self.chain_in - self.rules.tie_off_in, max(0.0, self.depth_in - fall)
        return wander_in(chain_in=slack, low_depth_in=low, reach_in=self.reach_in)


def _difference(greater: float | None, lesser: float | None) -> float:
    return 0.0 if greater is None or lesser is None else greater - lesser


def _count_findings(count: int) -> list[Finding]:
    if count >= 2:
        return []
    headline = Sentence("No anchors." if count == 0 else "One anchor only.")
    cure = Sentence("A floating dock wants two or more, or say what holds it.")
    return [_check(headline, cure, "anchors", "few_anchors")]


def _level_findings(anchors: Sequence[Anchor], place: Place) -> list[Finding]:
    if not anchors or (place.water.high_in is not None and place.water.normal_in is not None):
        return []
    headline = Sentence("High water unknown: chains are counted for normal level.")
    cure = Sentence("A chain that is tight at high water pulls the dock under. Ask for the high mark.")
    return [_check(headline, cure, "place.water.high_in", "high_water_unknown")]


def _wander_findings(most_in: float, worth_saying_in: float) -> list[Finding]:
    if most_in <= worth_saying_in:
        return []
    headline = Sentence("At low water the corners can wander up to {0}.", (Amount(round(most_in), "in"),))
    cure = Sentence("Take up chain as the water falls, lay it flatter, or cross the chains.")
    return [Finding("note", headline, cure, "anchors", "COMMON_PRACTICE", "wander")]


def _check(headline: Sentence, cure: Sentence, field: str, code: str) -> Finding:
    return Finding("check", headline, cure, field, "COMMON_PRACTICE", code)
