"""How steep the ramp gets over the whole range of levels, and how far its free end travels."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, ceil, degrees, hypot, sqrt

from .parts import RangeRules
from .reasons import Amount, Finding, Sentence
from .result import Design, RampDesign
from .spec import Ramp, Water

WALKED = ("low", "normal", "high")  # at storm water nobody walks: then the ramp must only hold on


@dataclass(frozen=True, slots=True)
class Slope:
    """The ramp at one level: the drop from shore hinge to deck, inches; out is None when it cannot reach."""

    level: str
    drop_in: float
    out_in: float | None

    @property
    def one_in(self) -> float:
        return self.out_in / abs(self.drop_in) if self.drop_in and self.out_in is not None else float("inf")

    @property
    def angle_deg(self) -> float | None:
        """Below zero where the ramp rises towards the dock; None when it cannot reach."""
        return None if self.out_in is None else degrees(asin(self.drop_in / hypot(self.out_in, self.drop_in)))

    @property
    def words(self) -> str:
        """The slope said as 1:3.2, or level when it is flatter than 1:50."""
        return f"1:{self.one_in:.1f}" if self.one_in < 50 else "level"


@dataclass(frozen=True, slots=True)
class RampRange:
    """The ramp over the range: its slope at each known level, and what the worst of them asks for, inches.

    `travel_in` is how far the free end moves in and out on the deck, None where it does not reach at some level;
    `comfortable_in` and `steep_in` are the shortest ramps within the firm's two limits at low, normal and high water.
    """

    slopes: tuple[Slope, ...]
    length_in: float
    deck_in: float  # above the water, wet, nobody aboard
    hinge_in: float
    travel_in: float | None
    comfortable_in: float
    steep_in: float

    def verdict(self, slope: Slope, rules: RangeRules) -> str:
        """good, a little steep, steep, too steep or does not reach."""
        if slope.out_in is None:
            return "does not reach"
        for limit, words in (
            (rules.refuse, "too steep"),
            (rules.steep, "steep"),
            (rules.comfortable, "a little steep"),
        ):
            if slope.one_in < limit - 1e-9:
                return words
        return "good"


def ramp_slope(*, level: str, hinge_in: float, deck_in: float, length_in: float) -> Slope:
    """The slope of a ramp between a shore hinge and a deck, all inches on one datum. Source: GEOMETRY.

    >>> slope = ramp_slope(level="low", hinge_in=48, deck_in=0, length_in=192)
    >>> round(slope.out_in / 12, 2), round(slope.one_in, 2), round(slope.angle_deg, 2)
    (15.49, 3.87, 14.48)
    """
    drop = hinge_in - deck_in
    reaches = length_in > abs(drop)
    return Slope(level, drop, sqrt(length_in**2 - drop**2) if reaches else None)


def slope_angle_deg(*, drop_in: float, length_in: float) -> float:
    """Raises ValueError when the drop is more than the ramp. Source: GEOMETRY.

    >>> round(slope_angle_deg(drop_in=48, length_in=192), 2)
    14.48
    """
    return degrees(asin(drop_in / length_in))


def least_length_in(*, drop_in: float, one_in: float) -> float:
    """The shortest ramp that makes a drop into a slope of 1 in so many, inches, to the hair. Source: GEOMETRY.

    >>> round(least_length_in(drop_in=72, one_in=12) / 12, 2)
    72.25
    """
    return abs(drop_in) * hypot(1, one_in)


def length_for_in(*, drop_in: float, one_in: float) -> float:
    """As least_length_in, up to the foot: what one would order. Source: GEOMETRY.

    >>> length_for_in(drop_in=60, one_in=4) / 12, length_for_in(drop_in=60, one_in=3) / 12
    (21.0, 16.0)
    """
    return 12 * ceil(least_length_in(drop_in=drop_in, one_in=one_in) / 12 - 1e-9)


def free_end_travel_in(*, drops_in: Sequence[float], length_in: float) -> float | None:
    """How far the free end moves in and out while the water goes through these drops, inches; None if it lets go.

    On the way between a drop and a rise the ramp lies level, and there it reaches furthest. Source: GEOMETRY.

    >>> round(free_end_travel_in(drops_in=[48, 0], length_in=192), 1), free_end_travel_in(drops_in=[60], length_in=50)
    (6.1, None)
    >>> free_end_travel_in(drops_in=[48, -20], length_in=192) == free_end_travel_in(drops_in=[48, 0], length_in=192)
    True
    """
    if not drops_in or max(abs(drop) for drop in drops_in) >= length_in:
        return None
    low, high = min(drops_in), max(drops_in)
    flattest = 0.0 if low <= 0 <= high else min(abs(low), abs(high))
    steepest = max(abs(low), abs(high))
    return sqrt(length_in**2 - flattest**2) - sqrt(length_in**2 - steepest**2)


def ramp_range(design: Design, rules: RangeRules, *, days: Sequence[tuple[str, float]] = ()) -> RampRange | None:
    """The ramp of a design at low, normal, high and storm water, and at the levels of some days.

    None without a ramp, or where its hinge or every level is unknown.
    """
    ramp, asked = design.ramp, design.spec.ramp
    if ramp is None or asked is None or asked.hinge_level_in is None:
        return None
    deck = next(group.freeboard_wet_in for group in design.level if ramp.section in group.sections)
    return _range(asked.hinge_level_in, deck, ramp.length_in, [*_known(design.spec.place.water), *days], rules)


def slope_findings(
    ramp: Ramp, design: RampDesign, water: Water, freeboard_in: float, rules: RangeRules
) -> list[Finding]:
    """A note with the slope at each known level; Check and Stop beyond the firm's limits."""
    known = _known(water)
    found = (
        None
        if ramp.hinge_level_in is None
        else _range(ramp.hinge_level_in, freeboard_in, design.length_in, known, rules)
    )
    if found is None:
        headline = Sentence("Ramp slope not worked out: the hinge level or the water levels are unknown.")
        return [_finding("note", headline, Sentence("Give both on one datum."), "slope_unknown")]
    walked = [slope for slope in found.slopes if slope.level in WALKED]
    said = ", ".join(f"{slope.words} at {slope.level} water" for slope in found.slopes if slope.out_in is not None)
    note = [_finding("note", Sentence("Ramp slope: {0}.", (said,)), Sentence(""), "slope")] if said else []
    worst = max(walked, key=lambda slope: abs(slope.drop_in), default=None)
    return [*(_steepness(worst, found, rules) if worst else ()), *_storm(found), *note]


