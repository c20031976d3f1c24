"""The firm's joint rules by place and dock length, what each takes, and what that weighs."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal

from .parts import Catalogue, Good, JointRule, Use
from .reasons import Finding, Sentence
from .result import JointPoint

SLIM = 1e-6
PLACES = {
    "outer_corner": "outer corners",
    "inner_corner": "inside corners",
    "tee": "tees",
    "cross_end": "cross member ends",
    "hinged_joint": "hinged joints",
    "rigid_joint": "rigid joints",
    "ramp_dock_end": "the dock end of the ramp",
    "ramp_shore_end": "the shore end of the ramp",
    "board_crossing": "board crossings",
    "chain_retainer": "chain retainers",
}


@dataclass(frozen=True, slots=True)
class Take:
    """What one joint takes by the rule that governs it; all empty where no rule does."""

    rule: str
    parts: tuple[tuple[str, Decimal], ...]
    bolts: int
    bolt: str


NOTHING = Take("", (), 0, "")


class Rulebook:
    """Looks rules up once per place and length, and remembers which places had none."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._goods = catalogue.goods
        self._rules: dict[str, list[JointRule]] = {}
        for rule in catalogue.joint_rules:
            self._rules.setdefault(rule.place, []).append(rule)
        self._takes: dict[tuple[str, float], Take] = {}
        self._missing: Counter[str] = Counter()
        self._unknown: dict[str, str] = {}
        self._by_rule: dict[tuple[str, str], float] = {}
        self._weights: dict[tuple[str, Take], float] = {}

    def take(self, place: str, dock_length_in: float) -> Take:
        key = (place, dock_length_in)
        if key not in self._takes:
            self._takes[key] = self._look_up(place, dock_length_in)
        take = self._takes[key]
        if take is NOTHING:
            self._missing[place] += 1
        return take

    def findings(self) -> list[Finding]:
        """A check for every place without a rule and every rule that names goods the catalogue lacks."""
        found = []
        for place in self._missing:
            headline = Sentence("No joint rule for {0}: no hardware is counted there.", (PLACES.get(place, place),))
            cure = Sentence("Write the rule in the catalogue.")
            found.append(Finding("check", headline, cure, "", "FIRM_JOINTS", "missing_rule"))
        for code, rule in self._unknown.items():
            headline = Sentence("The joint rule “{0}” names “{1}”, which is not in the catalogue.", (rule, code))
            cure = Sentence("Add the item, or change the rule.")
            found.append(Finding("check", headline, cure, "", "FIRM_JOINTS", "unknown_good"))
        return found

    def good_lb(self, good: Good, quantity: int = 1) -> float:
        """What so many of a fitted good weigh with their own fixings."""
        return quantity * (good.weight_lb + self.uses_lb(good.fixings))

    def joint_lb(self, joint: JointPoint) -> float:
        """What the hardware of one joint weighs: its parts, its bolts, and what goes with every bolt."""
        key = joint.place, joint.rule
        if joint.place == "board_crossing" or key not in self._by_rule:
            take = Take(joint.rule, joint.parts, joint.bolts, joint.bolt)
            self._by_rule[key] = self.take_lb(joint.place, take)
        return self._by_rule[key]

    def take_lb(self, place: str, take: Take) -> float:
        """As joint_lb, for a joint of a place that is not built yet."""
        weight = self._weights.get((place, take))
        if weight is None:
            weight = sum(float(quantity) * self._weight(code) for code, quantity in take.parts)
            if take.bolts:
                weight += take.bolts * (self._weight(take.bolt) + self._per_bolt_lb(place, take.rule))
            self._weights[place, take] = weight
        return weight

    def _per_bolt_lb(self, place: str, name: str) -> float:
        rules = self._rules.get(place, ())
        return next((self.uses_lb(rule.per_bolt) for rule in rules if rule.name == name), 0.0)

    def uses_lb(self, uses: tuple[Use, ...]) -> float:
        return sum(float(use.quantity) * self._weight(use.code) for use in uses)

    def _look_up(self, place: str, length: float) -> Take:
        for rule in self._rules.get(place, ()):
            if rule.dock_over_in + SLIM < length <= rule.dock_to_in + SLIM:
                return self._read(rule)
        return NOTHING

    def _read(self, rule: JointRule) -> Take:
        codes = [use.code for use in (*rule.parts, *rule.per_bolt)] + ([rule.bolt] if rule.bolts else [])
        self._unknown.update((code, rule.name) for code in codes if code not in self._goods)
        parts = tuple((use.code, use.quantity) for use in rule.parts)
        return Take(rule.name, parts, rule.bolts, rule.bolt)

    def _weight(self, code: str) -> float:
        good = self._goods.get(code)
        return good.weight_lb if good is not None else 0.0
