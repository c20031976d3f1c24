"""Where the load cases stand: on all decks, half of them, along each free edge, at each free end, in each corner.

The sides of a section are its long edges, its ends the short ones, as the section lies. An edge that another section
covers over more than half its length is no edge to stand at.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.outline import EDGES, Box, Line, edge_of, outward
from estimating.engine.parts import FlotationRules
from estimating.engine.reasons import Amount, Sentence

from .model import CORNER_NAMES, Deck, Model

PERSON_SPACE_IN = 24.0
COVERED_SHARE = 0.5
NEAR_IN = 1.0


@dataclass(frozen=True, slots=True)
class Loading:
    """One way to load the dock: its kind, its name, where it stands, what stands there.

    `stands` tells of a case of the firm's own which kind it is like.
    """

    kind: str
    name: Sentence
    where: str
    loads: tuple[PointLoad, ...]
    rule_set: str = "firm"
    people: int = 0
    dry: bool = False
    stands: str = ""

    @property
    def like(self) -> str:
        return self.stands or self.kind

    @property
    def live_lb(self) -> float:
        return sum(load.weight_lb for load in self.loads)


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge people may stand at. end: whether it is a short one."""

    deck: Deck
    side: str
    line: Line
    end: bool

    @property
    def words(self) -> str:
        return f"{self.deck.mark}, {self.side} {'end' if self.end else 'edge'}"

    def point(self, inset_in: float) -> tuple[float, float]:
        """The middle of the edge, set in from it, at most to the middle of the deck."""
        x0, y0, x1, y1 = self.line
        out_x, out_y = outward(self.side)
        box = self.deck.box
        inset = min(inset_in, ((box.x1 - box.x0) if out_x else (box.y1 - box.y0)) / 2)
        return (x0 + x1) / 2 - out_x * inset, (y0 + y1) / 2 - out_y * inset

    def room(self, people: int) -> int:
        """So many of the people as find room."""
        return min(people, max(1, int(self.line.length_in / PERSON_SPACE_IN)))


def free_edges(model: Model) -> tuple[Edge, ...]:
    """All edges of all sections that no other section covers. Source: GEOMETRY."""
    covered = _covered(model)
    edges = []
    for deck in model.decks:
        long_x = deck.box.x1 - deck.box.x0 >= deck.box.y1 - deck.box.y0
        for side in EDGES:
            line = edge_of(deck.box, side)
            end = (side in ("shore", "lake")) == long_x
            if covered.get((deck.mark, side), 0.0) <= COVERED_SHARE * line.length_in:
                edges.append(Edge(deck, side, line, end))
    return tuple(edges)


def _covered(model: Model) -> dict[tuple[str, str], float]:
    """How much of each edge lies against another section, inches."""
    covered: dict[tuple[str, str], float] = {}
    boxes = {deck.mark: deck.box for deck in model.decks}
    for joint in model.design.edges:
        along = abs(joint.x1_in - joint.x0_in) + abs(joint.y1_in - joint.y0_in)
        for mark in (joint.first, joint.second):
            side = _side_at(boxes[mark], (joint.x0_in + joint.x1_in) / 2, (joint.y0_in + joint.y1_in) / 2)
            covered[mark, side] = covered.get((mark, side), 0.0) + along
    return covered


def _side_at(box: Box, x: float, y: float) -> str:
    away = {"shore": abs(x - box.x0), "lake": abs(x - box.x1), "right": abs(y - box.y0), "left": abs(y - box.y1)}
    return min(away, key=away.__getitem__)


def dead_loadings() -> tuple[Loading, Loading]:
    wet = Loading("dead_wet", Sentence("Dock alone, lumber wet"), "", ())
    return wet, Loading("dead_seasoned", Sentence("Dock alone, lumber seasoned"), "", (), dry=True)


def spread(model: Model, psf: float, rule_set: str = "firm") -> Loading:
    """So many pounds on every square foot of deck."""
    loads = tuple(deck.load(psf * deck.area_sqft, *deck.box.middle) for deck in model.decks)
    return Loading("spread", Sentence("{0} on all of the deck", (Amount(psf, "psf"),)), "", loads, rule_set)


def spread_person(model: Model, person_lb: float) -> tuple[PointLoad, ...]:
    """One person of a crowd spread over all decks: on each its share by area."""
    area = sum(deck.area_sqft for deck in model.decks)
    return tuple(deck.load(person_lb * deck.area_sqft / area, *deck.box.middle) for deck in model.decks)


