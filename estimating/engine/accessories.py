"""Accessories on the edges of the dock: where each goes, and what it weighs with its fixings."""

from collections.abc import Sequence
from dataclasses import replace

from .defaults import Picked
from .limits import Inspector
from .outline import edge_of
from .parts import Catalogue
from .reasons import Amount
from .result import PlacedAccessory
from .rulebook import Rulebook
from .spec import Accessory, DockSpec


def place_accessories(
    spec: DockSpec, picked: Sequence[Picked], catalogue: Catalogue, rulebook: Rulebook, inspector: Inspector
) -> tuple[tuple[PlacedAccessory, ...], tuple[Accessory, ...]]:
    """Accessories in place, and the spec's rows with their defaults filled.

    Without a section they go to the one that reaches furthest that way; several without a place spread evenly along
    the edge. Fault: a place beyond the end of the edge.
    """
    by_mark = {p.mark: p for p in picked}
    placed, filled = [], []
    for i, accessory in enumerate(spec.accessories):
        host = by_mark[accessory.section] if accessory.section else _furthest(accessory.edge, picked)
        edge, good = edge_of(host.box, accessory.edge), catalogue.goods[accessory.item]
        quantity = int(accessory.quantity)
        offset = edge.length_in / 2 if accessory.offset_in is None and quantity == 1 else accessory.offset_in
        filled.append(replace(accessory, section=host.mark, offset_in=offset))
        if offset is not None and offset > edge.length_in:
            text = "The edge is {0} long; {1} was given."
            field = f"accessories[{i}].offset_in"
            inspector.fault(field, text, Amount(edge.length_in, "in"), Amount(offset, "in"))
            continue
        spots = [(offset, quantity)]
        if offset is None:
            spots = [(edge.length_in * (k + 0.5) / quantity, 1) for k in range(quantity)]
        for along, count in spots:
            weight = rulebook.good_lb(good, count)
            at = edge.at(along)
            placed.append(PlacedAccessory(good.code, count, host.mark, *at, weight, good.symbol, accessory.edge))
    return tuple(placed), tuple(filled)


def _furthest(edge: str, picked: Sequence[Picked]) -> Picked:
    reach = {
        "shore": lambda p: -p.box.x0,
        "lake": lambda p: p.box.x1,
        "left": lambda p: p.box.y1,
        "right": lambda p: -p.box.y0,
    }[edge]
    return max(picked, key=reach)
