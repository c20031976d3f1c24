"""How the dock lies under the people it is posted for: a small picture beside the limit."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from estimating.engine.afloat.stepping import with_people
from estimating.engine.drawing import Outline, end_view, most_heeled, standing
from estimating.engine.drawing.canvas import PAPER, Pen
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.proof import CaseProof, PeopleCount

from .speech import speak
from .worked import WorkedQuote

PICTURE_PX, TALLEST_PX = 214.0, 66.0


@dataclass(frozen=True, slots=True)
class CrowdPicture:
    """The drawing, and what stands below it."""

    svg: SafeString
    words: str


def crowd_picture(worked: WorkedQuote, *, prefix: str, pen: Pen = PAPER) -> CrowdPicture | None:
    """One section from its end with as many people at an edge as may stand there; level and empty where nobody may.

    None for a dock that does not float by itself.
    """
    proof, design = worked.estimate.afloat, worked.estimate.design
    if proof is None or not proof.case("dead_wet").sections:
        return None
    count = proof.crowd("edge") or proof.crowd("end")
    case = _posted(worked, count) or proof.case("dead_wet")
    crowd = standing(case.where, case.people, worked.rules.flotation.crowd_inset_in)
    mark = crowd.section if crowd else most_heeled(case.sections)
    outline = Outline(PICTURE_PX, speak, prefix, pen, tallest_px=TALLEST_PX)
    return CrowdPicture(mark_safe(end_view(design, case, mark, crowd, outline)), _words(case))


def _posted(worked: WorkedQuote, count: PeopleCount | None) -> CaseProof | None:
    if count is None or not count.posted:
        return None
    design, people = worked.estimate.design, {"where": count.where, "people": count.posted}
    try:
        case = with_people(design, worked.catalogue, worked.rules, **people)
    except (DidNotSettle, KeyError):
        return None
    return case if case.sections else None


def _words(case: CaseProof) -> str:
    """Under the picture; its figures are deck above water."""
    if not case.people:
        return "Wet, nobody aboard, from its end."
    side = case.where.partition(", ")[2]
    people = "One person" if case.people == 1 else f"{case.people} people"
    return f"{people} at the {side}."
