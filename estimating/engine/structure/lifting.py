"""Lifting a section on land, wet, on two slings: how far apart they may be before its stringers are overstressed.

The slings run under all stringers, evenly about its middle. With the slings s apart on a length L and a weight w per
length, the moment in the middle is w L (2s - L) / 8 and over a sling w (L - s)^2 / 8.
"""

from math import sqrt

from estimating.engine.frame_result import LiftSpan
from estimating.engine.reasons import Reason, Sentence

from .rows import step
from .sections import Framed
from .stringers import stringer_strength

JOLT = 1.25  # the hoist starts and stops: common practice, no source
DURATION = "seven days"  # a load of construction


def sling_range_in(*, length_in: float, weight_lb: float, moment_lb_in: float) -> tuple[float, float] | None:
    """Shortest and longest distance between two slings, inches, for a moment the section bears; None where none does.

    Raises ValueError unless all are above zero. Source: STATICS.

    >>> [round(s, 1) for s in sling_range_in(length_in=192, weight_lb=800, moment_lb_in=6000)]
    [84.7, 126.0]
    >>> sling_range_in(length_in=192, weight_lb=800, moment_lb_in=3000) is None
    True
    """
    if not min(length_in, weight_lb, moment_lb_in) > 0:
        raise ValueError("length, weight and strength must be above zero")
    per_in = weight_lb / length_in
    longest = min(length_in, length_in / 2 + 4 * moment_lb_in / weight_lb)
    # Slings close together: the ends hang down, and past the half length the middle does too.
    shortest = max(0.0, length_in - sqrt(8 * moment_lb_in / per_in), length_in / 2 - 4 * moment_lb_in / weight_lb)
    return (shortest, longest) if shortest <= longest else None


def longest_at_ends_in(*, lb_per_in: float, moment_lb_in: float) -> float:
    """How long a section of this weight per length may be and still be lifted at its ends, inches. Source: STATICS.

    >>> round(longest_at_ends_in(lb_per_in=4, moment_lb_in=20000))
    200
    """
    return sqrt(8 * moment_lb_in / lb_per_in)


def lift_span(framed: Framed, state: str, weight_lb: float) -> LiftSpan:
    """One section, bare or whole, in pounds wet. Source: STATICS, NDS_FACTORS."""
    strength = stringer_strength(framed, unbraced_in=framed.most_unbraced_in, duration=DURATION)
    count = len(framed.centres_in)
    moment = strength.own.fb_psi * framed.stringer.modulus_in3 * count
    jolted = weight_lb * JOLT
    slings = sling_range_in(length_in=framed.length_in, weight_lb=jolted, moment_lb_in=moment)
    at_ends = longest_at_ends_in(lb_per_in=jolted / framed.length_in, moment_lb_in=moment)
    steps = (
        step("Weight, wet", weight_lb, "lb"),
        step("With the jolt of the hoist, × 1.25", jolted, "lb"),
        *strength.steps,
        step("Moment its stringers bear together", moment, "lb-in"),
        step("It could be lifted at its ends to a length of", at_ends, "in"),
    )
    rule = Sentence("Two slings under all stringers, evenly about the middle; the frame bends as one simple beam.")
    level = "stop" if slings is None else "fine"
    shortest, longest = slings or (None, None)
    reason = Reason(rule, "STATICS", steps)
    return LiftSpan("", state, weight_lb, framed.length_in, longest, shortest, at_ends, level, reason)
