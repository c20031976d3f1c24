"""What the shop can buy and how it fits together: the catalogue as the engine sees it, and the firm's money rules."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from math import pi


@dataclass(frozen=True, slots=True)
class Price:
    """What one purchase pack (box, drum, stick, piece) costs, from whom, and of which day."""

    amount: Decimal
    currency: str
    dated: date
    supplier: str = ""
    valid_until: date | None = None
    starter: bool = False  # a starter figure, to be replaced by the firm's own


@dataclass(frozen=True, slots=True)
class Stick:
    """One stock length of a lumber or decking item and its price."""

    length_in: float
    price: Price | None = None


@dataclass(frozen=True, slots=True)
class Lumber:
    """Framing lumber or deck boards (`decking` True); true size in inches; weight per running foot."""

    code: str
    name: str
    nominal: str
    thickness_in: float
    width_in: float
    sticks: tuple[Stick, ...]
    wet_lb_per_ft: float
    seasoned_lb_per_ft: float
    weight_source: str
    species: str = ""
    treatment: str = ""
    decking: bool = False
    waste_percent: Decimal = Decimal(0)
    support_spacing_in: float | None = None  # decking: the most between supports, perpendicular
    trusted_over_in: float = 0.0  # how much longer than its name the shop trusts a stick to run


@dataclass(frozen=True, slots=True)
class FloatItem:
    """A float; `lift_is_net` says whether the rated lift already leaves out the float's own weight.

    shape: box, or cylinder for one that lies on its side: its width and its height are then both its diameter.
    """

    code: str
    name: str
    length_in: float
    width_in: float
    height_in: float
    weight_lb: float
    rated_lift_lb: float
    lift_is_net: bool
    source: str
    source_date: date | None
    price: Price | None
    fixings: tuple["Use", ...] = ()  # per float: lags, washers
    shape: str = "box"

    @property
    def round(self) -> bool:
        return self.shape == "cylinder"

    @property
    def volume_cuft(self) -> float:
        """What it pushes aside when it is under. Source: GEOMETRY."""
        return self.length_in * self.width_in * self.height_in * (pi / 4 if self.round else 1) / 1728

    @property
    def net_lift_lb(self) -> float:
        return self.rated_lift_lb if self.lift_is_net else self.rated_lift_lb - self.weight_lb


@dataclass(frozen=True, slots=True)
class Good:
    """Anything bought by the pack: plates, hinge kits, bolts, lags, screws, chain, anchors, accessories.

    kind: hardware, fastener, chain, anchor, accessory, ramp. Chain is used by the foot (`use_unit` "ft").
    """

    code: str
    name: str
    kind: str
    use_unit: str
    pack_size: Decimal
    price: Price | None
    weight_lb: float = 0.0  # per use unit
    waste_percent: Decimal = Decimal(0)
    submerged_weight_lb: float | None = None  # anchors
    width_in: float | None = None  # bought ramps and accessories, for the drawing
    length_in: float | None = None
    symbol: str = ""  # accessories: ladder, cleat, bumper, or empty
    labour_h: Decimal = Decimal(0)  # hours to fit one
    fixings: tuple["Use", ...] = ()  # per one fitted: a cleat's bolts and backer
    chain_grade: str = ""  # 30, 43, or empty
    chain_size_in: float | None = None
    working_load_lb: float | None = None  # chain: from its sheet; None: by grade and size


@dataclass(frozen=True, slots=True)
class Use:
    """So many of an item, in use units."""

    code: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class JointRule:
    """The firm's rule: which goods one joint of a kind takes.

    place: outer_corner, inner_corner, tee, cross_end, hinged_joint, rigid_joint, ramp_dock_end, ramp_shore_end,
    board_crossing, chain_retainer. `dock_over_in`/`dock_to_in` bound the overall dock length the rule applies to
    (over < length <= to). `bolts` are the shared bolts of all plates mated at the joint, counted once;
    `bolt` is the bolt's code; every bolt also takes `per_bolt`.
    """

    place: str
    name: str
    parts: tuple[Use, ...]
    bolts: int = 0
    bolt: str = ""
    per_bolt: tuple[Use, ...] = ()
    dock_over_in: float = 0.0
    dock_to_in: float = float("inf")


@dataclass(frozen=True, slots=True)
class StandingChoices:
    """What a spec that says nothing gets."""

    stringer: str
    header: str
    cross_member: str
    board: str
    float_item: str
    anchor: str
    chain: str
    ramp_stringer: str
    ramp_board: str
    gap_in: float = 0.125
    stringer_spacing_in: float = 24.0  # most, centre to centre, when the count is left open
    cross_spacing_in: float = 48.0  # most, when the spacing is left open
    anchor_offset_in: float = 120.0


@dataclass(frozen=True, slots=True)
class Catalogue:
    lumber: dict[str, Lumber]
    floats: dict[str, FloatItem]
    goods: dict[str, Good]
    joint_rules: tuple[JointRule, ...]
    standing: StandingChoices
    currency: str
    on: date  # prices are looked at as of this day
    stale_after_days: int = 60


@dataclass(frozen=True, slots=True)
class LabourRate:
    """Worker-hours for one unit of a task. stage: layout, framing, flotation, launch, decking, anchoring, handover."""

    code: str
    stage: str
    task: str
    hours_per_unit: Decimal
    unit: str  # words: section, bolt, float, sq ft, ramp, ft of ramp over 4 ft, anchor, day
    source: str = "STARTER_HOURS"


@dataclass(frozen=True, slots=True)
class LabourFactor:
    """A multiplier on hours when the site asks for it. when: island, carry_over_100_ft, water_below_50_f."""

    when: str
    name: str
    factor: Decimal


@dataclass(frozen=True, slots=True)
class TaxMode:
    """mode: shop_is_end_user, separated_materials, whole_price, end_user_and_whole_price, exempt."""

    mode: str
    sales_taxes: tuple[tuple[str, Decimal], ...] = ()  # (name, percent), each on its own line
    purchase_tax_percent: Decimal = Decimal(0)
    exemption: str = ""


@dataclass(frozen=True, slots=True)
class DepositRule:
    """kind: none, percent, lesser_of_percent_and_cap, greater_of_percent_and_special_order."""

    kind: str
    percent: Decimal = Decimal(0)
    cap: Decimal = Decimal(0)
    source: str = ""
    checked: date | None = None


@dataclass(frozen=True, slots=True)
class Instalment:
    """A payment after the deposit: its trigger in words and its share of what is left, in percent."""

    trigger: str
    percent_of_rest: Decimal


@dataclass(frozen=True, slots=True)
class OwnCase:
    """A load case of the firm's own: people, or pounds where `people` is 0. stands: spread, edge, end, point.

    `key` keeps the case through renamings: "own-1".
    """

    key: str
    name: str
    stands: str
    people: int = 0
    load_lb: float = 0.0


@dataclass(frozen=True, slots=True)
class FlotationRules:
    """What the firm floats a dock against. Starter figures are common practice, no source; none is a constant.

    `rule_sets` are ids of `flotation.criteria.RULE_SETS`; a load of 0 leaves its case out. The spread load is the
    live load of the spec. A crowd stands `crowd_inset_in` from its edge, at most one to every 2 ft of it.
    `posted_share` of the count that puts the dock under, rounded down, is the limit to post. `names` are the firm's
    words for the kinds of cases, `left_out` the kinds it does not try; the dock alone is worked out all the same.
    """

    rule_sets: tuple[str, ...] = ("firm",)
    half_psf: float = 20.0
    edge_people: int = 4
    end_people: int = 4
    crowd_inset_in: float = 12.0
    heavy_lb: float = 400.0
    heavy_inset_in: float = 12.0
    ramp_psf: float | None = None  # on the whole ramp; None: the live load of the spec
    tilt_deg: float = 10.0  # the firm's own criterion
    posted_share: str = "2/3"
    hinge_step_in: float = 0.5
    hand_lift_lb: float = 50.0  # what one person lifts
    frame_buoyancy: bool = False  # whether the sticks of the frame lift where they are wet
    names: dict[str, str] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()
    own_cases: tuple[OwnCase, ...] = ()


@dataclass(frozen=True, slots=True)
class RangeRules:
    """What the firm asks of a ramp, and of the water under the floats, over the whole range of levels.

    Slopes are 1 up in so many out: up to `comfortable` nothing is said, beyond `steep` it is steep, beyond `refuse`
    the ramp is refused. Starter figures; the rules of an accessible route are asked for ramp by ramp.
    """

    comfortable: float = 4.0
    steep: float = 3.0
    refuse: float = 2.0
    clearance_in: float = 12.0  # under the floats, loaded, at low water


@dataclass(frozen=True, slots=True)
class SawRules:
    """How the firm saws sticks: lost at each cut, and squared off the end of every new stick, its cut included."""

    kerf_in: float = 0.125
    end_trim_in: float = 0.0


@dataclass(frozen=True, slots=True)
class MooringRules:
    """What the firm holds a dock against. Starter figures are common practice, no source; none is a constant.

    `least_scope` asks for chain of at least so many times the depth at the highest level; 0 leaves it out.
    """

    waves_in: float = 12.0  # slack on top of the straight line at the highest level
    tie_off_in: float = 12.0
    least_scope: float = 0.0
    wander_in: float = 36.0  # how far a corner may wander before chains are re-set
    wind_mph: float = 45.0
    wave_wind_mph: float = 40.0
    wind_drag: float = 1.3
    current_drag: float = 1.5
    boat_profile_in: float = 42.0  # height of a moored boat that catches wind
    chain_share_percent: float = 100.0  # of the working load limit
    holding_factor: float = 1.5  # what an anchor holds over what is asked of it


@dataclass(frozen=True, slots=True)
class FirmRules:
    """The firm's money and hours rules as the engine needs them."""

    labour_rates: tuple[LabourRate, ...]
    labour_factors: tuple[LabourFactor, ...]
    wage_per_hour: Decimal
    burden_percent: Decimal
    mileage_rate: Decimal
    overhead_per_hour: Decimal | None  # one of the two is given
    overhead_percent: Decimal | None
    margin_percent: Decimal
    floor_margin_percent: Decimal
    contingency_percent: Decimal
    contingency_unknown_percent: Decimal
    rounding_step: Decimal
    tax: TaxMode
    deposit: DepositRule
    instalments: tuple[Instalment, ...]
    hours_rounding: Decimal = Decimal("0.25")
    live_load_psf: float = 30.0
    person_lb: float = 175.0
    freight: Decimal = Decimal(0)
    leftovers_to_stock: bool = False
    day_hours: Decimal = Decimal("7.5")
    travel_mph: Decimal = Decimal(40)
    density_lb_per_cuft: dict[str, float] = field(
        default_factory=lambda: {"fresh": 62.4, "brackish": 63.2, "salt": 64.0}
    )
    flotation: FlotationRules = field(default_factory=FlotationRules)
    range: RangeRules = RangeRules()
    mooring: MooringRules = MooringRules()
    saw: SawRules = SawRules()
