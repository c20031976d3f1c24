"""Where sections meet: overlaps and loose joints named, joints nobody drew filled in, docks told apart."""

from collections.abc import Sequence

from .defaults import Picked
from .limits import Inspector
from .listing import several
from .outline import OVERLAP_IN, Line, groups, near_pairs, overlap_in, shared_line
from .reasons import Amount, Finding, Sentence
from .result import SharedEdge
from .spec import DockSpec, Joint

NARROW_JOINT_IN = 24.0


def meet(
    spec: DockSpec, picked: Sequence[Picked], inspector: Inspector
) -> tuple[tuple[Joint, ...], tuple[SharedEdge, ...], list[Finding]]:
    """The joints of the dock and the edges they lie on.

    Sections that touch without a joint in the spec are taken as hinged, and a note says so. Faults: overlapping
    sections, joints whose sections do not touch. Source: GEOMETRY.
    """
    lines = _touching(picked, inspector)
    at = {p.mark: p.index for p in picked}
    joints = list(spec.joints)
    for i, joint in enumerate(joints):
        if _pair(at[joint.first], at[joint.second]) not in lines:
            text = "Sections {0} and {1} do not touch. Move one of them, or leave the joint out."
            inspector.fault(f"joints[{i}].second", text, joint.first, joint.second)
    drawn = {_pair(at[joint.first], at[joint.second]) for joint in joints}
    missing = [pair for pair in sorted(lines) if pair not in drawn]
    filled = [Joint(picked[a].mark, picked[b].mark, "hinged") for a, b in missing]
    findings = _taken_as_hinged(filled)
    edges = []
    for joint in (*joints, *filled):
        line = lines.get(_pair(at[joint.first], at[joint.second]))
        if line is not None:
            edges.append(SharedEdge(joint.first, joint.second, joint.kind, *line))
            findings.extend(_narrow(joint, line))
    return (*joints, *filled), tuple(edges), findings


def dock_groups(picked: Sequence[Picked], joints: Sequence[Joint], *, rigid_only: bool) -> list[list[int]]:
    """Sections held together, by rigid joints alone or by any joint, as lists of section indices."""
    at = {p.mark: p.index for p in picked}
    pairs = [(at[j.first], at[j.second]) for j in joints if j.kind == "rigid" or not rigid_only]
    return groups(len(picked), pairs)


def separate_docks(picked: Sequence[Picked], docks: Sequence[Sequence[int]]) -> list[Finding]:
    if len(docks) < 2:
        return []
    named = "; ".join(" ".join(picked[i].mark for i in dock) for dock in docks)
    text = "{0} separate docks: {1}."
    cure = Sentence("If they belong together, move them until their edges touch.")
    return [_note(Sentence(text, (Amount(len(docks), "count"), named)), cure, "sections", "separate_docks")]


def _pair(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def _touching(picked: Sequence[Picked], inspector: Inspector) -> dict[tuple[int, int], Line]:
    boxes = [p.box for p in picked]
    lines = {}
    for i, j in near_pairs(boxes):
        over = overlap_in(boxes[i], boxes[j])
        if over > OVERLAP_IN:
            text = "Sections {0} and {1} lie over each other by {2}."
            inspector.fault(f"sections[{j}].x_in", text, picked[i].mark, picked[j].mark, Amount(over, "in"))
        elif (line := shared_line(boxes[i], boxes[j])) is not None:
            lines[i, j] = line
    return lines


def _taken_as_hinged(filled: Sequence[Joint]) -> list[Finding]:
    if not filled:
        return []
    pairs = [f"{joint.first}-{joint.second}" for joint in filled]
    headline = Sentence("Sections touch at {0}: counted as hinged.", (several(pairs),))
    return [_note(headline, Sentence("Say rigid where they are bolted as one."), "joints", "joint_filled")]


def _narrow(joint: Joint, line: Line) -> list[Finding]:
    if line.length_in >= NARROW_JOINT_IN:
        return []
    text = "{0} and {1} meet over {2} only."
    headline = Sentence(text, (joint.first, joint.second, Amount(line.length_in, "in")))
    cure = Sentence("A pair of hinges wants {0}. Slide one section along.", (Amount(NARROW_JOINT_IN, "in"),))
    return [Finding("check", headline, cure, "joints", "COMMON_PRACTICE", "narrow_joint")]


def _note(headline: Sentence, cure: Sentence, field: str, code: str) -> Finding:
    return Finding("note", headline, cure, field, "GEOMETRY", code)
