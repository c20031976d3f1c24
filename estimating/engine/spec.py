"""What the estimator asks for. Plan axes: x from shore to lake, y to the left of someone looking out, inches.

A section's own axes: u along its length, v across its width, from its corner of least x and y. A turned section
has u along y and v along x (a plain swap). Everything but the sizes may be left None: the design step fills it
from the catalogue's standing choices and says so.
"""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Framing:
    stringer: str | None = None  # catalogue code of a lumber item
    stringer_count: int | None = None
    header: str | None = None
    cross_member: str | None = None
    cross_spacing_in: float | None = None


@dataclass(frozen=True, slots=True)
class Decking:
    board: str | None = None  # catalogue code of a decking item
    direction: str = "across"  # across: boards run over the width; along: over the length
    gap_in: float | None = None
    overhang_in: float = 0.0


@dataclass(frozen=True, slots=True)
class FloatPlace:
    """A float put by hand: centre in the section's own axes; `turned` lays its length across the section.

    Shape, sizes, own weight and net lift (fresh water) are the item's unless given here; it still is priced as the
    item. With a shape, size or weight of its own and no lift, it lifts the water it pushes aside less its weight.
    Of a cylinder width and height are both the diameter; one of them will do.
    """

    u_in: float
    v_in: float
    turned: bool = False
    item: str | None = None
    length_in: float | None = None
    width_in: float | None = None
    height_in: float | None = None
    weight_lb: float | None = None
    lift_lb: float | None = None
    shape: str | None = None  # box, or cylinder


@dataclass(frozen=True, slots=True)
class Flotation:
    """Floats in rows (across the width) and columns (along the length), or `placed` by hand (then it alone counts)."""

    item: str | None = None
    rows: int | None = None
    columns: int | None = None
    placed: tuple[FloatPlace, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    mark: str
    length_in: float
    width_in: float
    x_in: float = 0.0
    y_in: float = 0.0
    turned: bool = False
    framing: Framing = Framing()
    decking: Decking = Decking()
    flotation: Flotation = Flotation()


@dataclass(frozen=True, slots=True)
class Joint:
    """Two sections whose edges touch; kind is hinged or rigid."""

    first: str
    second: str
    kind: str = "hinged"


@dataclass(frozen=True, slots=True)
class Ramp:
    """A hinged walkway landing on one edge (shore, lake, left, right) of a section."""

    length_in: float
    width_in: float = 48.0
    section: str | None = None  # None: the section nearest the shore
    edge: str = "shore"
    offset_in: float | None = None  # centre of the ramp along the edge from its least end; None: middle
    hinge_level_in: float | None = None  # shore hinge on the site's datum
    shore_fixing: str = ""  # words: concrete pad, fixed dock, deadman
    bought_item: str | None = None  # catalogue code of a bought ramp; None: built of lumber
    rails: bool = False
    accessible: bool = False  # whether it must be an accessible route
    slips: int | None = None  # boat slips the ramp leads to; None: unknown


@dataclass(frozen=True, slots=True)
class Anchor:
    """A deadweight with its chain. Corner of a section it holds, offset of the weight from that corner in plan."""

    mark: str
    section: str
    corner: str  # shore-left, shore-right, lake-left, lake-right (in plan)
    item: str | None = None
    chain: str | None = None
    dx_in: float | None = None
    dy_in: float | None = None
    depth_in: float | None = None  # below normal level; None: unknown
    chain_length_in: float | None = None  # None: worked out


@dataclass(frozen=True, slots=True)
class Accessory:
    item: str
    quantity: int = 1
    section: str | None = None
    edge: str = "lake"
    offset_in: float | None = None


@dataclass(frozen=True, slots=True)
class Boat:
    """A boat that lies at the dock, so many alike; weight None is unknown."""

    length_in: float
    weight_lb: float | None = None
    count: int = 1


@dataclass(frozen=True, slots=True)
class Water:
    """Levels on one datum; None is unknown, never zero."""

    kind: str = "fresh"  # fresh, brackish, salt
    datum: str = ""
    low_in: float | None = None
    normal_in: float | None = None
    high_in: float | None = None
    storm_in: float | None = None  # flood or storm


@dataclass(frozen=True, slots=True)
class DepthPoint:
    """Depth below normal level at a distance from shore."""

    label: str
    distance_in: float
    depth_in: float
    bottom: str = "unknown"


@dataclass(frozen=True, slots=True)
class Place:
    """What the site does to hours, contingency and the drawing; None is unknown."""

    water: Water = Water()
    depths: tuple[DepthPoint, ...] = ()
    bottom: str = "unknown"
    bank_height_in: float | None = None
    island: bool = False
    carry_in: float | None = None
    water_temp_f: float | None = None
    one_way_miles: float | None = None
    current_kn: float | None = None
    fetch_mi: float | None = None
    moving_ice: bool | None = None


@dataclass(frozen=True, slots=True)
class Hire:
    """Equipment by the day."""

    name: str
    days: Decimal
    rate_per_day: Decimal


@dataclass(frozen=True, slots=True)
class Allowance:
    """A named sum of money: a subcontract, a permit fee, an extra."""

    name: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Work:
    """How the job is done, as far as it costs money. None takes the firm's rule."""

    crew_size: int = 2
    trips: int | None = None
    travel_hours: Decimal | None = None
    launch_hours: Decimal | None = None
    equipment: tuple[Hire, ...] = ()
    subcontracts: tuple[Allowance, ...] = ()
    permit_fees: tuple[Allowance, ...] = ()
    contingency_percent: Decimal | None = None


@dataclass(frozen=True, slots=True)
class DockSpec:
    title: str
    sections: tuple[Section, ...]
    joints: tuple[Joint, ...] = ()
    ramp: Ramp | None = None
    anchors: tuple[Anchor, ...] = ()
    accessories: tuple[Accessory, ...] = ()
    place: Place = Place()
    work: Work = Work()
    live_load_psf: float | None = None  # None: the firm's figure
    boats: tuple[Boat, ...] = ()  # moored at it
