"""How many people the customer reads may crowd where."""

from types import SimpleNamespace

import pytest

from estimating.engine.parts import FlotationRules, OwnCase
from estimating.engine.proof import PeopleCount
from estimating.engine.reasons import Reason, Sentence
from estimating.quotes.documents.promises import people_words

pytestmark = pytest.mark.django_db
WHY = Reason(Sentence("invented"), "FIRM")


NAMES = {"edge": "Anglers"}
OWN = (OwnCase("own-1", "Wedding", "spread", people=30),)
CASES = [
    SimpleNamespace(kind=kind, rule_set="firm", level=level, name=Sentence(name))
    for kind, level, name in (
        ("spread", "fine", "20 psf on all of the deck"),
        ("edge", "fine", "Anglers, 4 people"),
        ("own-1", "stop", "Wedding, 30 people"),
    )
]


def said(**posted: int) -> str:
    counts = [PeopleCount(crowd, "", n + 2, n, "sinks", 175.0, 0.0, 9.0, WHY) for crowd, n in posted.items()]
    proof = SimpleNamespace(
        person_lb=175.0,
        people=counts,
        cases=CASES,
        crowd=lambda name: next((c for c in counts if c.crowd == name), None),
    )
    rules = SimpleNamespace(flotation=FlotationRules(names=dict(NAMES), own_cases=OWN))
    return people_words(SimpleNamespace(estimate=SimpleNamespace(afloat=proof), rules=rules)).replace("\u00a0", " ")


def test_it_says_each_crowd_that_must_be_smaller():
    words = said(spread=8, edge=3, end=2)
    assert words.startswith(
        "Up to 8 adults of 175 lb at once, spread out, and not more than 3 along one edge or 2 at one end."
    )


def test_it_says_what_becomes_of_the_loads_in_the_firms_own_words():
    assert said(spread=8).endswith(
        "children in life jackets. Tried, and fine: Anglers, 4 people. Not for: Wedding, 30 people."
    )


def test_it_leaves_out_a_crowd_that_may_be_as_large():
    assert "spread out, and not more than 3 along one edge." in said(spread=8, section=8, edge=3, ramp=9)
    assert "spread out. A crowd" in said(spread=2, edge=2, end=4)


def test_it_keeps_everybody_off_where_one_is_too_many():
    assert "spread out. Nobody may stand along one edge or at one end. A crowd" in said(spread=4, edge=0, end=0)


def test_it_promises_nobody_on_a_dock_that_holds_nobody():
    nobody = "The floats carry the dock, and nobody on it."
    assert said(spread=0, edge=0).startswith(nobody)
    assert people_words(SimpleNamespace(estimate=SimpleNamespace(afloat=None))).startswith(nobody)
