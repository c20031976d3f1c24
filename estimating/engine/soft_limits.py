"""Usual ranges: outside them a size is unusual, not wrong, and the shop is told."""

from collections.abc import Sequence

from .defaults import Picked
from .limits import Limit
from .reasons import Amount, Finding, Sentence

USUAL_LENGTH = Limit("long", 96, 240)
USUAL_WIDTH = Limit("wide", 36, 144)
USUAL_AREA_SQFT = Limit("in all", 60, 800, "sqft")

_CURES = {
    "long": "Longer ones flex and are hard to move; shorter ones bob.",
    "wide": "Narrow ones tip; wide ones are hard to move.",
}


def size_findings(picked: Sequence[Picked], area_sqft: float) -> list[Finding]:
    """Sections usually run 8 to 20 ft long and 3 to 12 ft wide, docks 60 to 800 sq ft. Starter figures."""
    found = []
    for p in picked:
        sizes = (("length_in", p.section.length_in, USUAL_LENGTH), ("width_in", p.section.width_in, USUAL_WIDTH))
        for field, value, usual in sizes:
            if not usual.low <= value <= usual.high:
                headline = Sentence("Section {0} is {1} {2}.", (p.mark, Amount(value, usual.unit), usual.name))
                found.append(_unusual(headline, usual, _CURES[usual.name], f"{p.path}.{field}"))
    if not USUAL_AREA_SQFT.low <= area_sqft <= USUAL_AREA_SQFT.high:
        headline = Sentence("The dock is {0} in all.", (Amount(area_sqft, "sqft"),))
        found.append(_unusual(headline, USUAL_AREA_SQFT, "Check the sizes, and what the permit allows.", "sections"))
    return found


def _unusual(headline: Sentence, usual: Limit, why: str, field: str) -> Finding:
    low, high = Amount(usual.low, usual.unit), Amount(usual.high, usual.unit)
    cure = Sentence("Usual is {0} to {1}. " + why, (low, high))
    return Finding("check", headline, cure, field, "STARTER_LIMITS", "unusual_size")
