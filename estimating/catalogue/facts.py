"""Which facts an item of each kind has: one line a fact, read by the forms, the item page, the log and the file."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from .models import Kind, LiftBasis, YesNoUnknown
from .models.items import ChainGrade, FloatShape
from .values import (
    Choice,
    Day,
    Exact,
    Length,
    Number,
    Text,
    Value,
    Weight,
    WeightPerFoot,
    Whole,
)

SYMBOLS = (("", "not drawn"), ("ladder", "ladder"), ("cleat", "cleat"), ("bumper", "bumper"))
SIZE_IN = Length("in", most_in=1200)


@dataclass(frozen=True)
class Fact:
    """A column of Item: its words on the page, its heading in the file, what it may hold and what empty means."""

    key: str
    label: str
    value: Value
    column: str = ""
    hint: str = ""
    empty: Any = None

    @property
    def heading(self) -> str:
        return self.column or self.label.lower()


_ALL = (
    Fact("name", "Name", Text(120), empty=""),
    Fact("nominal", "Name size", Text(20), hint="As the yard says it: 2x8, 5/4x6", empty=""),
    Fact("thickness_in", "True thickness", Length("in", most_in=24), "thickness in", "Dressed size: 1.5 for a 2x8"),
    Fact("width_in", "Width", SIZE_IN, "width in"),
    Fact("length_in", "Length", SIZE_IN, "length in"),
    Fact("height_in", "Height", SIZE_IN, "height in"),
    Fact(
        "shape",
        "Shape",
        Choice(tuple(FloatShape.choices)),
        hint="Of a cylinder, width and height are both the diameter",
        empty="box",
    ),
    Fact("species", "Species", Text(80), empty=""),
    Fact("treatment", "Treatment class", Text(80), hint="Ground contact for framing in fresh water", empty=""),
    Fact("specific_gravity", "Specific gravity", Number(0.05, 1.2), hint="From the species: southern pine 0.55"),
    Fact("wet_lb_per_ft", "Weight wet", WeightPerFoot(), "weight wet lb/ft", "Fresh from treatment"),
    Fact(
        "wet_moisture_percent",
        "Moisture wet",
        Number(0, 30, "%"),
        "moisture wet %",
        "30 % at most: weigh wetter sticks",
    ),
    Fact("seasoned_lb_per_ft", "Weight seasoned", WeightPerFoot(), "weight seasoned lb/ft", "After a summer or two"),
    Fact("seasoned_moisture_percent", "Moisture seasoned", Number(0, 30, "%"), "moisture seasoned %"),
    Fact("weight_source", "Where the weight comes from", Text(200), "weight source", "Weighed, or whose table", ""),
    Fact(
        "over_length_in",
        "Sticks run long by",
        Length("in", most_in=12, zero=True),
        "over length in",
        "Only what the shop trusts: 1/4 to 1/2 in is usual",
    ),
    Fact(
        "support_spacing_in",
        "Most between supports",
        Length("in", most_in=96),
        "support spacing in",
        "Boards square to the supports",
    ),
    Fact("rated_lift_lb", "Rated lift", Weight(zero=False), "rated lift lb", "From the maker’s sheet"),
    Fact("lift_basis", "The rated lift is", Choice(tuple(LiftBasis.choices)), "lift is", empty=""),
    Fact("source", "Source of the lift", Text(200), hint="Which sheet says so", empty=""),
    Fact("source_date", "Date of that source", Day(), "source date"),
    Fact("flange_holes", "Flange holes", Whole(0, 200)),
    Fact("fuel_safe", "Safe with fuel", Choice(tuple(YesNoUnknown.choices)), empty=""),
    Fact("finish", "Finish", Text(60), hint="Hot-dip galvanized, stainless", empty=""),
    Fact("holes", "Holes", Whole(0, 200)),
    Fact("weight_lb", "Weight", Weight(), "weight lb", "Of one, dry"),
    Fact("submerged_weight_lb", "Weight under water", Weight(), "weight under water lb", "Concrete keeps about 58 %"),
    Fact("chain_grade", "Grade", Choice(tuple(ChainGrade.choices)), empty=""),
    Fact(
        "chain_size_in", "Size of the chain", Length("in", most_in=4), "chain size in", "Thickness of the link: 5/16 in"
    ),
    Fact(
        "working_load_lb",
        "Working load limit",
        Weight(zero=False),
        "working load lb",
        "From its sheet; left open it goes by grade and size",
    ),
    Fact("symbol", "Drawn as", Choice(SYMBOLS), empty=""),
    Fact("use_unit", "Counted in", Text(20), "use unit", "each, ft, pair", empty="each"),
    Fact(
        "pack_size",
        "Pack holds",
        Exact(3, Decimal("0.001"), Decimal(100_000)),
        "pack size",
        "How many of those in a box, drum or bag",
        Decimal(1),
    ),
    Fact("waste_percent", "Waste", Exact(2, Decimal(0), Decimal("99.99"), "%"), "waste %", empty=Decimal(0)),
    Fact("labour_h", "Hours to fit one", Exact(3, Decimal(0), Decimal(200), "h"), "hours to fit", empty=Decimal(0)),
    Fact("shelf", "Shelf", Text(40), empty=""),
    Fact("minimum_on_hand", "Keep at least", Exact(2), "minimum on hand"),
    Fact("lead_days", "Usual lead", Whole(0, 1000), "lead days", "Working days"),
    Fact("notes", "Notes", Text(2000, lines=True), empty=""),
)
FACTS: dict[str, Fact] = {fact.key: fact for fact in _ALL}

_WOOD = (
    "nominal thickness_in width_in species treatment specific_gravity wet_lb_per_ft wet_moisture_percent "
    "seasoned_lb_per_ft seasoned_moisture_percent weight_source over_length_in waste_percent"
)
_GOODS = "use_unit pack_size weight_lb waste_percent labour_h length_in width_in"
_KEPT = "shelf minimum_on_hand lead_days notes"
_KEYS: dict[str, str] = {
    Kind.LUMBER: f"name {_WOOD} {_KEPT}",
    Kind.DECKING: f"name {_WOOD} support_spacing_in {_KEPT}",
    Kind.FLOAT: "name shape length_in width_in height_in weight_lb rated_lift_lb lift_basis source source_date "
    f"flange_holes fuel_safe {_KEPT}",
    Kind.HARDWARE: f"name finish holes {_GOODS} {_KEPT}",
    Kind.FASTENER: f"name finish {_GOODS} {_KEPT}",
    Kind.CHAIN: f"name finish chain_grade chain_size_in working_load_lb {_GOODS} {_KEPT}",
    Kind.ANCHOR: f"name {_GOODS} submerged_weight_lb {_KEPT}",
    Kind.ACCESSORY: f"name finish symbol {_GOODS} {_KEPT}",
    Kind.RAMP: f"name finish {_GOODS} {_KEPT}",
}
_NEEDED: dict[str, str] = {
    Kind.LUMBER: "name nominal thickness_in width_in",
    Kind.DECKING: "name nominal thickness_in width_in",
    Kind.FLOAT: "name length_in width_in height_in weight_lb rated_lift_lb lift_basis source",
    Kind.RAMP: "name length_in width_in weight_lb",
}
_LABELS: dict[tuple[str, str], str] = {
    (Kind.LUMBER, "width_in"): "True width",
    (Kind.DECKING, "width_in"): "True width",
    (Kind.FLOAT, "weight_lb"): "Own weight",
    (Kind.CHAIN, "weight_lb"): "Weight of one unit",
}


def facts_of(kind: str) -> tuple[Fact, ...]:
    """The facts an item of this kind has, in the order of its form."""
    return tuple(FACTS[key] for key in _KEYS[kind].split())


def needed_of(kind: str) -> frozenset[str]:
    """The facts an item of this kind can’t do without."""
    return frozenset(_NEEDED.get(kind, "name use_unit pack_size").split())


def label_of(kind: str, key: str) -> str:
    return _LABELS.get((kind, key), FACTS[key].label)


def faults_in(kind: str, facts: dict[str, Any]) -> dict[str, str]:
    """What is wrong with an item’s facts, by fact: what is missing, and what does not go together."""
    faults = {key: f"Needed for {Kind(kind).label.lower()}." for key in needed_of(kind) if facts.get(key) in (None, "")}
    if kind in (Kind.LUMBER, Kind.DECKING):
        faults |= _lumber_weight_faults(facts)
    under, dry = facts.get("submerged_weight_lb"), facts.get("weight_lb")
    if under is not None and dry is not None and under > dry:
        faults["submerged_weight_lb"] = "Nothing weighs more under water than dry."
    if facts.get("shape") == FloatShape.CYLINDER and facts.get("width_in") != facts.get("height_in"):
        faults["height_in"] = "Of a cylinder, width and height are both the diameter: type it twice."
    return faults


def _lumber_weight_faults(facts: dict[str, Any]) -> dict[str, str]:
    faults = {}
    for state in ("wet", "seasoned"):
        if facts.get(f"{state}_lb_per_ft") is not None:
            continue
        if facts.get("specific_gravity") is None or facts.get(f"{state}_moisture_percent") is None:
            faults[f"{state}_lb_per_ft"] = (
                f"Type the weight {state}, or give the specific gravity and the moisture {state} to work it out."
            )
    wet, seasoned = facts.get("wet_lb_per_ft"), facts.get("seasoned_lb_per_ft")
    if wet is not None and seasoned is not None and seasoned > wet:
        faults["seasoned_lb_per_ft"] = "Seasoned lumber is not heavier than wet. Look at both weights."
    return faults
