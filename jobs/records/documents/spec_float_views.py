"""How the dock lies under one load of the reader's choice, mostly people at an edge: from its end, from its side."""

from dataclasses import dataclass

from estimating.engine.afloat.stepping import edge_names, with_people
from estimating.engine.drawing import Outline, end_view, most_heeled, side_view, standing
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.parts import FirmRules
from estimating.engine.proof import CaseProof

from .spec_float import Load, load_of
from .spec_results import PREFIX, Books, Worked, speak

END_PX, SIDE_PX, TALLEST_PX = 222.0, 326.0, 190.0
CASE = "case-"
CROWDED = ("edge", "end")
UNSETTLED = "No level was found at which it stays with so many. Try fewer."


@dataclass(frozen=True, slots=True)
class Asked:
    """What the reader asked to see; nothing yet: the load of the proof that tilts the dock most easily.

    `where` is an edge of the proof, or "case-2" for a row of the table. `typed` is shown back as it was typed.
    """

    where: str = ""
    people: int | None = None
    typed: str = ""
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Lying:
    """One load with the dock drawn under it. The pictures are empty where it does not stay afloat."""

    where: str
    people: str
    fault: str
    edges: tuple[str, ...]
    loads: tuple[tuple[str, CaseProof], ...]
    load: Load
    end: str
    side: str

    @property
    def is_crowd(self) -> bool:
        return not self.where.startswith(CASE)


def lying(worked: Worked, books: Books, asked: Asked) -> Lying | None:
    """The dock under what was asked for; None where people can stand at no edge of it."""
    design, proof, rules = worked.design, worked.afloat.proof, books.rules
    edges = edge_names(design, books.catalogue, rules)
    if not edges:
        return None
    loads = {f"{CASE}{k}": case for k, case in enumerate(proof.cases) if case.kind not in CROWDED}
    usual = proof.case("edge") or proof.case("end")
    where = asked.where if asked.where in (*edges, *loads) else usual.where if usual else edges[0]
    people = _usual_people(usual, rules) if asked.people is None else asked.people
    case, fault = (loads[where], "") if where in loads else _crowd(worked, books, where, people)
    crowd = standing(case.where, case.people, rules.flotation.crowd_inset_in)
    mark = crowd.section if crowd else most_heeled(case.sections) if case.sections else ""
    across, along = (Outline(width, speak, f"{PREFIX}-lies", tallest_px=TALLEST_PX) for width in (END_PX, SIDE_PX))
    return Lying(
        where,
        asked.typed or str(people),
        asked.fault or fault,
        edges,
        tuple(loads.items()),
        load_of(case, proof),
        end_view(design, case, mark, crowd, across),
        side_view(design, case, crowd, along),
    )


def _usual_people(usual: CaseProof | None, rules: FirmRules) -> int:
    return usual.people if usual else rules.flotation.edge_people


def _crowd(worked: Worked, books: Books, where: str, people: int) -> tuple[CaseProof, str]:
    """People at an edge; what the proof solved already is not solved again."""
    proof = worked.afloat.proof
    for case in proof.cases:
        if case.kind in CROWDED and (case.where, case.people, case.rule_set) == (where, people, "firm"):
            return case, ""
    try:
        return with_people(worked.design, books.catalogue, books.rules, where=where, people=people), ""
    except DidNotSettle:
        return proof.case("dead_wet"), UNSETTLED
