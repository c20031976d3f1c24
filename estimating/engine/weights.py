"""What everything weighs and where: every stick, board, float and piece of hardware, wet and seasoned."""

from collections.abc import Iterable

from .parts import Catalogue
from .reasons import Amount, Reason, Sentence, Step
from .result import BoardRun, Design, Weight, WeightedItem
from .rulebook import Rulebook


def weighted_items(design: Design, catalogue: Catalogue, rulebook: Rulebook | None = None) -> tuple[WeightedItem, ...]:
    """Everything the sections carry, one row a thing, for whoever solves how the dock lies in the water.

    Hardware shared by two sections is halved between them. The ramp counts as half its weight at its dock hinge.
    Chain is left out: it lies on the bottom and hangs at the anchors. Source: GEOMETRY.
    """
    rulebook = rulebook or Rulebook(catalogue)
    rows = _Rows(design, catalogue, rulebook)
    return (*rows.pieces(), *rows.boards(), *rows.floats(), *rows.hardware(), *rows.accessories(), *rows.ramp())


def section_weights(design: Design, items: Iterable[WeightedItem]) -> tuple[Weight, ...]:
    """The rows added up by section, to the pound, and where each section's wet weight acts, the ramp left out."""
    sums: dict[str, _Sum] = {section.mark: _Sum() for section in design.spec.sections}
    for item in items:
        if item.what != "ramp":
            sums[item.section].add(item)
    return tuple(total.weight(mark) for mark, total in sums.items())


class _Rows:
    def __init__(self, design: Design, catalogue: Catalogue, rulebook: Rulebook) -> None:
        self.design, self.catalogue, self.rulebook = design, catalogue, rulebook
        lumber = catalogue.lumber
        self.depth_in = {s.mark: lumber[s.framing.stringer].width_in for s in design.spec.sections}
        self.deck_in = {s.mark: lumber[s.decking.board].thickness_in for s in design.spec.sections}
        self.turned = {s.mark: s.turned for s in design.spec.sections}

    def pieces(self) -> Iterable[WeightedItem]:
        for p in self.design.pieces:
            if p.section != "ramp":
                x, y = (p.x0_in + p.x1_in) / 2, (p.y0_in + p.y1_in) / 2
                yield WeightedItem("piece", p.section, x, y, -p.depth_in / 2, p.wet_lb, p.seasoned_lb)

    def boards(self) -> Iterable[WeightedItem]:
        for run in self.design.boards:
            if run.section != "ramp":
                yield from self._one_run(run)

    def _one_run(self, run: BoardRun) -> Iterable[WeightedItem]:
        laid_along_x = (run.direction == "across") != self.turned[run.section]
        whole = sum(end - start for start, end in run.edges_in)
        z = self.deck_in[run.section] / 2
        mid_x, mid_y = (run.x0_in + run.x1_in) / 2, (run.y0_in + run.y1_in) / 2
        for start, end in run.edges_in:
            share, middle = (end - start) / whole, (start + end) / 2
            x, y = (run.x0_in + middle, mid_y) if laid_along_x else (mid_x, run.y0_in + middle)
            yield WeightedItem("board", run.section, x, y, z, run.wet_lb * share, run.seasoned_lb * share)

    def floats(self) -> Iterable[WeightedItem]:
        for f in self.design.floats:
            under = -self.depth_in[f.section]
            z = under - f.height_in / 2
            yield WeightedItem("float", f.section, f.x_in, f.y_in, z, f.weight_lb, f.weight_lb)
            if fixings := self.rulebook.uses_lb(self.catalogue.floats[f.item].fixings):
                yield WeightedItem("hardware", f.section, f.x_in, f.y_in, under, fixings, fixings)

    def hardware(self) -> Iterable[WeightedItem]:
        for joint in self.design.joints:
            whole = self.rulebook.joint_lb(joint)
            sections = [mark for mark in joint.sections if mark != "ramp"]
            for mark in sections if whole else ():
                z = 0.0 if joint.place == "board_crossing" else -self.depth_in[mark] / 2
                half = whole / len(sections)
                yield WeightedItem("hardware", mark, joint.x_in, joint.y_in, z, half, half)

    def accessories(self) -> Iterable[WeightedItem]:
        for a in self.design.accessories:
            z = self.deck_in[a.section]
            yield WeightedItem("accessory", a.section, a.x_in, a.y_in, z, a.weight_lb, a.weight_lb)

    def ramp(self) -> Iterable[WeightedItem]:
        ramp = self.design.ramp
        if ramp is not None:
            at = ramp.dock_x_in, ramp.dock_y_in, 0.0
            yield WeightedItem("ramp", ramp.section, *at, ramp.reaction_lb, ramp.seasoned_lb / 2)


def yard_lb(wet_lb: float, seasoned_lb: float) -> int:
    """Lumber as it usually lies in the yard: midway between fresh from treatment and seasoned, to the pound.

    Usual figures are 60 lb/cu ft and more fresh, 45 to 52 from the yard, 35 to 40 seasoned. Source: COMMON_PRACTICE.

    >>> yard_lb(820, 650)
    735
    """
    return round((wet_lb + seasoned_lb) / 2)


class _Sum:
    """Adds up one section."""

    def __init__(self) -> None:
        self.wet = dict.fromkeys(("piece", "board", "hardware", "accessory", "float"), 0.0)
        self.dry = dict(self.wet)
        self.moment_x = self.moment_y = 0.0

    def add(self, item: WeightedItem) -> None:
        self.wet[item.what] += item.wet_lb
        self.dry[item.what] += item.seasoned_lb
        self.moment_x += item.wet_lb * item.x_in
        self.moment_y += item.wet_lb * item.y_in

    def weight(self, mark: str) -> Weight:
        whole = sum(self.wet.values())
        frame, deck, hardware, extras, floats = (round(pounds) for pounds in self.wet.values())
        return Weight(
            mark,
            frame,
            round(self.dry["piece"]),
            deck,
            round(self.dry["board"]),
            hardware,
            extras,
            floats,
            self.moment_x / whole,
            self.moment_y / whole,
            self._reason(mark, (frame, deck, hardware, extras, floats)),
        )

    @staticmethod
    def _reason(mark: str, pounds: tuple[int, ...]) -> Reason:
        named = ("Frame, wet", "Deck boards, wet", "Hardware and screws", "Accessories")
        steps = [Step(Sentence(text), Amount(lb, "lb")) for text, lb in zip(named, pounds, strict=False) if lb]
        steps.append(Step(Sentence("Section {0} on its floats", (mark,)), Amount(sum(pounds[:4]), "lb"), total=True))
        steps.append(Step(Sentence("Its floats"), Amount(pounds[4], "lb")))
        rule = Sentence("Lumber by the foot at its wet weight, hardware by the piece, each to the pound.")
        return Reason(rule, "GEOMETRY", tuple(steps))
