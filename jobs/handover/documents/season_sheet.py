"""The sheet of a visit: what to do in order, what was there at the hand-over, and blanks beside it."""

from dataclasses import dataclass

from estimating.engine.reasons import Amount
from jobs.fieldwork.documents.blanks import FREEBOARD_IN
from jobs.fieldwork.documents.facts import small, speak
from jobs.handover.documents.package import AnchorLine, CornerLine, Package
from jobs.handover.models import SeasonVisit, VisitKind

STEPS = {
    VisitKind.FIRST_CHECK: (
        "Read the water level and write it down with the time.",
        "Tighten every bolt: the lumber has shrunk since the first day.",
        "Measure the freeboard at every corner, nobody aboard. One corner lower: look for water in a float.",
        "Look at every chain, shackle and pin; no chain tight, no link worn by a third.",
        "Look at the ramp: hinge pins, rails, slope at this level.",
        "Screws below the surface, no board loose, no splinter where people walk barefoot.",
    ),
    VisitKind.HAUL_OUT: (
        "Life jackets on, two people at least, the rescue boat manned. Not in wind over the firm's limit.",
        "Read the water level and write it down.",
        "Take ladder, bumpers and loose gear ashore; tag them.",
        "Unhook the ramp and lift it ashore with enough hands or a machine.",
        "Safety line to shore on every section before any chain is let go.",
        "Unshackle the chains, tie each end to a marked float, write down the length left out.",
        "Pull the hinge pins from the lake end back to the shore. Pins and bolts into one bag with the job's number.",
        "Tow or lift the sections to their place; block them level off the ground.",
        "Look at every float, plate and stringer from below; photograph the damage.",
        "Clean and dry everything before it goes to another lake, as local rules ask.",
    ),
    VisitKind.PUT_IN: (
        "Life jackets on, two people at least, the rescue boat manned.",
        "Read the water level and write it down.",
        "Look over floats, plates, bolts and boards on land; put right what the haul-out sheet lists.",
        "Launch the sections, shore end first; pin the hinges from the shore outwards.",
        "Find the marked chain ends and shackle them; every chain slack at the season's highest level.",
        "Hang the ramp; pins through and secured; rails on.",
        "Measure the freeboard at every corner, nobody aboard. Lower than at the hand-over: a float takes water.",
        "Ladder, bumpers and sign with the limits back in place.",
    ),
}


@dataclass(frozen=True, slots=True)
class Compared:
    """A corner's freeboard or a chain: at the hand-over, at the visit before, at this one."""

    name: str
    key: str
    then: str
    last: str = ""
    today: str = ""
    differs: str = ""
    weight: str = ""
    depth: str = ""


@dataclass(frozen=True, slots=True)
class SeasonSheet:
    """What the paper prints."""

    job_number: str
    client: str
    place: str
    name: str
    due: str
    steps: tuple[str, ...]
    corners: tuple[Compared, ...]
    chains: tuple[Compared, ...]
    level_then: str
    datum: str
    before: SeasonVisit | None
    cautions: tuple[str, ...]

    @property
    def is_measured_before(self) -> bool:
        return any(line.last for line in (*self.corners, *self.chains))

    @property
    def is_measured(self) -> bool:
        return any(line.today for line in (*self.corners, *self.chains))


def season_sheet(visit: SeasonVisit, package: Package, *, due: str, before: SeasonVisit | None = None) -> SeasonSheet:
    """The sheet of one visit, from the dock as it was handed over and as the visit before found it."""
    past = before.measured if before else {}
    return SeasonSheet(
        package.job_number,
        package.client,
        package.place,
        visit.get_kind_display(),
        due,
        STEPS[VisitKind(visit.kind)],
        tuple(_corner(line, past.get(line.key), visit.measured.get(line.key)) for line in package.corners),
        tuple(_chain(line, past.get(line.key), visit.measured.get(line.key)) for line in package.anchors),
        package.level,
        package.datum,
        before,
        package.cautions[:2],
    )


def _corner(line: CornerLine, last: float | None, today: float | None) -> Compared:
    then = line.measured or f"{line.reckoned}, reckoned"
    return Compared(
        f"{line.section}, {line.corner}",
        line.key,
        then,
        "" if last is None else small(last),
        "" if today is None else small(today),
        _sunk(line.measured_in, today),
    )


def _sunk(then: float | None, today: float | None) -> str:
    """Whether a corner lies otherwise than at the hand-over, by more than a hand reads on moving water."""
    if then is None or today is None:
        return ""
    lower = then - today
    if abs(lower) <= FREEBOARD_IN:
        return "as it was"
    if lower < 0:
        return f"{small(-lower)} higher"
    return f"{small(lower)} lower: look for water in a float"


def _chain(line: AnchorLine, last: float | None, today: float | None) -> Compared:
    said = ["" if length is None else speak(Amount(length, "in")) for length in (last, today)]
    laid = line.chain if line.laid else f"{line.chain}, drawn"
    return Compared(f"Anchor {line.mark}", line.key, laid, *said, weight=line.weight, depth=line.depth)
