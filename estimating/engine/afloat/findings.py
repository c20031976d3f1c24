"""What the proof has to say: what sinks or turns over, what an authority's or the firm's criterion does not get."""

from collections.abc import Iterator, Sequence
from math import ceil

from estimating.engine.listing import several
from estimating.engine.parts import FirmRules
from estimating.engine.proof import LEVELS, CaseProof, CaseVerdict, FloatProof, HingeLine
from estimating.engine.reasons import Amount, Finding, Sentence
from estimating.engine.result import Design

from .model import Model
from .wording import appended, case_words

COVERED = ("sinks", "low_tops", "hinge_step")
"""Codes of the level case that say less than the proof does."""
DIP_IN = 2.0
GRAVITY = ("sinks", "capsizes", "deck edge awash", "floats")
SAID = {"deck edge awash": "a deck edge goes under", "capsizes": "the dock turns over", "sinks": "the dock sinks"}
CODES = {"deck edge awash": "awash", "capsizes": "capsizes", "sinks": "sinks"}


def proof_findings(design: Design, model: Model, rules: FirmRules, proof: FloatProof) -> tuple[Finding, ...]:
    """Stops and Checks of the proof, each said once, each with its cure."""
    found = [
        *_outcomes(design, proof.cases),
        *_criteria(design, proof.cases),
        *_hinges(proof.hinges, rules.flotation.hinge_step_in),
        *_dip(design, proof),
        *_rings(model),
    ]
    return tuple(found)


def merged(level_findings: Sequence[Finding], proof: FloatProof) -> tuple[Finding, ...]:
    """The design's findings with the proof's in place of those of the level case that it covers."""
    kept = [finding for finding in level_findings if finding.code not in COVERED]
    order = ("stop", "check", "note")
    return tuple(sorted((*proof.findings, *kept), key=lambda finding: order.index(finding.level)))


def _field(design: Design, mark: str, part: str = "flotation") -> str:
    marks = [section.mark for section in design.spec.sections]
    return f"sections[{marks.index(mark) if mark in marks else 0}].{part}"


def _mark(case: CaseProof) -> str:
    """The section a case is about: where its load stands, or the one lying lowest."""
    if case.where and case.kind != "half":
        return case.where.split(",")[0]
    return min(case.sections, key=lambda section: section.least_freeboard_in).section if case.sections else ""


def _outcomes(design: Design, cases: Sequence[CaseProof]) -> Iterator[Finding]:
    """Cases in which the dock does not float dry, the gravest outcome first, each outcome once."""
    failing = [case for case in cases if case.outcome != "floats"]
    dead = next((case for case in failing if case.kind == "dead_wet"), None)
    if dead is not None:
        failing = [dead]
    for outcome in GRAVITY[:-1]:
        alike = [case for case in failing if case.outcome == outcome]
        if alike:
            yield _outcome(design, alike)


def _outcome(design: Design, alike: Sequence[CaseProof]) -> Finding:
    case = alike[0]
    if case.kind == "dead_wet":
        words = {"sinks": "The floats do not carry the dock itself."}
        headline = Sentence(words.get(case.outcome, f"With nobody aboard {SAID[case.outcome]}."))
    else:
        headline = appended(case_words(case), f": {SAID[case.outcome]}")
        load = next((turn.live_lb for turn in case.turns if turn.outcome == case.outcome), case.live_lb)
        headline = appended(headline, ", from {0} on.", Amount(ceil(load), "lb"))
    others = len(alike) - 1
    if others:
        text = " The same in {0} more cases." if others > 1 else " The same in one more case."
        headline = appended(headline, text, Amount(others, "count"))
    source = next((v.source for v in case.verdicts if v.level == "stop"), "ARCHIMEDES")
    level = "check" if case.outcome == "deck edge awash" and case.level != "stop" else "stop"
    return Finding(
        level, headline, _outcome_cure(design, case), _field(design, _mark(case)), source, CODES[case.outcome]
    )


def _outcome_cure(design: Design, case: CaseProof) -> Sentence:
    if case.outcome != "sinks":
        return Sentence("Put floats out to the edges, add some under the load, or make the dock wider.")
    lift = sum(f.net_lift_lb for f in design.floats) / max(len(design.floats), 1)
    more = ceil(-case.reserve_lb / lift) if lift > 0 and case.reserve_lb < 0 else 0
    if not more:
        return Sentence("Take bigger floats, or more of them.")
    text = "Add {0} floats of that size, or take bigger ones." if more > 1 else "Add a float, or take bigger ones."
    return Sentence(text, (Amount(more, "count"),) if more > 1 else ())


