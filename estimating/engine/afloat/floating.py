"""The whole proof: how the dock floats, what it bears, whom it holds, and what there is to say about it."""

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.proof import FloatProof
from estimating.engine.result import Design

from .model import model_of
from .solving import Judge, loadings, rule_sets, solve, worst_of_each


def float_proof(design: Design, catalogue: Catalogue, rules: FirmRules) -> FloatProof:
    """How a dock floats under every load case of the firm. A dock that sinks or capsizes is a result like any other.

    Sources: ARCHIMEDES and GEOMETRY for the equilibrium, FLOAT_RATING for the floats, and of each criterion its own.
    """
    model = model_of(design, catalogue, rules)
    dock = DockAfloat(model.assembly)
    solved = solve(dock, model, loadings(model, rules))
    judge = Judge(model, rule_sets(rules.flotation), solved[0].level)
    cases = tuple(judge.case(alike, ()) for alike in worst_of_each(solved))
    return FloatProof(
        design.spec.place.water.kind,
        model.water.lb_per_ft3,
        rules.person_lb,
        cases,
        (),
        (),
        (),
        0.0,
        (),
        (),
    )
