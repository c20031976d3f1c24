"""How steep the ramp gets at low, normal and high water."""

from dataclasses import dataclass
from math import asin, ceil, degrees, hypot, sqrt

from .reasons import Amount, Finding, Sentence
from .result import RampDesign
from .spec import Ramp, Water

COMFORTABLE = 4.0  # 1 up in 4 out: starter figure
STEEP = 3.0
REFUSE = 2.0


@dataclass(frozen=True, slots=True)
class Slope:
    """The ramp at one level: the drop from shore hinge to deck, inches; out is below zero when it cannot reach."""

    level: str
    drop_in: float
    out_in: float | None

    @property
    def one_in(self) -> float:
        return self.out_in / abs(self.drop_in) if self.drop_in and self.out_in is not None else float("inf")

    @property
    def words(self) -> str:
        """The slope said as 1:3.2, or level when it is flatter than 1:50."""
        return f"1:{self.one_in:.1f}" if self.one_in < 50 else "level"


def ramp_slope(*, level: str, hinge_in: float, deck_in: float, length_in: float) -> Slope:
    """The slope of a ramp between a shore hinge and a deck, all inches on one datum. Source: GEOMETRY.

    >>> slope = ramp_slope(level="low", hinge_in=48, deck_in=0, length_in=192)
    >>> round(slope.out_in / 12, 2), round(slope.one_in, 2)
    (15.49, 3.87)
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


def length_for_in(*, drop_in: float, one_in: float) -> float:
    """The ramp length that makes a drop into a slope of 1 in so many, up to the foot, inches. Source: GEOMETRY.

    >>> length_for_in(drop_in=60, one_in=4) / 12, length_for_in(drop_in=60, one_in=3) / 12
    (21.0, 16.0)
    """
    return 12 * ceil(abs(drop_in) * hypot(1, one_in) / 12 - 1e-9)


def slope_findings(ramp: Ramp, design: RampDesign, water: Water, freeboard_in: float) -> list[Finding]:
    """A note with the slope at each known level; Check beyond 1:4, Stop beyond 1:2. Starter figures."""
    levels = [("low", water.low_in), ("normal", water.normal_in), ("high", water.high_in)]
    known = [(name, level) for name, level in levels if level is not None]
    if ramp.hinge_level_in is None or not known:
        headline = Sentence("Ramp slope not worked out: the hinge level or the water levels are unknown.")
        return [_finding("note", headline, Sentence("Give both on one datum."), "slope_unknown")]
    slopes = [
        ramp_slope(level=name, hinge_in=ramp.hinge_level_in, deck_in=level + freeboard_in, length_in=design.length_in)
        for name, level in known
    ]
    worst = max(slopes, key=lambda slope: abs(slope.drop_in))
    said = ", ".join(f"{slope.words} at {slope.level} water" for slope in slopes if slope.out_in is not None)
    note = [_finding("note", Sentence("Ramp slope: {0}.", (said,)), Sentence(""), "slope")] if said else []
    return [*_steepness(worst, design.length_in), *note]


def _steepness(worst: Slope, length_in: float) -> list[Finding]:
    drop = Amount(round(abs(worst.drop_in), 1), "in")
    if worst.out_in is None:
        headline = Sentence("The ramp does not reach at {0} water: the drop is {1}.", (worst.level, drop))
        return [_finding("stop", headline, _longer(worst, length_in), "slope_no_reach")]
    if worst.one_in >= COMFORTABLE - 1e-9:
        return []
    angle = Amount(slope_angle_deg(drop_in=abs(worst.drop_in), length_in=length_in), "deg")
    values = worst.level, worst.words, angle
    if worst.one_in < REFUSE:
        headline = Sentence("Ramp too steep at {0} water: {1}, {2}.", values)
        return [_finding("stop", headline, _longer(worst, length_in), "slope")]
    how = "steep" if worst.one_in < STEEP else "a little steep"
    headline = Sentence(f"Ramp is {how} at {{0}} water: {{1}}, {{2}}.", values)
    return [_finding("check", headline, _longer(worst, length_in), "slope")]


def _longer(worst: Slope, length_in: float) -> Sentence:
    comfortable = Amount(length_for_in(drop_in=worst.drop_in, one_in=COMFORTABLE), "in")
    steep = length_for_in(drop_in=worst.drop_in, one_in=STEEP)
    text = "Comfortable is 1:4: a {0} ramp." + (" A {1} ramp gives 1:3." if steep > length_in else "")
    return Sentence(text, (comfortable, Amount(steep, "in")))


def _finding(level: str, headline: Sentence, cure: Sentence, code: str) -> Finding:
    return Finding(level, headline, cure, "ramp.length_in", "STARTER_LIMITS", code)
