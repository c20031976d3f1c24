"""The whole proof: how the dock floats, what it bears, whom it holds, and what there is to say about it."""

from collections.abc import Sequence
from dataclasses import replace

from estimating.engine.flotation.apart import hinge_misalignments
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.proof import CaseProof, FloatProof, HingeLine
from estimating.engine.result import Design

from .asking import not_tried
from .findings import proof_findings
from .growth import Hunt, turning_points
from .hoisting import group_weights, section_lifts, trailer
from .model import Model, model_of
from .people import crowd_places, people_counts
from .places import dead_loadings
from .screening import Stiffness
from .solving import Judge, Solved, load_case, loadings, rule_sets, solve_beside, worst_of_each

DEAD = ("dead_wet", "dead_seasoned")


def float_proof(design: Design, catalogue: Catalogue, rules: FirmRules) -> FloatProof:
    """How a dock floats under every load case of the firm. A dock that sinks or capsizes is a result like any other.

    Raises DidNotSettle should the solver find no equilibrium. Sources: ARCHIMEDES and GEOMETRY for the equilibrium,
    FLOAT_RATING for the floats, and of each criterion its own.
    """
    model = model_of(design, catalogue, rules)
    dock = DockAfloat(model.assembly)
    stiffness = Stiffness.of(model)
    crowds = crowd_places(model, rules, stiffness)
    hunt = Hunt.of(dock, model, [crowd for _, crowd in crowds])
    first = hunt.wanted()
    solved, settled = solve_beside(dock, model, loadings(model, rules, stiffness), hunt.weights(first))
    hunt.take(first, settled)
    hunt.finish(solved[0].level)
    lifts = section_lifts(design, rules.flotation.hand_lift_lb)
    trailer_lb, trailer_reason = trailer(design, lifts, catalogue)
    cases = _cases(dock, model, rules, solved)
    aside = tuple(case for case in cases if _left_aside(case, rules))
    proof = FloatProof(
        design.spec.place.water.kind,
        model.water.lb_per_ft3,
        rules.person_lb,
        tuple(case for case in cases if case not in aside),
        people_counts(crowds, rules),
        tuple(group_weights(model, solved[0].level)),
        lifts,
        trailer_lb,
        trailer_reason,
        _hinge_lines(dock, model),
        (),
        aside,
        not_tried(model, rules, {case.kind for case in cases if case.rule_set == "firm"}),
    )
    return replace(proof, findings=proof_findings(design, model, rules, proof))


def _cases(dock: DockAfloat, model: Model, rules: FirmRules, solved: Sequence[Solved]) -> tuple[CaseProof, ...]:
    judge = Judge(model, rule_sets(rules.flotation), solved[0].level)
    gathered = worst_of_each(solved)
    failing = [alike[0] for alike in gathered if alike[0].level.outcome.severity]
    turns = dict(zip(map(id, failing), turning_points(dock, model, failing), strict=True))
    return tuple(judge.case(alike, turns.get(id(alike[0]), ())) for alike in gathered)


def _left_aside(case: CaseProof, rules: FirmRules) -> bool:
    """The dock alone is told where it fails, whatever is left out."""
    return case.kind in DEAD and case.kind in rules.flotation.left_out and case.level == "fine"


def _hinge_lines(dock: DockAfloat, model: Model) -> tuple[HingeLine, ...]:
    steps = hinge_misalignments(dock, load_case(model, dead_loadings()[0]))
    return tuple(
        HingeLine(edge.first, edge.second, step.start_in, step.end_in)
        for edge, step in zip(model.hinged, steps, strict=True)
    )
