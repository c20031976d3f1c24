"""What the engine answers: the design, the takeoff, the hours, the price, each figure with its reason."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from math import pi
from typing import NamedTuple

from .frame_result import FrameProof
from .mooring_result import MooringProof
from .proof import FloatProof
from .reasons import Finding, Reason
from .spec import DockSpec


@dataclass(frozen=True, slots=True)
class Piece:
    """One stick in the frame, as a rectangle in plan (x0<x1, y0<y1), top of frame at z 0 downwards."""

    mark: str
    section: str  # or "ramp"
    role: str  # rim, inner stringer, header, cross member, ramp stringer, ramp cross member
    item: str
    length_in: float  # exact cut length
    x0_in: float
    y0_in: float
    x1_in: float
    y1_in: float
    depth_in: float  # width of the lumber, standing on edge
    wet_lb: float
    seasoned_lb: float


@dataclass(frozen=True, slots=True)
class BoardRun:
    """The boards of one section or of the ramp: all alike but the last, which may be ripped."""

    section: str
    item: str
    count: int
    length_in: float
    gap_in: float
    overhang_in: float
    direction: str
    last_width_in: float
    supports_crossed: int  # crossings each board makes
    support_spacing_in: float
    edges_in: tuple[tuple[float, float], ...]  # (from, to) of each board along the laying direction, section axes
    x0_in: float
    y0_in: float
    x1_in: float
    y1_in: float
    wet_lb: float
    seasoned_lb: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class PlacedFloat:
    section: str
    item: str
    x_in: float  # centre, plan
    y_in: float
    size_x_in: float
    size_y_in: float
    height_in: float
    weight_lb: float
    net_lift_lb: float
    round_along: str = ""  # of a cylinder the axis of the plan it lies along, x or y

    @property
    def volume_cuft(self) -> float:
        box = self.size_x_in * self.size_y_in * self.height_in / 1728
        return box * pi / 4 if self.round_along else box


@dataclass(frozen=True, slots=True)
class JointPoint:
    """One joint with its rule: where it is, what it takes, how many shared bolts."""

    mark: str
    place: str  # as JointRule.place
    sections: tuple[str, ...]
    x_in: float
    y_in: float
    rule: str  # JointRule.name
    parts: tuple[tuple[str, Decimal], ...]
    bolts: int
    bolt: str


@dataclass(frozen=True, slots=True)
class SharedEdge:
    """Where two sections meet: the common edge in plan."""

    first: str
    second: str
    kind: str
    x0_in: float
    y0_in: float
    x1_in: float
    y1_in: float


@dataclass(frozen=True, slots=True)
class PlacedAnchor:
    mark: str
    section: str
    item: str
    chain: str
    corner_x_in: float
    corner_y_in: float
    x_in: float
    y_in: float
    depth_in: float | None
    chain_length_in: float
    reason: Reason
    counted_depth_in: float = 0.0  # below normal level: depth_in, or what is taken where that is unknown


@dataclass(frozen=True, slots=True)
class PlacedAccessory:
    item: str
    quantity: int
    section: str
    x_in: float
    y_in: float
    weight_lb: float
    symbol: str
    edge: str


@dataclass(frozen=True, slots=True)
class RampDesign:
    length_in: float
    width_in: float
    section: str
    edge: str
    dock_x_in: float  # middle of the hinge line on the dock
    dock_y_in: float
    shore_x_in: float
    shore_y_in: float
    wet_lb: float
    seasoned_lb: float
    bought_item: str | None
    reaction_lb: float  # half its wet weight on the float
    reason: Reason


@dataclass(frozen=True, slots=True)
class Weight:
    """Weight of one section with all it carries, and where it acts in plan."""

    section: str
    frame_wet_lb: float
    frame_seasoned_lb: float
    deck_wet_lb: float
    deck_seasoned_lb: float
    hardware_lb: float
    accessories_lb: float
    floats_lb: float
    x_in: float
    y_in: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class LevelFloat:
    """The level case: a section or rigid group sinking evenly, no heel, no trim. The full equilibrium is elsewhere."""

    sections: tuple[str, ...]
    float_count: int
    dead_wet_lb: float
    dead_seasoned_lb: float
    live_lb: float
    net_lift_lb: float
    spare_lift_lb: float  # after dead wet and live
    draft_wet_in: float
    draft_seasoned_in: float
    draft_live_in: float
    freeboard_wet_in: float
    freeboard_seasoned_in: float
    freeboard_live_in: float
    awash_psf: float  # spread load that puts float tops under
    awash_people: int
    reason: Reason


class WeightedItem(NamedTuple):
    """One thing with its weight, pounds, and its middle, inches; z is up from the top of the frame."""

    what: str  # piece, board, float, hardware, accessory, ramp
    section: str
    x_in: float
    y_in: float
    z_in: float
    wet_lb: float
    seasoned_lb: float


@dataclass(frozen=True, slots=True)
class Design:
    spec: DockSpec  # with every default filled in
    pieces: tuple[Piece, ...]
    boards: tuple[BoardRun, ...]
    floats: tuple[PlacedFloat, ...]
    joints: tuple[JointPoint, ...]
    edges: tuple[SharedEdge, ...]
    ramp: RampDesign | None
    anchors: tuple[PlacedAnchor, ...]
    accessories: tuple[PlacedAccessory, ...]
    weights: tuple[Weight, ...]
    level: tuple[LevelFloat, ...]
    deck_area_sqft: float
    overall_length_in: float
    overall_width_in: float
    bolt_count: int  # the dock's own, without the ramp
    ramp_bolt_count: int
    bolt_reason: Reason
    ramp_bolt_reason: Reason
    findings: tuple[Finding, ...]
    weighed: tuple[WeightedItem, ...] = field(default=(), repr=False)  # all that the sections carry


@dataclass(frozen=True, slots=True)
class StickCut:
    """One bought stick and the pieces sawn from it, in cutting order."""

    stock_length_in: float
    cuts: tuple[tuple[str, float], ...]  # (piece mark, length)
    left_in: float


@dataclass(frozen=True, slots=True)
class TakeoffLine:
    code: str
    name: str
    group: str  # framing lumber, decking, floats, hardware, fasteners, anchors and chain, accessories, ramp
    stage: str
    net: Decimal
    unit: str
    waste_percent: Decimal
    with_waste: Decimal
    pack: str  # words: "16 ft stick", "box of 25"
    packs: Decimal
    bought: Decimal  # in use units
    left_over: Decimal
    unit_cost: Decimal  # per pack
    cost: Decimal  # packs x unit_cost, to the cent
    price_dated: str
    price_supplier: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class Takeoff:
    lines: tuple[TakeoffLine, ...]
    sticks: tuple[tuple[str, StickCut], ...]  # (item code, stick)
    materials_cost: Decimal
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class LabourLine:
    stage: str
    task: str
    quantity: Decimal
    unit: str
    hours_per_unit: Decimal
    factor: Decimal
    hours: Decimal
    reason: Reason


@dataclass(frozen=True, slots=True)
class Labour:
    lines: tuple[LabourLine, ...]
    stage_hours: tuple[tuple[str, Decimal], ...]
    net_hours: Decimal
    hours: Decimal  # as priced, rounded up by the firm's rule
    travel_hours: Decimal
    reason: Reason


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of the build-up in its fixed order; kind: cost, sum, or total."""

    code: str
    name: str
    how: str
    amount: Decimal
    kind: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class Payment:
    trigger: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class PriceBuildUp:
    lines: tuple[PriceLine, ...]
    direct: Decimal
    break_even: Decimal
    before_rounding: Decimal
    rounding: Decimal
    price: Decimal  # before sales tax
    sales_taxes: tuple[tuple[str, Decimal, Decimal, Decimal], ...]  # name, percent, taxable, tax
    total: Decimal  # what the customer pays
    profit: Decimal
    margin_percent: Decimal  # on price
    markup_percent: Decimal  # on break-even
    floor_price: Decimal
    add_percent_slip: Decimal  # what adding the margin percent to break-even would give
    payments: tuple[Payment, ...]
    currency: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Estimate:
    """Everything one spec leads to. `afloat`, `frame` and `mooring` are None where only the price was asked for.

    What the frame and mooring proofs and the engineer's limits find is preliminary: a Stop of theirs is told as a
    Check here, and stands as a Stop in the proof itself. Both proofs are worked out when they are first asked for.
    """

    design: Design
    takeoff: Takeoff
    labour: Labour
    price: PriceBuildUp
    afloat: FloatProof | None = None
    engineer: tuple[Finding, ...] = ()
    prove_frame: Callable[[], FrameProof] | None = field(default=None, compare=False, repr=False)
    moor: Callable[[], MooringProof] | None = field(default=None, compare=False, repr=False)

    @cached_property
    def frame(self) -> FrameProof | None:
        return self.prove_frame() if self.prove_frame is not None else None

    @cached_property
    def mooring(self) -> MooringProof | None:
        return self.moor() if self.moor is not None else None

    @property
    def findings(self) -> tuple[Finding, ...]:
        proved = (self.frame.findings if self.frame else ()) + self.engineer
        proved += self.mooring.findings if self.mooring else ()
        preliminary = tuple(replace(found, level="check") if found.level == "stop" else found for found in proved)
        return self.design.findings + self.takeoff.findings + self.price.findings + preliminary
