"""What the firm asks to be tried: its load cases under its own names, what it leaves out, and cases of its own."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from estimating.engine.parts import FirmRules, FlotationRules, OwnCase
from estimating.engine.reasons import Amount, Sentence

from .model import Model
from .places import Edge, Loading, crowds, halves, heavy, ramp_full, spread, spread_person

PLAIN = {
    "spread": "load on all of the deck",
    "half": "load on half of the deck",
    "edge": "people along one edge",
    "end": "people at one end",
    "point": "one heavy load",
    "ramp": "ramp full",
}
"""The cases that may be left untried; the dock alone is worked out whatever is asked."""
CROWDED = ("edge", "end")


def firm_loadings(model: Model, rules: FirmRules, edges: tuple[Edge, ...]) -> Iterator[Loading]:
    """Every live load of the firm that is not left out, at all its places, under its names."""
    asked = rules.flotation
    for loading in _standing(model, rules, edges):
        if loading.kind not in asked.left_out:
            yield called(loading, asked)
    for own in asked.own_cases:
        yield from _own(model, rules, edges, own)


def called(loading: Loading, asked: FlotationRules) -> Loading:
    """The loading under the firm's own name for its kind, its figure behind it."""
    own = asked.names.get(loading.kind, "")
    if not own or loading.rule_set != "firm":
        return loading
    return replace(loading, name=_with_figure(own, loading.kind, loading.name.values[:1]))


def _with_figure(own: str, like: str, figure: Sequence[Amount | str]) -> Sentence:
    if like in CROWDED:
        return Sentence("{0}, {1} people" if figure else "{0}, one person", (own, *figure))
    return Sentence("{0}, {1}" if figure else "{0}", (own, *figure))


def not_tried(model: Model, rules: FirmRules, tried: set[str]) -> tuple[Sentence, ...]:
    """The firm's cases that this dock could be tried under and is not."""
    asked = rules.flotation
    names = {kind: words for kind, words in PLAIN.items() if kind != "ramp" or model.design.ramp is not None}
    return tuple(
        Sentence("{0}", (asked.names.get(kind) or words,)) for kind, words in names.items() if kind not in tried
    )


def _standing(model: Model, rules: FirmRules, edges: tuple[Edge, ...]) -> Iterator[Loading]:
    asked, psf = rules.flotation, model.design.spec.live_load_psf or 0.0
    if psf:
        yield spread(model, psf)
    if asked.half_psf:
        yield from halves(model, asked.half_psf)
    yield from crowds(edges, asked, rules.person_lb)
    if asked.heavy_lb:
        yield from heavy(model, asked.heavy_lb, asked.heavy_inset_in)
    ramp = ramp_full(model, asked)
    if ramp:
        yield ramp


def _own(model: Model, rules: FirmRules, edges: tuple[Edge, ...], own: OwnCase) -> Iterator[Loading]:
    """A case of the firm's own at all its places; at an edge or an end at most so many people as find room."""
    asked = rules.flotation
    whole = own.people * rules.person_lb if own.people else own.load_lb
    if own.stands == "spread":
        yield Loading(own.key, _own_name(own, own.people), "", spread_person(model, whole), **_alike(own, own.people))
    elif own.stands == "point":
        for place in heavy(model, whole, asked.heavy_inset_in):
            yield replace(place, kind=own.key, name=_own_name(own, own.people), **_alike(own, own.people))
    for edge in edges:
        if own.stands == ("end" if edge.end else "edge"):
            people = edge.room(own.people) if own.people else 0
            weight = people * rules.person_lb if people else own.load_lb
            load = edge.deck.load(weight, *edge.point(asked.crowd_inset_in))
            yield Loading(own.key, _own_name(own, people), edge.words, (load,), **_alike(own, people))


def _alike(own: OwnCase, people: int) -> dict[str, str | int]:
    return {"people": people, "stands": own.stands}


def _own_name(own: OwnCase, people: int) -> Sentence:
    if people == 1:
        return Sentence("{0}, one person", (own.name,))
    if people:
        return Sentence("{0}, {1} people", (own.name, Amount(people, "count")))
    return Sentence("{0}, {1}", (own.name, Amount(own.load_lb, "lb")))
