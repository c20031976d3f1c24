"""A dock held against every limit: what keeps it, what breaks it, and what nobody can say yet."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from estimating.engine.reasons import Amount, Finding, Reason, Sentence
from estimating.engine.result import Design

from .exact import exact_in, exact_sqft
from .limits import PermitLimits, SideLines
from .measures import MEASURES, Measured

KEEPS, BREAKS, UNKNOWN = "keeps", "breaks", "unknown"
ASK_FIRST = Sentence("Change the spec, or ask them first.")


@dataclass(frozen=True, slots=True)
class Rule:
    """How a limit reads: `most` for what may not be more, its unit, and how small a difference nobody reads out."""

    field: str
    name: str
    words: str
    unit: str
    most: bool
    read_out: float
    lacking: str = ""
    field_of: str = ""


RULES = (
    Rule("most_width_in", "Width", "wide", "in", True, 0.4),
    Rule("most_area_sqft", "Deck", "of deck", "sqft", True, 1.0),
    Rule("most_reach_in", "Reach", "out from the shore", "in", True, 0.4),
    Rule("most_walkway_width_in", "Walkway", "of walkway width", "in", True, 0.4),
    Rule(
        "least_setback_in",
        "From the side lines",
        "from each side line",
        "in",
        False,
        0.4,
        "Measure from the landing to the side lines, and write both on the site.",
        "place.lines",
    ),
    Rule(
        "least_clearance_in",
        "Water under the floats",
        "of water under the floats",
        "ft_level",
        False,
        0.4,
        "Sound the depth under every section, and write low water on the site.",
        "place.depths",
    ),
    Rule("least_deck_open_percent", "Open deck", "of the deck open", "percent", False, 0.01),
)


@dataclass(frozen=True, slots=True)
class Verdict:
    """One limit and the dock: `state` is keeps, breaks or unknown. Amounts are in engine units."""

    by: str
    rule: Rule
    limit: Amount
    dock: Amount | None
    state: str
    where: str
    reason: Reason | None

    @property
    def asks(self) -> str:
        return "at most" if self.rule.most else "at least"

    @property
    def spare(self) -> Amount | None:
        """How much is left before the limit; below zero how far it is over."""
        if self.dock is None:
            return None
        left = self.limit.value - self.dock.value
        return Amount(left if self.rule.most else -left, self.limit.unit)


def verdicts(dock: Design, limits: Iterable[PermitLimits], lines: SideLines) -> tuple[Verdict, ...]:
    """Every limit that is set, in the order given. A dock that is exactly what a limit says keeps it.

    Lengths and areas are compared as they were typed (exact.py), never as floats. Source: FIRM.
    """
    asked = [(one, rule) for one in limits for rule in RULES if getattr(one, rule.field) is not None]
    measured: dict[str, Measured | None] = {
        field: MEASURES[field](dock, lines) for field in {rule.field for _, rule in asked}
    }
    return tuple(_verdict(one.by, rule, getattr(one, rule.field), measured[rule.field]) for one, rule in asked)


def limit_findings(found: Iterable[Verdict]) -> tuple[Finding, ...]:
    """A Check for each limit the dock breaks, and for each that cannot be checked for want of a fact of the site."""
    said = (_broken(one) if one.state == BREAKS else _not_known(one) for one in found if one.state != KEEPS)
    return tuple(finding for finding in said if finding is not None)


def _verdict(by: str, rule: Rule, limit: float, found: Measured | None) -> Verdict:
    asked = Amount(limit, rule.unit)
    if found is None:
        return Verdict(by, rule, asked, None, UNKNOWN, "", None)
    exact = _exact(limit, rule.unit)
    kept = found.exact <= exact if rule.most else found.exact >= exact
    dock = Amount(found.value, rule.unit)
    return Verdict(by, rule, asked, dock, KEEPS if kept else BREAKS, found.where, found.reason)


def _exact(limit: float, unit: str) -> Fraction:
    if unit == "sqft":
        return exact_sqft(limit)
    return Fraction(str(limit)) if unit == "percent" else exact_in(limit)


def _broken(one: Verdict) -> Finding:
    rule = one.rule
    little = abs(one.spare.value) < rule.read_out
    if rule.field == "least_clearance_in" and one.dock.value < 0:
        text = "{0}: {1} {2} {3}; at low water this dock sits on the bottom."
    elif rule.most:
        text = "{0}: {1} {2} {3}; this dock is " + ("a little more than {4}." if little else "{4}.")
    else:
        text = "{0}: {1} {2} {3}; this dock has " + ("a little less than {4}" if little else "{4}")
        text += {"least_setback_in": " to {5}.", "least_clearance_in": " at low water, at {5}."}.get(rule.field, ".")
    headline = Sentence(text, (one.by, one.limit, rule.words, one.asks, one.dock, one.where))
    return Finding("check", headline, ASK_FIRST, source="FIRM", code="over_limit")


def _not_known(one: Verdict) -> Finding | None:
    rule = one.rule
    if not rule.lacking:
        return None
    headline = Sentence("{0}: {1} {2} {3}; what this dock has is not known.", (one.by, one.limit, rule.words, one.asks))
    return Finding("check", headline, Sentence(rule.lacking), rule.field_of, "FIRM", "limit_unknown")
