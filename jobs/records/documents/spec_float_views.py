"""How the dock lies under one load of the reader's choice, mostly people at an edge: from its end, from its side."""

from dataclasses import dataclass, replace

from estimating.engine.afloat.stepping import edge_names, with_people
from estimating.engine.drawing import Outline, end_view, most_heeled, side_view, standing
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.proof import CaseProof, FloatProof
from estimating.engine.result import Design

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
class Under:
    """The dock under one load. The pictures are empty where it does not stay afloat."""

    load: Load
    end: str
    side: str
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Lying:
    """The boxes that choose a load, and the dock under it."""

    where: str
    people: str
    edges: tuple[str, ...]
    loads: tuple[tuple[str, CaseProof], ...]
    under: Under


def lying(worked: Worked, books: Books, asked: Asked) -> Lying | None:
    """The dock under what was asked for; None where people can stand at no edge of it."""
    design, proof, rules = worked.design, worked.afloat.proof, books.rules
    edges = edge_names(design, books.catalogue, rules)
    if not edges:
        return None
    loads = {f"{CASE}{k}": case for k, case in enumerate(proof.cases) if case.kind not in CROWDED}
    usual = proof.case("edge") or proof.case("end")
    where = asked.where if asked.where in (*edges, *loads) else usual.where if usual else edges[0]
    usually = usual.people if usual else rules.flotation.edge_people
    people = usually if asked.people is None else asked.people
    solved = loads.get(where) or _solved(proof, where, people)
    under = _under(design, books, solved) if solved else under_crowd(design, books, where, people)
    if asked.fault:
        under = replace(under, fault=asked.fault)
    return Lying(where, asked.typed or str(people), edges, tuple(loads.items()), under)


def stepped(design: Design, books: Books, asked: Asked) -> Under | None:
    """The dock under so many people at an edge, without the rest of the proof; None if that is not what was asked."""
    if asked.people is None or asked.where not in edge_names(design, books.catalogue, books.rules):
        return None
    return under_crowd(design, books, asked.where, asked.people)


def under_crowd(design: Design, books: Books, where: str, people: int) -> Under:
    """People at an edge, worked out anew."""
    try:
        case = with_people(design, books.catalogue, books.rules, where=where, people=people)
    except DidNotSettle:
        nobody = with_people(design, books.catalogue, books.rules, where=where, people=0)
        return _under(design, books, nobody, UNSETTLED)
    return _under(design, books, case)


def _solved(proof: FloatProof, where: str, people: int) -> CaseProof | None:
    """What the proof worked out already is not worked out again."""
    alike = (case for case in proof.cases if case.kind in CROWDED and case.rule_set == "firm")
    return next((case for case in alike if (case.where, case.people) == (where, people)), None)


def _under(design: Design, books: Books, case: CaseProof, fault: str = "") -> Under:
    crowd = standing(case.where, case.people, books.rules.flotation.crowd_inset_in)
    mark = crowd.section if crowd else most_heeled(case.sections) if case.sections else ""
    across, along = (Outline(width, speak, f"{PREFIX}-lies", tallest_px=TALLEST_PX) for width in (END_PX, SIDE_PX))
    return Under(
        load_of(case, books.rules.person_lb),
        end_view(design, case, mark, crowd, across),
        side_view(design, case, crowd, along),
        fault,
    )
