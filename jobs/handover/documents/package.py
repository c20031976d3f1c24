"""The hand-over package as facts: what was built, how it lies, how it is held, what it bears, how it is cared for."""

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from contractor.company.current import units
from estimating.engine.drawing import Sheet, draw, trims
from estimating.engine.reasons import Amount
from estimating.quotes.documents.promises import people_words
from jobs.fieldwork.documents.blanks import CORNER_WORDS, anchor_rows, predicted
from jobs.fieldwork.documents.facts import Work, level, small, speak
from jobs.fieldwork.models import Defect, Entry
from jobs.fieldwork.services.basis import Worked
from jobs.records.models.saying import day_said

DRAWING_PX = 690.0
CARE = (
    "After four to eight weeks the lumber has shrunk: tighten every bolt, then once a year.",
    "Keep every chain slack. When the water rises, let chain out; when it falls, take it up.",
    "Look once a month: a corner that lies lower than in the table may have a float that takes water. Call us.",
    "Before ice or drawdown the dock comes out, or is towed to shelter and tied. Moving ice breaks any dock.",
    "Sweep and wash with water. No pressure washer on treated wood, no salt on hardware.",
    "Pressure-treated wood: never burn it; wear gloves and a mask when you saw or sand it.",
    "Clean, drain and dry everything that came out of one lake before it goes into another.",
)
CAUTIONS = (
    "Check on site. Not a substitute for an engineer where one is required.",
    "No power cable, lamp or shore power on the dock but by a licensed electrician with ground-fault protection and an "
    "inspection. Current in the water kills swimmers. Tingling in the water: swim away from the dock, call for help.",
    "Children and whoever does not swim wear life jackets. Keep a ring buoy with its line at the dock.",
    "No diving from the dock. Nobody under it. Nobody on it in a storm or while a boat is pulled up.",
    "Local codes and the permit come before this sheet.",
)


@dataclass(frozen=True, slots=True)
class CornerLine:
    """One corner's freeboard: measured, and as reckoned."""

    section: str
    corner: str
    measured: str
    reckoned: str
    key: str = ""
    measured_in: float | None = None


@dataclass(frozen=True, slots=True)
class AnchorLine:
    """One anchor: what was laid, else what is drawn."""

    mark: str
    weight: str
    place: str
    depth: str
    chain: str
    laid: bool
    key: str = ""
    chain_in: float | None = None


@dataclass(frozen=True, slots=True)
class DefectLine:
    words: str
    standing: str
    open: bool


@dataclass(frozen=True, slots=True)
class Package:
    """Everything the paper prints."""

    job_number: str
    edition: int
    client: str
    place: str
    letter: str
    sold: bool
    made_on: datetime.date
    drawing: str
    summary: str
    corners: tuple[CornerLine, ...]
    measured_on: datetime.date | None
    aboard: str
    level: str
    datum: str
    anchors: tuple[AnchorLine, ...]
    people: str
    boats: str
    defects: tuple[DefectLine, ...]
    open_why: str = ""
    care: tuple[str, ...] = CARE
    cautions: tuple[str, ...] = CAUTIONS

    @property
    def is_measured(self) -> bool:
        return any(line.measured for line in self.corners)

    @property
    def has_open(self) -> bool:
        return any(defect.open for defect in self.defects)


