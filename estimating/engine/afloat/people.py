"""How many people before float tops or a deck edge go under: spread out, on one section, at an edge, on the ramp."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.parts import FirmRules
from estimating.engine.proof import PeopleCount
from estimating.engine.reasons import Amount, Reason, Sentence, Step

from .growth import Aboard, Crowd, count_crowds
from .model import Deck, Model
from .places import Edge, Loading, free_edges, spread_person
from .screening import Stiffness
from .solving import Solved, worst_of_each

SHARE_WORDS = {"1/1": "All of it", "1/2": "Half", "2/3": "Two thirds", "3/4": "Three quarters"}


def posted(share: str, goes_under: int) -> int:
    """The firm's share of the count that puts the dock under, rounded down.

    >>> posted("2/3", 16), posted("2/3", 6), posted("1/2", 1)
    (10, 4, 0)
    """
    return floor(Fraction(share) * goes_under)


def people_counts(
    dock: DockAfloat, model: Model, rules: FirmRules, solved: Sequence[Solved], stiffness: Stiffness
) -> tuple[PeopleCount, ...]:
    """The count of every crowd that can stand, at the place where the fewest can. Raises DidNotSettle."""
    places = dict(_places(model, rules, solved))
    nobody = Aboard.of(next(one.level for one in solved if one.loading.kind == "dead_wet"))
    crowds = {
        name: Crowd(place.person, stiffness.holds(place.person), seen={0: nobody}) for name, place in places.items()
    }
    count_crowds(dock, model, list(crowds.values()))
    return tuple(_said(name, places[name].where, crowd, rules) for name, crowd in crowds.items())


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a crowd stands, and one person of it."""

    where: str
    person: tuple[PointLoad, ...]


def _places(model: Model, rules: FirmRules, solved: Sequence[Solved]) -> Iterator[tuple[str, _Place]]:
    gathered = (alike[0] for alike in worst_of_each(solved))
    worst = {one.loading.kind: one for one in gathered if one.loading.rule_set == "firm"}
    person_lb, inset = rules.person_lb, rules.flotation.crowd_inset_in
    yield "spread", _Place("", spread_person(model, person_lb))
    if len(model.decks) > 1:
        deck = _least_to_spare(model)
        yield "section", _Place(deck.mark, (deck.load(person_lb, *deck.box.middle),))
    edges = free_edges(model)
    for name in ("edge", "end"):
        case = worst.get(name)
        edge = _edge_of(edges, name, case.loading if case else None)
        if edge is not None:
            yield name, _Place(edge.words, (edge.deck.load(person_lb, *edge.point(inset)),))
    ramp = model.design.ramp
    if ramp is not None:
        deck = model.deck(ramp.section)
        half = deck.load(person_lb / 2, ramp.dock_x_in, ramp.dock_y_in)
        yield "ramp", _Place(ramp.section, (half,))


def _least_to_spare(model: Model) -> Deck:
    """The section whose own floats have the least lift left over its own weight."""
    lift = dict.fromkeys((deck.mark for deck in model.decks), 0.0)
    for placed in model.design.floats:
        lift[placed.section] += placed.net_lift_lb
    for item in model.items:
        lift[item.section] -= item.wet_lb if item.what != "float" else 0.0
    return min(model.decks, key=lambda deck: lift[deck.mark])


def _edge_of(edges: Sequence[Edge], name: str, loading: Loading | None) -> Edge | None:
    alike = [edge for edge in edges if edge.end == (name == "end")]
    if loading is None:
        return min(alike, key=lambda edge: edge.deck.area_sqft, default=None)
    return next(edge for edge in alike if edge.words == loading.where)


def _said(name: str, where: str, crowd: Crowd, rules: FirmRules) -> PeopleCount:
    holds, under = max(crowd.holds, 0), crowd.seen[crowd.next]
    aboard = crowd.seen.get(holds)
    stands = aboard is not None and not aboard.fails
    shown = posted(rules.flotation.posted_share, crowd.next) if stands else 0
    return PeopleCount(
        name,
        where,
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