def _criteria(design: Design, cases: Sequence[CaseProof]) -> Iterator[Finding]:
    """Each criterion not met by a dock that floats, by its worst case."""
    missed: dict[tuple[str, str], list[tuple[CaseProof, CaseVerdict]]] = {}
    for case in cases:
        for verdict in case.verdicts if case.outcome == "floats" else ():
            if verdict.level != "fine" and verdict.unit:
                missed.setdefault((verdict.rule_set, verdict.criterion), []).append((case, verdict))
    for pairs in missed.values():
        case, verdict = max(pairs, key=lambda pair: (LEVELS.index(pair[1].level), _over(pair[1])))
        yield _criterion(design, case, verdict)


def _over(verdict: CaseVerdict) -> float:
    over = (verdict.value or 0.0) - verdict.limit
    return over if _most(verdict) else -over


def _most(verdict: CaseVerdict) -> bool:
    return verdict.unit == "deg" or verdict.criterion == "reservoir-end"


def _criterion(design: Design, case: CaseProof, verdict: CaseVerdict) -> Finding:
    value = Amount(round(abs(verdict.value), 1), verdict.unit)
    words = case_words(case)
    if verdict.criterion == "firm-float-tops":
        text = (
            ": a float top goes {0} under water." if verdict.value < 0 else ": a float top comes within {0} of water."
        )
        headline, cure = appended(words, text, value), "Add a float there, or take taller ones."
    elif verdict.unit == "deg":
        headline = appended(words, ": it tilts {0}. {1}: {2}.", value, *_asked(verdict))
        cure = "Put floats further out, add some under the load, or make the dock wider."
    else:
        headline = appended(words, ": {0}. {1}: {2}.", value, *_asked(verdict))
        cure = "Add floats, or take taller ones."
    code = {"firm-float-tops": "low_tops", "firm-tilt": "tilt"}.get(verdict.criterion, verdict.criterion)
    return Finding(verdict.level, headline, Sentence(cure), _field(design, _mark(case)), verdict.source, code)


def _asked(verdict: CaseVerdict) -> tuple[str, str]:
    """How a criterion stands, and what it asks."""
    over = verdict.level == "stop" or _over(verdict) > 0
    return "Not met" if over else "Only just met", verdict.words[0].lower() + verdict.words[1:]


def _hinges(hinges: Sequence[HingeLine], most_in: float) -> Iterator[Finding]:
    """Hinges whose sections would float apart; they bind, and people trip."""
    out = [hinge for hinge in hinges if hinge.step_in is None or round(abs(hinge.step_in), 1) >= max(most_in, 0.1)]
    if not out:
        return
    worst = max(out, key=lambda hinge: float("inf") if hinge.step_in is None else abs(hinge.step_in))
    if worst.step_in is None:
        text = "Alone, {0} or {1} would not float: the hinge between them carries it."
        headline, cure = Sentence(text, (worst.first, worst.second)), Sentence("Give each section its own floats.")
    else:
        high, low = (worst.second, worst.first) if worst.step_in > 0 else (worst.first, worst.second)
        step = Amount(round(abs(worst.step_in), 1), "in_small")
        headline = Sentence("Alone, {0} floats {1} higher than {2} at their hinge.", (high, step, low))
        cure = Sentence("The hinge binds. Give {0} more floats near it or {1} fewer, until they match.", (low, high))
    if len(out) > 1:
        headline = appended(
            headline, " Also out of line: {0}.", several([f"{h.first}-{h.second}" for h in out if h is not worst])
        )
    yield Finding("check", headline, cure, "joints", "FIRM", "hinge_step")


def _dip(design: Design, proof: FloatProof) -> Iterator[Finding]:
    """How far the ramp pulls down the edge it lands on, nobody aboard."""
    dead, ramp = proof.case("dead_wet"), design.ramp
    if dead is None or ramp is None or not dead.sections:
        return
    host = next(section for section in dead.sections if section.section == ramp.section)
    near = [c.freeboard_in for c in host.corners if _at_edge(c.x_in, c.y_in, ramp.edge, host)]
    middle = sum(c.freeboard_in for c in host.corners) / 4
    dip = round(middle - sum(near) / 2, 1)
    if dip >= DIP_IN:
        text = "The ramp dips section {0} by {1} at its landing, nobody aboard."
        headline = Sentence(text, (ramp.section, Amount(dip, "in_small")))
        cure = Sentence("Put one more float under the landing, or slide the next ones toward it.")
        yield Finding("check", headline, cure, _field(design, ramp.section), "STARTER_LIMITS", "ramp_dip")


def _at_edge(x: float, y: float, edge: str, host) -> bool:
    xs, ys = [c.x_in for c in host.corners], [c.y_in for c in host.corners]
    at, wanted = {"shore": (x, min(xs)), "lake": (x, max(xs)), "right": (y, min(ys)), "left": (y, max(ys))}[edge]
    return at == wanted


def _rings(model: Model) -> Iterator[Finding]:
    for ring in model.rings:
        headline = Sentence("The hinges between {0} close a ring: floated as bolted as one.", (several(ring),))
        cure = Sentence("Hinges round a ring hold each other flat. Say rigid where they are bolted.")
        yield Finding("note", headline, cure, "joints", "GEOMETRY", "hinge_ring")
