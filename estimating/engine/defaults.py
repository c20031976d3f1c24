"""What a spec that says nothing gets: the firm's standing choices, written into the spec."""

from dataclasses import dataclass, replace

from .gaps import better_gap_in
from .limits import Inspector
from .outline import Box, box_of
from .parts import Catalogue, FloatItem, Lumber, StandingChoices
from .reasons import Amount
from .spec import Anchor, Decking, DockSpec, FloatPlace, Flotation, Framing, Section

FRESH_LB_PER_CUFT = 62.4


@dataclass(frozen=True, slots=True)
class Picked:
    """A section with its choices made: where it lies and which catalogue items it is built of."""

    index: int
    section: Section
    box: Box
    stringer: Lumber
    header: Lumber
    cross_member: Lumber
    board: Lumber
    float_item: FloatItem
    placed_items: tuple[FloatItem, ...]  # of floats put by hand, in the spec's order

    @property
    def path(self) -> str:
        return f"sections[{self.index}]"

    @property
    def mark(self) -> str:
        return self.section.mark


def pick_sections(spec: DockSpec, catalogue: Catalogue, inspector: Inspector) -> tuple[Picked, ...]:
    """Each section with its items found in the catalogue. Raises SpecFaults for a code nobody knows."""
    picked = [_pick(i, section, catalogue, inspector) for i, section in enumerate(spec.sections)]
    inspector.stop_here()
    return tuple(p for p in picked if p is not None)


def fill_anchor(anchor: Anchor, standing: StandingChoices) -> Anchor:
    return replace(anchor, item=anchor.item or standing.anchor, chain=anchor.chain or standing.chain)


def _pick(index: int, section: Section, catalogue: Catalogue, inspector: Inspector) -> Picked | None:
    path = f"sections[{index}]"
    framing, board_code, float_code = _codes(section, catalogue.standing)
    sticks: dict[str, Lumber | None] = {}
    for role in ("stringer", "header", "cross_member"):
        code = getattr(framing, role)
        if code not in sticks:
            sticks[code] = framing_lumber(f"{path}.framing.{role}", code, catalogue, inspector)
    board = deck_board(f"{path}.decking.board", board_code, catalogue, inspector)
    known = inspector.known(f"{path}.flotation.item", float_code, catalogue.floats, "Float")
    for k, spot in enumerate(section.flotation.placed):
        if spot.item is not None:
            known &= inspector.known(f"{path}.flotation.placed[{k}].item", spot.item, catalogue.floats, "Float")
    if board is None or not known or None in sticks.values():
        return None
    members = sticks[framing.stringer], sticks[framing.header], sticks[framing.cross_member]
    filled = _fill(section, framing, board, float_code, catalogue.standing)
    placed_items = tuple(float_as_placed(spot, catalogue.floats[spot.item]) for spot in filled.flotation.placed)
    for k, item in enumerate(placed_items):
        _check_diameter(f"{path}.flotation.placed[{k}]", item, inspector)
    float_item = catalogue.floats[float_code]
    return Picked(index, filled, box_of(section), *members, board, float_item, placed_items)


def float_as_placed(spot: FloatPlace, item: FloatItem) -> FloatItem:
    """The float of this item with the sizes, weight and lift the spec gives it in its place.

    With an own size or weight and no lift it lifts its volume of fresh water less its weight. Source: ARCHIMEDES.

    >>> from estimating.engine.parts import FloatItem
    >>> usual = FloatItem("usual", "Usual", 48, 24, 16, 46, 600, True, "", None, None)
    >>> round(float_as_placed(FloatPlace(24, 12, length_in=36, weight_lb=40), usual).net_lift_lb, 1)
    459.2
    """
    given = {name: getattr(spot, name) for name in ("shape", "length_in", "width_in", "height_in", "weight_lb")}
    own = {name: value for name, value in given.items() if value is not None}
    if spot.lift_lb is None and not own:
        return item
    if own.get("shape", item.shape) == "cylinder":
        own |= {"width_in": across, "height_in": across} if (across := _only_one(spot)) else {}
    placed = replace(item, **own, lift_is_net=True)
    derived = placed.volume_cuft * FRESH_LB_PER_CUFT - placed.weight_lb
    return replace(placed, rated_lift_lb=derived if spot.lift_lb is None else spot.lift_lb)


