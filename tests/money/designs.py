"""Small designs put together by hand, so that money is tested on counts a reader can see, not on the design step."""

from dataclasses import replace
from decimal import Decimal

from estimating.engine.reasons import Reason, Sentence
from estimating.engine.result import (
    BoardRun,
    Design,
    JointPoint,
    Labour,
    Piece,
    PlacedAccessory,
    PlacedAnchor,
    PlacedFloat,
    Takeoff,
    Weight,
)
from estimating.engine.spec import DockSpec, Place, Section, Water, Work

WHY = Reason(Sentence("By hand."), "GEOMETRY")


def spec(*, place: Place | None = None, work: Work | None = None) -> DockSpec:
    place = place or Place(water=Water(), bottom="sand", one_way_miles=0)
    return DockSpec("By hand", (Section("A", 192.0, 72.0),), place=place, work=work or Work())


def bare_design(dock: DockSpec | None = None) -> Design:
    """A design with nothing in it to buy."""
    return Design(
        spec=dock or spec(),
        pieces=(),
        boards=(),
        floats=(),
        joints=(),
        edges=(),
        ramp=None,
        anchors=(),
        accessories=(),
        weights=(),
        level=(),
        deck_area_sqft=0.0,
        overall_length_in=192.0,
        overall_width_in=72.0,
        bolt_count=0,
        ramp_bolt_count=0,
        bolt_reason=WHY,
        ramp_bolt_reason=WHY,
        findings=(),
    )


def piece(length_in: float, item: str = "2x8", role: str = "rim") -> Piece:
    return Piece("A", "A", role, item, length_in, 0, 0, length_in, 1.5, 7.25, 1.0, 1.0)


def boards(count: int, length_in: float, item: str = "deck-2x6") -> BoardRun:
    return BoardRun(
        section="A",
        item=item,
        count=count,
        length_in=length_in,
        gap_in=0.125,
        overhang_in=0.0,
        direction="across",
        last_width_in=5.5,
        supports_crossed=4,
        support_spacing_in=23.5,
        edges_in=(),
        x0_in=0,
        y0_in=0,
        x1_in=192,
        y1_in=72,
        wet_lb=1.0,
        seasoned_lb=1.0,
        reason=WHY,
    )


def joints(place: str, count: int, rule: str, parts: tuple[tuple[str, int], ...], bolts: int = 0) -> list[JointPoint]:
    uses = tuple((code, Decimal(quantity)) for code, quantity in parts)
    return [JointPoint(f"A{n}", place, ("A",), 0, 0, rule, uses, bolts, "bolt-2-1/2") for n in range(count)]


def floats(count: int, item: str = "float-24x48x16") -> tuple[PlacedFloat, ...]:
    return tuple(PlacedFloat("A", item, 24.0 * n, 24.0, 24.0, 48.0, 16.0, 46.0, 600.0) for n in range(count))


def anchors(count: int, chain_in: float = 240.0) -> tuple[PlacedAnchor, ...]:
    return tuple(
        PlacedAnchor(f"W{n}", "A", "anchor-350", "chain-5/16", 0, 0, 60, 60, 96.0, chain_in, WHY) for n in range(count)
    )


def accessories(item: str, quantity: int) -> tuple[PlacedAccessory, ...]:
    return (PlacedAccessory(item, quantity, "A", 0, 0, 1.0, "", "lake"),)


def weight(frame_lb: float) -> Weight:
    return Weight("A", frame_lb, frame_lb, 0, 0, 0, 0, 0, 96, 36, WHY)


def hours(amount: str, travel: str = "0") -> Labour:
    return Labour((), (), Decimal(amount), Decimal(amount), Decimal(travel), WHY)


def materials(amount: str) -> Takeoff:
    return Takeoff((), (), Decimal(amount), ())


def with_parts(design: Design | None = None, **parts: object) -> Design:
    return replace(design or bare_design(), **parts)
