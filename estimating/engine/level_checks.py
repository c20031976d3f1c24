"""What the level case leaves to say: lift too small, floats nearly under, hinges between decks of two heights."""

from collections.abc import Sequence
from math import ceil

from .level import Tub
from .reasons import Amount, Finding, Sentence
from .result import LevelFloat, SharedEdge

LOW_TOPS_IN = 2.0
HINGE_STEP_IN = 0.5


def lift_findings(level: LevelFloat, *, psf: float, above_in: float, tub: Tub, field: str) -> list[Finding]:
    """Stop where the floats go under at the design load, Check where their tops come within 2 in of it."""
    tops_live_in = level.freeboard_live_in - above_in
    named, load = " and ".join(level.sections), Amount(psf, "psf")
    plural = "s" if len(level.sections) > 1 else ""
    if level.spare_lift_lb < 0:
        short = Amount(-round(level.spare_lift_lb), "lb")
        more = ceil(-level.spare_lift_lb / (level.net_lift_lb / level.float_count)) if level.net_lift_lb > 0 else 0
        text = "Add a float of that size, or take bigger ones."
        if more != 1:
            text = "Add {0} floats of that size, or take bigger ones." if more else "Take bigger floats."
        cure = Sentence(text, (Amount(more, "count"),))
        if level.awash_psf < 0:
            headline = Sentence(f"Section{plural} {{0}}: the floats do not carry the dock itself.", (named,))
        else:
            text = f"Section{plural} {{0}}: the floats go under at {{1}}, short by {{2}}."
            headline = Sentence(text, (named, load, short))
        return [Finding("stop", headline, cure, field, "COMMON_PRACTICE", "sinks")]
    if tops_live_in < LOW_TOPS_IN:
        text = f"Section{plural} {{0}}: float tops stand {{1}} above water at {{2}}."
        headline = Sentence(text, (named, Amount(round(tops_live_in, 1), "in_small"), load))
        needed = floats_for_dry_tops(load_lb=level.dead_wet_lb + level.live_lb, tub=tub)
        text = "{0} floats keep them {1} up." if needed else "Take taller floats."
        cure = Sentence(text, (Amount(needed, "count"), Amount(LOW_TOPS_IN, "in")))
        return [Finding("check", headline, cure, field, "STARTER_LIMITS", "low_tops")]
    return []


def floats_for_dry_tops(*, load_lb: float, tub: Tub) -> int:
    """How many such floats keep their tops 2 in above water under a load; 0 when no number does.

    Source: COMMON_PRACTICE.

    >>> floats_for_dry_tops(load_lb=2740, tub=Tub(16, 46, 600))
    6
    """
    each = tub.lift_at_lb(tub.height_in - LOW_TOPS_IN) - tub.own_lb
    return ceil(load_lb / each - 1e-9) if each > 0 else 0


def hinge_findings(levels: Sequence[LevelFloat], edges: Sequence[SharedEdge]) -> list[Finding]:
    """Decks of different height across a hinge: it binds, and people trip."""
    freeboard = {mark: level.freeboard_wet_in for level in levels for mark in level.sections}
    found = []
    for edge in edges:
        step = round(freeboard[edge.first] - freeboard[edge.second], 1)
        if edge.kind != "hinged" or abs(step) < HINGE_STEP_IN:
            continue
        high, low = (edge.first, edge.second) if step > 0 else (edge.second, edge.first)
        headline = Sentence("Alone, {0} floats {1} higher than {2}.", (high, Amount(abs(step), "in_small"), low))
        cure = Sentence("The hinge binds. Give {0} more floats or {1} fewer, until they match.", (low, high))
        found.append(Finding("check", headline, cure, "joints", "STARTER_LIMITS", "hinge_step"))
    return found
