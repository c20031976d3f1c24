"""Measured against reckoned: how the dock lies, and why."""

from dataclasses import dataclass

from estimating.engine.flotation.descent import DidNotSettle
from jobs.fieldwork.causes import Measured, likely_causes
from jobs.fieldwork.documents.blanks import CORNER_WORDS, predicted
from jobs.fieldwork.documents.facts import Work, small, speak
from jobs.fieldwork.models import WorkOrder

from .basis import Worked
from .keying import standing_entries


@dataclass(frozen=True, slots=True)
class CornerLine:
    """One corner: reckoned wet and seasoned, measured, and how far it is off the wet one."""

    section: str
    corner: str
    wet: str
    seasoned: str
    measured: str
    off: str


@dataclass(frozen=True, slots=True)
class Lies:
    """How the dock lies, corner by corner, and the causes that fit, in words."""

    corners: tuple[CornerLine, ...]
    causes: tuple[str, ...]


def causes_of(order: WorkOrder, work: Work, worked: Worked) -> Lies | None:
    """What the freeboards of a sheet say; None before any is written down."""
    standing, reckoned = standing_entries(order), predicted(work)
    measured, lines = [], []
    for mark, corners in reckoned.items():
        for name, (wet, dry) in corners.items():
            found = standing.get(f"{mark}.freeboard.{name}")
            if found is None or found.last.number is None:
                continue
            value = found.last.number
            measured.append(Measured(mark, name, value))
            off = value - wet
            lines.append(
                CornerLine(
                    mark,
                    CORNER_WORDS[name],
                    small(wet),
                    small(dry),
                    small(value),
                    f"{'+' if off >= 0 else '−'}{small(abs(off))}",
                )
            )
    if not measured:
        return None
    return Lies(tuple(lines), _said(work, worked, measured))


def _said(work: Work, worked: Worked, measured: list[Measured]) -> tuple[str, ...]:
    design = work.estimate.design
    try:
        dry = likely_causes(design, worked.catalogue, worked.rules, measured, seasoned=True)
        wet = likely_causes(design, worked.catalogue, worked.rules, measured)
    except DidNotSettle:
        return ("How the dock should lie could not be worked out.",)
    if any(found[0].kind == "as_reckoned" for found in (wet, dry)):
        kind = "wet" if wet[0].kind == "as_reckoned" else "seasoned"
        return (f"The dock lies as reckoned for {kind} lumber.",)
    return tuple(cause.words.say(speak) for cause in wet)