def halves(model: Model, psf: float) -> Iterator[Loading]:
    """So many psf on the half of each body's deck that lies to one side of its middle."""
    name = Sentence("{0} on half of the deck", (Amount(psf, "psf"),))
    middles = [_middle(model.decks_of(body)) for body in range(len(model.assembly.bodies))]
    for side in EDGES:
        out_x, out_y = outward(side)
        loads = []
        for deck in model.decks:
            half = _beyond(deck.box, middles[deck.body], (out_x, out_y))
            if half is not None:
                area = (half.x1 - half.x0) * (half.y1 - half.y0) / 144
                loads.append(deck.load(psf * area, *half.middle))
        yield Loading("half", name, f"{side} half", tuple(loads))


def _middle(decks: tuple[Deck, ...]) -> tuple[float, float]:
    area = sum(deck.area_sqft for deck in decks)
    x, y = (sum(deck.area_sqft * deck.box.middle[axis] for deck in decks) / area for axis in (0, 1))
    return x, y


def _beyond(box: Box, middle: tuple[float, float], out: tuple[int, int]) -> Box | None:
    """The part of a box beyond a line through the middle, on the side `out` points to."""
    x0, y0, x1, y1 = box
    x0, x1 = (max(x0, middle[0]), x1) if out[0] > 0 else (x0, min(x1, middle[0])) if out[0] < 0 else (x0, x1)
    y0, y1 = (max(y0, middle[1]), y1) if out[1] > 0 else (y0, min(y1, middle[1])) if out[1] < 0 else (y0, y1)
    return Box(x0, y0, x1, y1) if x1 > x0 and y1 > y0 else None


def crowds(edges: tuple[Edge, ...], rules: FlotationRules, person_lb: float) -> Iterator[Loading]:
    """People at every free edge and every free end, as many as are asked for and find room."""
    for edge in edges:
        people = edge.room(rules.end_people if edge.end else rules.edge_people)
        if people:
            text = "{0} people at one end" if edge.end else "{0} people along one edge"
            one = "One person at one end" if edge.end else "One person at one edge"
            name = Sentence(text, (Amount(people, "count"),)) if people > 1 else Sentence(one)
            load = edge.deck.load(people * person_lb, *edge.point(rules.crowd_inset_in))
            yield Loading("end" if edge.end else "edge", name, edge.words, (load,), people=people)


def heavy(model: Model, weight_lb: float, inset_in: float, rule_set: str = "firm") -> Iterator[Loading]:
    """One heavy load near each corner of each section: nowhere on a deck does it press an edge lower."""
    text = "{0} at one place, {1} from the edge" if inset_in else "{0} at one place, on the edge"
    name = Sentence(text, (Amount(weight_lb, "lb"), Amount(inset_in, "in"))[: 2 if inset_in else 1])
    for deck in model.decks:
        mid_x, mid_y = deck.box.middle
        for corner, (x, y, _) in zip(CORNER_NAMES, deck.corners, strict=True):
            x = min(x + inset_in, mid_x) if x < mid_x else max(x - inset_in, mid_x)
            y = min(y + inset_in, mid_y) if y < mid_y else max(y - inset_in, mid_y)
            yield Loading("point", name, f"{deck.mark}, {corner} corner", (deck.load(weight_lb, x, y),), rule_set)


def finger_ends(edges: tuple[Edge, ...], weight_lb: float, inset_in: float, rule_set: str) -> Iterator[Loading]:
    """A load near each free end."""
    name = Sentence("{0} at an end, {1} from it", (Amount(weight_lb, "lb"), Amount(inset_in, "in")))
    for edge in edges:
        if edge.end:
            load = edge.deck.load(weight_lb, *edge.point(inset_in))
            yield Loading("finger_end", name, edge.words, (load,), rule_set)


def ramp_full(model: Model, rules: FlotationRules) -> Loading | None:
    """The design load, or the firm's own, on all of the ramp: half of it comes down on the dock."""
    ramp = model.design.ramp
    psf = model.design.spec.live_load_psf if rules.ramp_psf is None else rules.ramp_psf
    if ramp is None or not psf:
        return None
    half = psf * ramp.length_in * ramp.width_in / 144 / 2
    load = model.deck(ramp.section).load(half, ramp.dock_x_in, ramp.dock_y_in)
    return Loading("ramp", Sentence("Ramp full, {0}", (Amount(psf, "psf"),)), ramp.section, (load,))
