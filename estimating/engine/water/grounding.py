"""What the floats have under them: depth at every measured point and section end against the draft under load."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from estimating.engine.outline import box_of, outward
from estimating.engine.reasons import Amount, Finding, Sentence
from estimating.engine.result import Design
from estimating.engine.spec import DepthPoint

SLIM_IN = 1e-6


@dataclass(frozen=True, slots=True)
class Sounding:
    """One place: the depth there at the level looked at, and what floats over it; inches.

    `section` is empty where no dock is over a measured point; `measured` is false at a section end between two points.
    """

    place: str
    distance_in: float
    depth_in: float
    bottom: str
    section: str = ""
    draft_in: float | None = None
    measured: bool = True

    @property
    def under_in(self) -> float | None:
        """Water under the floats; below zero they sit on the bottom. None where nothing floats."""
        return None if self.draft_in is None else self.depth_in - self.draft_in


@dataclass(frozen=True, slots=True)
class Grounding:
    """The dock over its bottom at one level; sections under which no depth is known are named, not passed."""

    level: str
    level_in: float
    soundings: tuple[Sounding, ...]
    unmeasured: tuple[str, ...]

    @property
    def least(self) -> Sounding | None:
        """Where the floats have the least water under them."""
        under = [sounding for sounding in self.soundings if sounding.under_in is not None]
        return min(under, key=lambda sounding: sounding.under_in, default=None)

    @property
    def aground(self) -> tuple[str, ...]:
        """The sections that sit on the bottom."""
        return tuple(sorted({s.section for s in self.soundings if s.under_in is not None and s.under_in < -SLIM_IN}))

    def worst_of(self, section: str) -> Sounding | None:
        under = [sounding for sounding in self.soundings if sounding.section == section]
        return min(under, key=lambda sounding: sounding.under_in, default=None)


def grounding(design: Design, *, level: str, level_in: float | None) -> Grounding | None:
    """The dock over its bottom with the water at a level, loaded with its live load, wet.

    Depths are known below normal level, along one line out from the shore hinge (from the shore without a ramp). None
    where the level, normal water or every depth is unknown. Source: GEOMETRY.
    """
    place = design.spec.place
    if level_in is None or place.water.normal_in is None or not place.depths:
        return None
    rise = level_in - place.water.normal_in
    points = sorted(place.depths, key=lambda point: point.distance_in)
    spans = _spans(design, level_in)
    drafts = {mark: group.draft_live_in for group in design.level for mark in group.sections}
    found: list[Sounding] = []
    for point in points:
        over = [mark for mark, (near, far) in spans.items() if near - SLIM_IN <= point.distance_in <= far + SLIM_IN]
        here = (point.label, point.distance_in, point.depth_in + rise, point.bottom)
        found += [Sounding(*here, mark, drafts[mark]) for mark in over] or [Sounding(*here)]
    for mark, (near, far) in spans.items():
        for name, distance in (("shore end", near), ("lake end", far)):
            depth = _between(points, distance)
            if depth is not None and not _is_measured(points, distance):
                words = f"{name} of {mark}"
                found.append(Sounding(words, distance, depth + rise, "unknown", mark, drafts[mark], measured=False))
    over_known = {sounding.section for sounding in found}
    unmeasured = tuple(mark for mark in spans if mark not in over_known)
    return Grounding(level, level_in, tuple(sorted(found, key=lambda one: one.distance_in)), unmeasured)


def grounding_findings(found: Grounding | None, *, clearance_in: float, by: str = "our own rule") -> list[Finding]:
    """A Check for each section that sits on the bottom at this level, or has less under it than somebody asks."""
    if found is None:
        return []
    said = []
    for mark in dict.fromkeys(sounding.section for sounding in found.soundings if sounding.section):
        worst = found.worst_of(mark)
        if worst.under_in < -SLIM_IN:
            said.append(_aground(mark, worst, found.level))
        elif worst.under_in < clearance_in - SLIM_IN:
            said.append(_close(mark, worst, found.level, Amount(clearance_in, "ft_level"), by))
    if found.unmeasured:
        headline = Sentence("No depth was measured under {0}.", (_sections(found.unmeasured),))
        said.append(_finding("note", headline, Sentence("Whether it grounds is not known."), "depth_unknown"))
    return said


def _aground(mark: str, worst: Sounding, level: str) -> Finding:
    text = "Section {0} sits on the bottom at {1} water: {2} of water at {3}, its floats draw {4} loaded."
    depth, draft = Amount(max(worst.depth_in, 0.0), "ft_level"), Amount(worst.draft_in, "ft_level")
    headline = Sentence(text, (mark, level, depth, worst.place, draft))
    short = Amount(-worst.under_in, "ft_level")
    cure = Sentence("Move it out to {0} more water, or build it to sit there.", (short,))
    return _finding("check", headline, cure, "aground")


def _close(mark: str, worst: Sounding, level: str, asked: Amount, by: str) -> Finding:
    text = "Section {0} has {1} under its floats at {2} water, at {3}: at least {5} by {4}."
    headline = Sentence(text, (mark, Amount(worst.under_in, "ft_level"), level, worst.place, by, asked))
    return _finding("check", headline, Sentence("Move it out, or take floats that draw less."), "clearance")


def _finding(level: str, headline: Sentence, cure: Sentence, code: str) -> Finding:
    return Finding(level, headline, cure, "place.depths", "FIRM" if code == "clearance" else "GEOMETRY", code)


def _sections(marks: Sequence[str]) -> str:
    return f"section {marks[0]}" if len(marks) == 1 else f"sections {' and '.join(marks)}"


def _spans(design: Design, level_in: float) -> dict[str, tuple[float, float]]:
    """How far from the shore each section begins and ends at this level."""
    boxes = {section.mark: box_of(section) for section in design.spec.sections}
    ramp = design.ramp
    if ramp is None:
        return {mark: (box.x0, box.x1) for mark, box in boxes.items()}
    out_x, out_y = outward(ramp.edge)
    reach = _reach_in(design, level_in)
    spans = {}
    for mark, box in boxes.items():
        at = [
            reach - (x - ramp.dock_x_in) * out_x - (y - ramp.dock_y_in) * out_y
            for x in (box.x0, box.x1)
            for y in (box.y0, box.y1)
        ]
        spans[mark] = (min(at), max(at))
    return spans


def _reach_in(design: Design, level_in: float) -> float:
    """How far out the ramp's free end stands; as if it lay flat where its slope is unknown or it lets go."""
    ramp, asked = design.ramp, design.spec.ramp
    if asked is None or asked.hinge_level_in is None:
        return ramp.length_in
    deck = next(group.freeboard_wet_in for group in design.level if ramp.section in group.sections)
    drop = asked.hinge_level_in - level_in - deck
    return sqrt(ramp.length_in**2 - drop**2) if abs(drop) < ramp.length_in else ramp.length_in


def _between(points: Sequence[DepthPoint], distance_in: float) -> float | None:
    """The depth on a straight line between the points either side; None outside of what was measured."""
    for near, far in pairwise(points):
        if near.distance_in - SLIM_IN <= distance_in <= far.distance_in + SLIM_IN:
            along = far.distance_in - near.distance_in
            share = 0.0 if along < SLIM_IN else (distance_in - near.distance_in) / along
            return near.depth_in + (far.depth_in - near.depth_in) * share
    return None


def _is_measured(points: Sequence[DepthPoint], distance_in: float) -> bool:
    return any(abs(point.distance_in - distance_in) < SLIM_IN for point in points)
