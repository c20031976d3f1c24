"""How many people before float tops or a deck edge go under: spread out, on one section, at an edge, on the ramp."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.parts import FirmRules
from estimating.engine.proof import PeopleCount
from estimating.engine.reasons import Amount, Reason, Sentence, Step

from .growth import Crowd
from .model import Model
from .places import free_edges, spread_person
from .screening import Stiffness

SHARE_WORDS = {"1/1": "All of it", "1/2": "Half", "2/3": "Two thirds", "3/4": "Three quarters"}


def posted(share: str, goes_under: int) -> int:
    """The firm's share of the count that puts the dock under, rounded down.

    >>> posted("2/3", 16), posted("2/3", 6), posted("1/2", 1)
    (10, 4, 0)
    """
    return floor(Fraction(share) * goes_under)


@dataclass(frozen=True, slots=True)
class Place:
    """Where people crowd: spread, section, edge, end or ramp; at which one; one person of them."""

    crowd: str
    where: str
    person: tuple[PointLoad, ...]


def crowd_places(model: Model, rules: FirmRules, stiffness: Stiffness) -> tuple[tuple[Place, Crowd], ...]:
    """Every crowd that can stand, at the place where, by the stiffness of the dock, the fewest can."""
    gathered: dict[str, list[Place]] = {}
    for place in _places(model, rules):
        gathered.setdefault(place.crowd, []).append(place)
    found = []
    for alike in gathered.values():
        counts = stiffness.holds([place.person for place in alike])
        fewest = int(counts.argmin())
        found.append((alike[fewest], Crowd(alike[fewest].person, float(counts[fewest]))))
    return tuple(found)


def people_counts(found: Sequence[tuple[Place, Crowd]], rules: FirmRules) -> tuple[PeopleCount, ...]:
    """The counts in words, once the crowds have been hunted down."""
    return tuple(_said(place, crowd, rules) for place, crowd in found)


def _places(model: Model, rules: FirmRules) -> Iterator[Place]:
    person_lb, inset = rules.person_lb, rules.flotation.crowd_inset_in
    yield Place("spread", "", spread_person(model, person_lb))
    for deck in model.decks if len(model.decks) > 1 else ():
        yield Place("section", deck.mark, (deck.load(person_lb, *deck.box.middle),))
    for edge in sorted(free_edges(model), key=lambda edge: edge.end):
        load = edge.deck.load(person_lb, *edge.point(inset))
        yield Place("end" if edge.end else "edge", edge.words, (load,))
    ramp = model.design.ramp
    if ramp is not None:
        half = model.deck(ramp.section).load(person_lb / 2, ramp.dock_x_in, ramp.dock_y_in)
        yield Place("ramp", ramp.section, (half,))


def _said(place: Place, crowd: Crowd, rules: FirmRules) -> PeopleCount:
    holds, under = max(crowd.holds, 0), crowd.seen[crowd.next]
    aboard = crowd.seen.get(holds)
    stands = aboard is not None and not aboard.fails
    shown = posted(rules.flotation.posted_share, crowd.next) if stands else 0
    return PeopleCount(
        place.crowd,
        place.where,
        holds,
        min(shown, holds),
        under.why,
        rules.person_lb,
        aboard.tilt_deg if stands else None,
        aboard.freeboard_in if stands else None,
        _reason(crowd, rules, shown),
    )


def _reason(crowd: Crowd, rules: FirmRules, shown: int) -> Reason:
    """Inches of clearance used up person by person; adds up to the tenth."""
    rule = Sentence(
        "The dock is let find its level with one person of {0} more each time, exactly, lumber wet. "
        "Counted until the lowest corner of a float top, or a deck edge, reaches the water.",
        (Amount(rules.person_lb, "lb"),),
    )
    nobody = crowd.seen[0]
    if nobody.fails:
        steps = (Step(Sentence("Nobody aboard: {0}", (nobody.why,))),)
        return Reason(rule, "ARCHIMEDES", steps)
    holds, more = crowd.holds, crowd.seen[crowd.next]
    start, left = round(nobody.clearance_in, 1), round(crowd.seen[holds].clearance_in, 1)
    people = Amount(holds, "count")
    steps = [Step(Sentence("Nobody aboard: water up to the nearest float top or deck edge"), Amount(start, "in_small"))]
    if holds:
        steps.append(Step(Sentence("Used up by {0} people", (people,)), Amount(round(left - start, 1), "in_small")))
        steps.append(Step(Sentence("Left with {0} aboard", (people,)), Amount(left, "in_small"), total=True))
    if more.severity:
        steps.append(Step(Sentence("One more: {0}", (more.why,))))
    else:
        step = round(round(more.clearance_in, 1) - left, 1)
        steps.append(Step(Sentence("One more person"), Amount(step, "in_small")))
        steps.append(Step(Sentence("Under, with so much"), Amount(round(more.clearance_in, 1), "in_small"), total=True))
    share = rules.flotation.posted_share
    words = SHARE_WORDS.get(share, share)
    steps.append(Step(Sentence("People that put it under"), Amount(crowd.next, "count")))
    steps.append(Step(Sentence(f"{words}, rounded down, to post"), Amount(min(shown, holds), "count"), total=True))
    return Reason(rule, "ARCHIMEDES", tuple(steps))