@dataclass(frozen=True, slots=True)
class Edition:
    """Which paper of the job this is; `open_why` says why it is handed over with a defect open."""

    number: int
    on: datetime.date
    open_why: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What the crew wrote: the last entry under each blank, hand-over before anchoring before launch."""

    entries: Mapping[str, Entry]

    def number(self, key: str) -> float | None:
        found = self.entries.get(key)
        return None if found is None else found.number


def package_of(work: Work, worked: Worked, told: Told, defects: list[Defect], edition: Edition) -> Package:
    """The package of a job as it stands on the day of the edition."""
    water = worked.estimate.design.spec.place.water
    corners = tuple(_corners(work, told))
    taken = [told.entries[key] for key in told.entries if ".freeboard." in key]
    found_level = told.number("level")
    aboard = told.number("people")
    return Package(
        job_number=work.job_number,
        edition=edition.number,
        client=work.client,
        place=work.place,
        letter=work.letter,
        sold=work.sold,
        made_on=edition.on,
        drawing=_drawing(worked),
        summary=_summary(worked),
        corners=corners,
        measured_on=max((entry.day for entry in taken), default=None),
        aboard="" if aboard is None else "nobody aboard" if not aboard else f"{aboard:.0f} aboard",
        level=level(found_level) if found_level is not None else "",
        datum=water.datum,
        anchors=tuple(_anchors(work, told)),
        people=people_words(worked),
        boats=_boats(worked),
        defects=tuple(_defect(one) for one in defects),
        open_why=edition.open_why,
    )


def package_kept(record: Mapping[str, Any]) -> Package:
    """The package again from its record, without the drawing."""
    facts = dict(record)
    for name, line in (("corners", CornerLine), ("anchors", AnchorLine), ("defects", DefectLine)):
        facts[name] = tuple(line(**kept) for kept in facts[name])
    for name in ("made_on", "measured_on"):
        facts[name] = datetime.date.fromisoformat(facts[name]) if facts[name] else None
    return Package(**{**facts, "care": tuple(facts["care"]), "cautions": tuple(facts["cautions"]), "drawing": ""})


def _drawing(worked: Worked) -> str:
    """Plan and elevation with the dock lying as it does wet, nobody aboard."""
    metric, afloat = units() == "metric", worked.estimate.afloat
    lying = trims(afloat.case("dead_wet")) if afloat else ()
    return draw(worked.estimate.design, Sheet(DRAWING_PX, speak, "paper", "built", metric=metric, trims=lying)).svg


def _summary(worked: Worked) -> str:
    design = worked.estimate.design
    sections = design.spec.sections
    sizes = {f"{speak(Amount(s.width_in, 'in'))} × {speak(Amount(s.length_in, 'in'))}" for s in sections}
    count = "One section" if len(sections) == 1 else f"{len(sections)} sections"
    ramp = f", a ramp of {speak(Amount(design.spec.ramp.length_in, 'in'))}" if design.spec.ramp else ""
    return (
        f"{count}, {', '.join(sorted(sizes))}, on {len(design.floats)} floats"
        f"{f', {len(design.anchors)} anchors' if design.anchors else ''}{ramp}."
    )


def _corners(work: Work, told: Told) -> Iterator[CornerLine]:
    for mark, corners in predicted(work).items():
        for name, (wet, dry) in corners.items():
            key = f"{mark}.freeboard.{name}"
            measured = told.number(key)
            yield CornerLine(
                mark,
                CORNER_WORDS[name],
                "" if measured is None else small(measured),
                small(wet) if small(wet) == small(dry) else f"{small(wet)} wet, {small(dry)} seasoned",
                key,
                measured,
            )


def _anchors(work: Work, told: Told) -> Iterator[AnchorLine]:
    for row in anchor_rows(work):
        depth = told.number(f"anchor_{row.mark}.depth")
        chain = told.number(f"anchor_{row.mark}.chain")
        drawn = row.depth_in if row.depth_known else None
        depth_said = depth if depth is not None else drawn
        yield AnchorLine(
            row.mark,
            work.short_name(row.item),
            f"section {row.section}",
            "not known" if depth_said is None else level(depth_said),
            speak(Amount(chain if chain is not None else row.chain_in, "in")),
            chain is not None,
            f"anchor_{row.mark}.chain",
            chain if chain is not None else row.chain_in,
        )


def _boats(worked: Worked) -> str:
    boats = worked.estimate.design.spec.boats
    if not boats:
        return "No boat was reckoned with. Ask us before one is tied up."
    said = []
    for boat in boats:
        weight = f", {speak(Amount(boat.weight_lb, 'lb'))}" if boat.weight_lb is not None else ""
        said.append(f"{boat.count} of {speak(Amount(boat.length_in, 'in'))}{weight}")
    return f"Boats reckoned with: {'; '.join(said)}. None larger, and none tied up in a storm."


def _defect(defect: Defect) -> DefectLine:
    words = defect.words.rstrip(". ")
    if defect.is_open:
        who = f", {defect.owner.name} puts it right" if defect.owner else ""
        by = f" by {day_said(defect.due_on)}" if defect.due_on else ""
        return DefectLine(words, f"open{who}{by}", True)
    return DefectLine(words, f"closed: {defect.reason}", False)
