"""So many people at one place: how the dock then lies, for whoever steps the number up and down."""

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.proof import CaseProof
from estimating.engine.reasons import Amount, Sentence
from estimating.engine.result import Design

from .growth import turning_points
from .model import Model, model_of
from .places import Edge, Loading, dead_loadings, free_edges
from .solving import Judge, rule_sets, solve


def edge_names(design: Design, catalogue: Catalogue, rules: FirmRules) -> tuple[str, ...]:
    """The edges and ends where people may stand, as `with_people` takes them: "A, left edge"."""
    return tuple(edge.words for edge in free_edges(model_of(design, catalogue, rules)))


def with_people(design: Design, catalogue: Catalogue, rules: FirmRules, *, where: str, people: int) -> CaseProof:
    """The wet dock with so many people along one edge or at one end, as a case judged by the firm's criteria.

    Raises KeyError for a place that `edge_names` does not name, and DidNotSettle.
    """
    model = model_of(design, catalogue, rules)
    edge = {edge.words: edge for edge in free_edges(model)}[where]
    return _solved(model, rules, edge, people)


def _solved(model: Model, rules: FirmRules, edge: Edge, people: int) -> CaseProof:
    load = edge.deck.load(people * rules.person_lb, *edge.point(rules.flotation.crowd_inset_in))
    name = Sentence("{0} people here" if people != 1 else "One person here", (Amount(people, "count"),))
    crowd = Loading("end" if edge.end else "edge", name, edge.words, (load,), people=people)
    dock = DockAfloat(model.assembly)
    dead, here = solve(dock, model, (dead_loadings()[0], crowd))
    turns = turning_points(dock, model, [here]) if here.level.outcome.severity else [()]
    return Judge(model, rule_sets(rules.flotation), dead.level).case((here,), turns[0])