def _only_one(spot: FloatPlace) -> float | None:
    """The diameter, where it is given once."""
    return spot.width_in if spot.height_in is None else spot.height_in if spot.width_in is None else None


def _check_diameter(path: str, item: FloatItem, inspector: Inspector) -> None:
    if item.round and item.width_in != item.height_in:
        text = "A cylinder has one diameter; here it is {0} wide and {1} high."
        inspector.fault(f"{path}.width_in", text, Amount(item.width_in, "in"), Amount(item.height_in, "in"))


def _codes(section: Section, standing: StandingChoices) -> tuple[Framing, str, str]:
    framing = section.framing
    stringer = framing.stringer or standing.stringer

    def like_the_stringer(standing_code: str) -> str:
        return stringer if standing_code == standing.stringer else standing_code

    framing = replace(
        framing,
        stringer=stringer,
        header=framing.header or like_the_stringer(standing.header),
        cross_member=framing.cross_member or like_the_stringer(standing.cross_member),
    )
    return framing, section.decking.board or standing.board, section.flotation.item or standing.float_item


def _fill(section: Section, framing: Framing, board: Lumber, float_code: str, standing: StandingChoices) -> Section:
    gap = _usual_gap_in(section, board, standing) if section.decking.gap_in is None else section.decking.gap_in
    decking: Decking = replace(section.decking, board=board.code, gap_in=gap)
    counts = {
        "rows": section.flotation.rows and int(section.flotation.rows),
        "columns": section.flotation.columns and int(section.flotation.columns),
    }
    framing = replace(framing, stringer_count=framing.stringer_count and int(framing.stringer_count))
    placed = tuple(replace(spot, item=spot.item or float_code) for spot in section.flotation.placed)
    flotation: Flotation = replace(section.flotation, item=float_code, placed=placed, **counts)
    if framing.cross_spacing_in is None:
        limit = board.support_spacing_in if decking.direction == "along" else None
        framing = replace(framing, cross_spacing_in=min(standing.cross_spacing_in, limit or float("inf")))
    return replace(section, framing=framing, decking=decking, flotation=flotation)


def _usual_gap_in(section: Section, board: Lumber, standing: StandingChoices) -> float:
    """The firm's gap, or the one nearest to it that leaves no narrow rip at the end."""
    run = section.length_in if section.decking.direction == "across" else section.width_in
    return better_gap_in(run_in=run, board_in=board.width_in, gap_in=standing.gap_in) or standing.gap_in


def framing_lumber(path: str, code: str, catalogue: Catalogue, inspector: Inspector) -> Lumber | None:
    """The framing lumber of this code, or None with the fault noted."""
    return _lumber(path, code, catalogue, inspector, decking=False)


def deck_board(path: str, code: str, catalogue: Catalogue, inspector: Inspector) -> Lumber | None:
    """The deck board of this code, or None with the fault noted."""
    return _lumber(path, code, catalogue, inspector, decking=True)


def _lumber(path: str, code: str, catalogue: Catalogue, inspector: Inspector, *, decking: bool) -> Lumber | None:
    if not inspector.known(path, code, catalogue.lumber, "Deck board" if decking else "Lumber"):
        return None
    lumber = catalogue.lumber[code]
    if lumber.decking != decking:
        text = "{0} is framing lumber. Pick a deck board." if decking else "{0} is a deck board. Pick framing lumber."
        inspector.fault(path, text, lumber.name)
    elif not lumber.sticks:
        inspector.fault(path, "{0} has no stock length in the catalogue.", lumber.name)
    else:
        return lumber
    return None


def longest_stick_in(lumber: Lumber) -> float:
    return max(stick.length_in for stick in lumber.sticks)


def check_stock(field: str, what: str, length_in: float, lumber: Lumber, inspector: Inspector) -> None:
    """A piece cannot be longer than the longest stick it could be cut from."""
    longest = longest_stick_in(lumber)
    if length_in > longest + 1e-6:
        text = "{0} are {1} long; the longest {2} in the catalogue is {3}."
        inspector.fault(field, text, what, Amount(length_in, "in"), lumber.name, Amount(longest, "in"))
