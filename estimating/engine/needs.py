"""Net need: how much of every item the design takes, and for what. Nothing is rounded to packs here."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from .cents import exact
from .parts import Catalogue, Good, JointRule, Use
from .reasons import Amount, Sentence, Step
from .result import Design, JointPoint

STAGES = ("layout", "framing", "flotation", "launch", "decking", "anchoring", "handover")
BOARD_CROSSING = "board_crossing"
JOINT_STAGES = {"chain_retainer": "anchoring", BOARD_CROSSING: "decking"}
PLACES = {
    "outer_corner": "outer corner",
    "inner_corner": "inner corner",
    "tee": "tee",
    "cross_end": "cross member end",
    "hinged_joint": "hinged joint",
    "rigid_joint": "rigid joint",
    "ramp_dock_end": "ramp on the dock",
    "ramp_shore_end": "ramp on shore",
    BOARD_CROSSING: "board over a support",
    "chain_retainer": "chain retainer",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that takes so many of an item, each: four corners, eight bolts each."""

    code: str
    stage: str
    what: str
    count: Decimal
    each: Decimal
    unit: str = "count"  # of `each` and of the product

    @property
    def quantity(self) -> Decimal:
        return self.count * self.each

    @property
    def step(self) -> Step:
        words = Sentence("{0} × {1}, {2} each", (Amount(self.count, "count"), self.what, Amount(self.each, self.unit)))
        return Step(words, Amount(self.quantity, self.unit))


@dataclass(frozen=True)
class Need:
    """The net need of one item with every entry it comes from."""

    code: str
    entries: tuple[Entry, ...]

    @cached_property
    def net(self) -> Decimal:
        return sum((entry.quantity for entry in self.entries), Decimal(0))

    @property
    def stage(self) -> str:
        return min((entry.stage for entry in self.entries), key=STAGES.index)

    @property
    def steps(self) -> tuple[Step, ...]:
        unit = self.entries[0].unit
        return (*(e.step for e in self.entries), Step(Sentence("Net need"), Amount(self.net, unit), total=True))


def needs(design: Design, catalogue: Catalogue) -> tuple[Need, ...]:
    """The net need of every good and float; lumber is a matter of cuts, see `cuts`. Entries alike are put together."""
    merged: dict[tuple[str, str, str, Decimal, str], Decimal] = {}
    for entry in _entries(design, catalogue):
        key = (entry.code, entry.stage, entry.what, entry.each, entry.unit)
        merged[key] = merged.get(key, Decimal(0)) + entry.count
    gathered: dict[str, list[Entry]] = {}
    for (code, stage, what, each, unit), count in merged.items():
        gathered.setdefault(code, []).append(Entry(code, stage, what, count, each, unit))
    return tuple(Need(code, tuple(entries)) for code, entries in gathered.items())


def _entries(design: Design, catalogue: Catalogue) -> Iterator[Entry]:
    rules = {(rule.place, rule.name): rule for rule in catalogue.joint_rules}
    crossings = {run.section: run.count * run.supports_crossed for run in design.boards}
    for joint, count in _alike(design.joints):
        # A run of boards is one joint that carries the screws of all its crossings.
        alike = max(1, crossings[joint.sections[0]]) if joint.place == BOARD_CROSSING else 1
        rule = rules.get((joint.place, joint.rule))
        yield from _of_joint(joint, Decimal(alike), Decimal(alike * count), rule)
    yield from _of_floats(design, catalogue)
    yield from _of_anchors(design, catalogue)
    yield from _of_accessories(design, catalogue)
    if design.ramp and design.ramp.bought_item:
        yield Entry(design.ramp.bought_item, "framing", "ramp", Decimal(1), Decimal(1))


def _alike(joints: Iterable[JointPoint]) -> Iterator[tuple[JointPoint, int]]:
    """One joint of each place and take, with how many there are."""
    found: dict[tuple[str, str, int, int], list[JointPoint]] = {}
    for joint in joints:
        # The joints of one rule share its parts. A run of boards has its own.
        found.setdefault((joint.place, joint.rule, joint.bolts, id(joint.parts)), []).append(joint)
    return ((same[0], len(same)) for same in found.values())


