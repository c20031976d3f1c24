"""What rules ask of a ramp besides its length: an accessible route with its exceptions, width, rails."""

from collections.abc import Sequence
from dataclasses import dataclass

from .reasons import Amount, Finding, Sentence
from .slope import WALKED, RampRange, Slope, least_length_in
from .spec import Ramp

ACCESSIBLE_ONE_IN = 12.0
LONG_GANGWAY_IN, SHORT_GANGWAY_IN, SMALL_SLIPS = 960.0, 360.0, 25
CLEAR_WIDTH_IN = 36.0
GUARD_OVER_IN = 30.0


@dataclass(frozen=True, slots=True)
class Access:
    """A gangway measured by the accessible-route rules. It can be exempt and steep at once: both are said."""

    worst: Slope
    steep: bool  # steeper than 1:12 at some level people walk it
    exemption: str  # which exception lifts the limit; empty for none
    needed_in: float  # the ramp that keeps 1:12

    @property
    def exempt(self) -> bool:
        return bool(self.exemption)

    @property
    def passes(self) -> bool:
        return self.exempt or not self.steep


def accessible_route(slopes: Sequence[Slope], *, length_in: float, slips: int | None) -> Access | None:
    """A gangway by ADA 405.2 (1:12) and the exceptions of 1003.2.1 for long gangways and small facilities.

    The rise for each run (405.6) is not asked of gangways. None where no slope is known. Source: ADA_GANGWAYS.

    >>> from .slope import ramp_slope
    >>> low = ramp_slope(level="low", hinge_in=72, deck_in=0, length_in=360)
    >>> found = accessible_route([low], length_in=360, slips=10)
    >>> found.steep, found.exempt, found.passes, round(found.needed_in / 12, 2)
    (True, True, True, 72.25)
    """
    walked = [slope for slope in slopes if slope.level != "storm"]
    if not walked:
        return None
    worst = max(walked, key=lambda slope: abs(slope.drop_in))
    return Access(
        worst,
        worst.out_in is None or worst.one_in < ACCESSIBLE_ONE_IN - 1e-9,
        _exemption(length_in, slips),
        least_length_in(drop_in=worst.drop_in, one_in=ACCESSIBLE_ONE_IN),
    )


def gangway_findings(ramp: Ramp, found: RampRange | None) -> list[Finding]:
    """Accessible route where it is asked for, width, and rails where one can fall far."""
    return [*_accessible(ramp, found), *_width(ramp), *_rails(ramp, found)]


def _exemption(length_in: float, slips: int | None) -> str:
    if length_in >= LONG_GANGWAY_IN - 1e-6:
        return "a gangway of 80 ft or more need not keep 1:12 (exception 3)"
    if slips is not None and slips < SMALL_SLIPS and length_in >= SHORT_GANGWAY_IN - 1e-6:
        return "with fewer than 25 slips a gangway of 30 ft or more need not keep 1:12 (exception 4)"
    return ""


def _accessible(ramp: Ramp, found: RampRange | None) -> list[Finding]:
    if not ramp.accessible:
        return []
    if found is None:
        headline = Sentence("Accessible route not judged: the hinge level or the water levels are unknown.")
        return [_access("check", headline, Sentence("Give both on one datum."), "access_unknown")]
    access = accessible_route(found.slopes, length_in=found.length_in, slips=ramp.slips)
    if access is None or not access.steep:
        return []
    at = access.worst.words if access.worst.out_in is not None else "no reach"
    if access.exempt:
        headline = Sentence("Accessible route: exempt, and steep: {0} at {1} water.", (at, access.worst.level))
        return [_access("note", headline, Sentence(f"{access.exemption.capitalize()}."), "access_exempt")]
    headline = Sentence("No accessible route: {0} at {1} water, 1:12 at most.", (at, access.worst.level))
    text = "A {0} ramp keeps 1:12; 80 ft is exempt, and 30 ft where there are fewer than 25 slips."
    if ramp.slips is None:
        text += " Say how many slips there are."
    return [_access("check", headline, Sentence(text, (Amount(access.needed_in, "in"),)), "access_steep")]


def _width(ramp: Ramp) -> list[Finding]:
    if ramp.width_in >= CLEAR_WIDTH_IN - 1e-6:
        return []
    headline = Sentence("The ramp is {0} wide.", (Amount(ramp.width_in, "in"),))
    cure = Sentence("{0} is the least for people one way; 48 in for two.", (Amount(CLEAR_WIDTH_IN, "in"),))
    source = "ADA_GANGWAYS" if ramp.accessible else "BROWS"
    return [Finding("check", headline, cure, "ramp.width_in", source, "narrow_ramp")]


def _rails(ramp: Ramp, found: RampRange | None) -> list[Finding]:
    if ramp.rails or found is None:
        return []
    low = max((slope.drop_in for slope in found.slopes if slope.level in WALKED), default=0.0)
    above = low + found.deck_in  # the hinge over the water at its lowest
    if above <= GUARD_OVER_IN:
        return []
    headline = Sentence("The ramp’s shore end is {0} above low water, and has no rails.", (Amount(round(above), "in"),))
    cure = Sentence("Over 30 in a guard of 36 in is usual. Local rules decide.")
    return [Finding("check", headline, cure, "ramp.rails", "GUARDS", "no_rails")]


def _access(level: str, headline: Sentence, cure: Sentence, code: str) -> Finding:
    return Finding(level, headline, cure, "ramp.length_in", "ADA_GANGWAYS", code)
