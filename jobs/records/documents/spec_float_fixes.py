"""What would put a failing load right: other floats from the catalogue, each proved again."""

from dataclasses import dataclass

from estimating.engine.afloat.fixes import Fix, fixes, propose_layout
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.proof import LEVELS, CaseProof
from estimating.engine.spec import DockSpec

from .spec_results import Books, Worked


@dataclass(frozen=True, slots=True)
class PutRight:
    """The gravest load of a dock, and the changes under which it passes, cheapest first. No case: all pass."""

    case: CaseProof | None
    fixes: tuple[Fix, ...]


def put_right(worked: Worked, books: Books) -> PutRight:
    """Look for the cheapest floats that put the gravest load right. Takes up to a second or two: on request only."""
    cases = worked.afloat.proof.cases
    gravest = max(cases, key=lambda case: LEVELS.index(case.level), default=None)
    if gravest is None or gravest.level == "fine":
        return PutRight(None, ())
    try:
        return PutRight(gravest, fixes(worked.design, books.catalogue, books.rules, gravest))
    except DidNotSettle:
        return PutRight(gravest, ())


def cheapest_floats(spec: DockSpec, books: Books) -> DockSpec:
    """The spec with the cheapest floats that pass; the same where nothing does. Raises SpecFaults."""
    try:
        return propose_layout(spec, books.catalogue, books.rules)
    except DidNotSettle:
        return spec