def _of_joint(joint: JointPoint, alike: Decimal, count: Decimal, rule: JointRule | None) -> Iterator[Entry]:
    """What so many joints take, each standing for a number alike."""
    what, stage = PLACES[joint.place], JOINT_STAGES.get(joint.place, "framing")
    for code, quantity in joint.parts:
        yield Entry(code, stage, what, count, quantity / alike)
    if joint.bolts:
        bolts = joint.bolts / alike
        yield Entry(joint.bolt, stage, what, count, bolts)
        for use in rule.per_bolt if rule else ():
            yield Entry(use.code, stage, what, count, use.quantity * bolts)


def _of_floats(design: Design, catalogue: Catalogue) -> Iterator[Entry]:
    for placed in design.floats:
        item = catalogue.floats[placed.item]
        yield Entry(item.code, "flotation", f"section {placed.section}", Decimal(1), Decimal(1))
        yield from _fixings(item.fixings, "flotation", item.name, Decimal(1))


def _of_anchors(design: Design, catalogue: Catalogue) -> Iterator[Entry]:
    for anchor in design.anchors:
        item, chain = catalogue.goods[anchor.item], catalogue.goods[anchor.chain]
        yield Entry(item.code, "anchoring", "anchor", Decimal(1), Decimal(1))
        yield from _fixings(item.fixings, "anchoring", "anchor", Decimal(1))
        yield Entry(chain.code, "anchoring", "chain", Decimal(1), feet(anchor.chain_length_in), "ft")


def _of_accessories(design: Design, catalogue: Catalogue) -> Iterator[Entry]:
    for placed in design.accessories:
        good: Good = catalogue.goods[placed.item]
        count = Decimal(placed.quantity)
        yield Entry(good.code, "decking", f"section {placed.section}", count, Decimal(1))
        yield from _fixings(good.fixings, "decking", good.name, count)


def _fixings(uses: tuple[Use, ...], stage: str, what: str, count: Decimal) -> Iterator[Entry]:
    for use in uses:
        yield Entry(use.code, stage, what, count, use.quantity)


@dataclass(frozen=True, slots=True)
class Cuts:
    """Every piece of one lumber or decking item: (mark, length) each, and what they are in groups alike."""

    code: str
    stage: str
    pieces: tuple[tuple[str, float], ...]
    kinds: tuple[tuple[str, float, int], ...]  # role, length, how many

    @property
    def feet(self) -> Decimal:
        return sum((feet(length * count) for _, length, count in self.kinds), Decimal(0))

    @property
    def steps(self) -> tuple[Step, ...]:
        lines = tuple(
            Step(
                Sentence("{0} × {1}, {2}", (Amount(count, "count"), role, Amount(length, "in"))),
                Amount(feet(length * count), "ft"),
            )
            for role, length, count in self.kinds
        )
        return (*lines, Step(Sentence("Net need"), Amount(self.feet, "ft"), total=True))


def feet(length_in: float) -> Decimal:
    """Inches as feet to a hundredth.

    >>> feet(9 * 22.0)
    Decimal('16.50')
    """
    return exact(length_in / 12, 2)


def cuts(design: Design) -> tuple[Cuts, ...]:
    """The pieces to saw, by item: the frame's first, then boards; an item used for both comes twice."""
    frame: dict[str, list[tuple[str, str, float]]] = {}
    for piece in design.pieces:
        frame.setdefault(piece.item, []).append((piece.mark, piece.role, piece.length_in))
    deck: dict[str, list[tuple[str, str, float]]] = {}
    for run in design.boards:
        boards = ((f"{run.section} board {n + 1}", "board", run.length_in) for n in range(run.count))
        deck.setdefault(run.item, []).extend(boards)
    return tuple(
        _cuts(code, stage, pieces)
        for stage, items in (("framing", frame), ("decking", deck))
        for code, pieces in items.items()
    )


def _cuts(code: str, stage: str, pieces: list[tuple[str, str, float]]) -> Cuts:
    kinds: dict[tuple[str, float], int] = {}
    for _, role, length in pieces:
        kinds[role, length] = kinds.get((role, length), 0) + 1
    alike = tuple((role, length, count) for (role, length), count in kinds.items())
    return Cuts(code, stage, tuple((mark, length) for mark, _, length in pieces), alike)
