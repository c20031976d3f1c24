"""When to stop and get an engineer: facts of the job beyond which a builder's check is not enough.

Limits are common practice and no law: the authority decides. What is not known is asked, never guessed.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from estimating.engine.reasons import Amount, Finding, Sentence
from estimating.engine.spec import DockSpec

BOAT_LENGTH_IN, BOAT_LB = 26 * 12.0, 8000.0
CURRENT_KN, WAVE_IN = 2.0, 24.0
FETCH_CHECK_MI, FETCH_STOP_MI = 1.0, 2.0
GANGWAY_IN = 20 * 12.0
CURE = Sentence("Have an engineer look at it before it is promised. What is worked out here is preliminary.")


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """What the spec does not hold. None is unknown; wave is the greatest expected, fetch the open water."""

    public_use: bool | None = None  # or commercial
    crowd_events: bool | None = None
    roof: bool | None = None  # or an upper deck
    piles: bool | None = None
    moving_ice: bool | None = None
    stamp_asked: bool | None = None  # the authority asks for an engineer's stamp
    boat_length_in: float | None = None
    boat_lb: float | None = None
    current_kn: float | None = None
    wave_in: float | None = None
    fetch_mi: float | None = None


_YES = (
    ("public_use", "The dock is for public or commercial use."),
    ("crowd_events", "Crowds are expected on the dock."),
    ("roof", "It carries a roof or an upper deck."),
    ("piles", "It is held by piles."),
    ("moving_ice", "Ice moves at this place."),
    ("stamp_asked", "The authority asks for an engineer's stamp."),
)
_OVER = (
    ("boat_length_in", "A boat of {0} lies at it; over {1} is more than a builder's check.", BOAT_LENGTH_IN, "in"),
    ("boat_lb", "A boat of {0} lies at it; over {1} is more than a builder's check.", BOAT_LB, "lb"),
    ("current_kn", "The current is {0}; over {1} is more than a builder's check.", CURRENT_KN, "kn"),
    ("wave_in", "Waves reach {0}; over {1} is more than a builder's check.", WAVE_IN, "in"),
)
_UNKNOWN_WORDS = {
    "public_use": "who uses it",
    "moving_ice": "moving ice",
    "boat_length_in": "the boats' length",
    "boat_lb": "the boats' weight",
    "current_kn": "the current",
    "wave_in": "the waves",
    "fetch_mi": "the open water in front",
}


def engineer_triggers(spec: DockSpec, facts: SiteFacts = SiteFacts()) -> tuple[Finding, ...]:
    """A finding for each fact that asks for an engineer, and one note of what is not known.

    Source: ENGINEER_LIMITS.

    >>> [str(finding.headline) for finding in engineer_triggers(DockSpec("", ()), SiteFacts(piles=True))][:1]
    ['It is held by piles.']
    """
    return (*_known(spec, facts), *_unknown(facts))


def _known(spec: DockSpec, facts: SiteFacts) -> Iterator[Finding]:
    for name, text in _YES:
        if getattr(facts, name):
            yield _finding("stop", name, Sentence(text))
    for name, text, limit, unit in _OVER:
        value = getattr(facts, name)
        if value is not None and value > limit:
            yield _finding("stop", name, Sentence(text, (Amount(value, unit), Amount(limit, unit))))
    if facts.fetch_mi is not None and facts.fetch_mi > FETCH_CHECK_MI:
        level = "stop" if facts.fetch_mi > FETCH_STOP_MI else "check"
        text = "There is {0} of open water in front; over {1} to {2} is more than a builder's check."
        values = tuple(Amount(miles, "mi") for miles in (facts.fetch_mi, FETCH_CHECK_MI, FETCH_STOP_MI))
        yield _finding(level, "fetch_mi", Sentence(text, values))
    if spec.ramp is not None and spec.ramp.length_in > GANGWAY_IN:
        text = "The ramp is {0} long; a gangway over {1} is more than a builder's check."
        values = Amount(spec.ramp.length_in, "in"), Amount(GANGWAY_IN, "in")
        yield _finding("stop", "gangway", Sentence(text, values), "ramp.length_in")


def _unknown(facts: SiteFacts) -> Iterator[Finding]:
    missing = [words for name, words in _UNKNOWN_WORDS.items() if getattr(facts, name) is None]
    if missing:
        listed = missing[0] if len(missing) == 1 else f"{', '.join(missing[:-1])} and {missing[-1]}"
        headline = Sentence("Not known here: {0}.", (listed,))
        cure = Sentence("Ask before the dock is promised: each can call for an engineer.")
        yield Finding("note", headline, cure, "", "ENGINEER_LIMITS", "engineer_unknown")


def _finding(level: str, code: str, headline: Sentence, field: str = "") -> Finding:
    return Finding(level, headline, CURE, field, "ENGINEER_LIMITS", f"engineer_{code}")