def _known(water: Water) -> list[tuple[str, float]]:
    levels = (("low", water.low_in), ("normal", water.normal_in), ("high", water.high_in), ("storm", water.storm_in))
    return [(name, level) for name, level in levels if level is not None]


def _range(
    hinge_in: float, deck_in: float, length_in: float, levels: Sequence[tuple[str, float]], rules: RangeRules
) -> RampRange | None:
    if not levels:
        return None
    slopes = tuple(
        ramp_slope(level=name, hinge_in=hinge_in, deck_in=level + deck_in, length_in=length_in)
        for name, level in levels
    )
    drops = [slope.drop_in for slope in slopes]
    walked = max((abs(slope.drop_in) for slope in slopes if slope.level != "storm"), default=0.0)
    return RampRange(
        slopes,
        length_in,
        deck_in,
        hinge_in,
        free_end_travel_in(drops_in=drops, length_in=length_in),
        length_for_in(drop_in=walked, one_in=rules.comfortable),
        length_for_in(drop_in=walked, one_in=rules.steep),
    )


def _steepness(worst: Slope, found: RampRange, rules: RangeRules) -> list[Finding]:
    how = found.verdict(worst, rules)
    drop = Amount(round(abs(worst.drop_in), 1), "in")
    cure = _longer(worst, found.length_in, rules)
    if how == "good":
        return []
    if how == "does not reach":
        headline = Sentence("The ramp does not reach at {0} water: the drop is {1}.", (worst.level, drop))
        return [_finding("stop", headline, cure, "slope_no_reach")]
    values = worst.level, worst.words, Amount(abs(worst.angle_deg), "deg")
    if how == "too steep":
        headline = Sentence("Ramp too steep at {0} water: {1}, {2}.", values)
        return [_finding("stop", headline, cure, "slope")]
    headline = Sentence(f"Ramp is {how} at {{0}} water: {{1}}, {{2}}.", values)
    return [_finding("check", headline, cure, "slope")]


def _storm(found: RampRange) -> list[Finding]:
    storm = next((slope for slope in found.slopes if slope.level == "storm" and slope.out_in is None), None)
    if storm is None:
        return []
    rise = Amount(round(abs(storm.drop_in), 1), "in")
    headline = Sentence("At storm water the deck is {0} off the hinge: the ramp comes off.", (rise,))
    return [_finding("check", headline, Sentence("Take the ramp off before a storm, or hold it."), "slope_storm")]


def _longer(worst: Slope, length_in: float, rules: RangeRules) -> Sentence:
    comfortable = Amount(length_for_in(drop_in=worst.drop_in, one_in=rules.comfortable), "in")
    steep = length_for_in(drop_in=worst.drop_in, one_in=rules.steep)
    text = "Comfortable is 1:{2}: a {0} ramp." + (" A {1} ramp gives 1:{3}." if steep > length_in else "")
    return Sentence(text, (comfortable, Amount(steep, "in"), f"{rules.comfortable:g}", f"{rules.steep:g}"))


def _finding(level: str, headline: Sentence, cure: Sentence, code: str) -> Finding:
    return Finding(level, headline, cure, "ramp.length_in", "STARTER_LIMITS", code)
