"""The made-up firm's people, places and docks. Every name and figure here is invented."""

from dataclasses import dataclass, field, replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

from estimating.engine.spec import (
    Accessory,
    Allowance,
    Anchor,
    Decking,
    DockSpec,
    Flotation,
    Framing,
    Hire,
    Joint,
    Ramp,
    Section,
    Work,
)

FIRM = {"name": "Alder Point Docks", "units": "imperial", "currency": "USD"}
FIRM_FACTS = {
    "address": "14 Ropewalk Lane\nAlder Point",
    "phone": "555 0114",
    "email": "office@alderpoint.example",
    "registration_line": "Registration AP-20417",
    "insurance_line": "Insured; certificate on request",
    "purchase_tax_percent": Decimal("6"),
    "burden_percent": Decimal("38"),
    "margin_percent": Decimal("12"),
    "price_step": 10,
    "deposit_rule": "lesser",
    "deposit_percent": Decimal("30"),
    "deposit_cap": Decimal("2500"),
    "deposit_source": "An example; check the rule of your state or province.",
    "warranty": "Warranty: two years on frame and work, from the signed hand-over.",
    "cancellation_notice": "You may cancel, without giving a reason, until midnight of the third business day after "
    "you sign. Two copies of the cancellation form come with this quote.",
}
PASSWORD = "made-up-dock"  # printed on purpose: these accounts exist in the demo only
OWNER = {"login": "merrin", "name": "Merrin Oake", "email": "merrin@alderpoint.example"}
PEOPLE = (
    {"login": "dov", "name": "Dov Tarrant", "role": "office", "phone": "555 0115"},
    {"login": "sunniva", "name": "Sunniva Pell", "role": "crew_lead", "phone": "555 0116"},
    {"login": "bram", "name": "Bram Loxley", "role": "crew", "phone": "555 0117"},
)
SUPPLIERS = (
    {"name": "Two Rivers Lumber", "phone": "555 0150", "lead_days": 4},
    {"name": "Fernleigh Float Supply", "phone": "555 0151", "lead_days": 28},
    {"name": "Corriden Galvanizing", "phone": "555 0152", "lead_days": 14},
)
SUPPLIER_OF_KIND = {"lumber": 0, "decking": 0, "float": 1}


@dataclass(frozen=True, slots=True)
class DemoJob:
    """One job of the demo: who, where, what, and how far it has come. Days are counted back from today."""

    client: dict[str, Any]
    site: dict[str, Any]
    facts: dict[str, Any]
    called: int
    levels: dict[str, Any] = field(default_factory=dict)
    depths: tuple[dict[str, Any], ...] = ()
    spec: DockSpec | None = None
    state: str = "enquiry"  # enquiry, visit, spec, draft, sent, run out, accepted, refused
    permit: dict[str, Any] | None = None
    options: tuple[dict[str, Any], ...] = ()
    calls: tuple[str, ...] = ()


ANCHORS = (Anchor("1", "A", "shore-left"), Anchor("2", "A", "lake-right"))
BOAT = Hire("workboat", Decimal(2), Decimal(120))
PERMIT_FEE = Allowance("Town permit", Decimal(125))

STRAIGHT = DockSpec(
    live_load_psf=20.0,
    title="6 × 16 dock with a ramp",
    sections=(Section("A", 192.0, 72.0, framing=Framing(stringer_count=4), flotation=Flotation(rows=2, columns=4)),),
    ramp=Ramp(144.0, shore_fixing="concrete pad"),
    anchors=ANCHORS,
    accessories=(Accessory("ladder", 1, "A", "right", 144.0), Accessory("cleat", 4, "A", "left")),
    work=Work(equipment=(BOAT,), permit_fees=(PERMIT_FEE,)),
)
L_SHAPE = DockSpec(
    title="L: a 24 ft walk and a 16 ft leg",
    sections=(
        Section("A", 144.0, 72.0),
        Section("B", 144.0, 72.0, x_in=144.0),
        Section("C", 192.0, 96.0, x_in=288.0, y_in=-120.0, turned=True),
    ),
    joints=(Joint("A", "B"), Joint("B", "C", "rigid")),
    ramp=Ramp(192.0, shore_fixing="stone wall"),
    anchors=(Anchor("1", "A", "shore-left"), Anchor("2", "C", "lake-left"), Anchor("3", "C", "lake-right")),
    accessories=(Accessory("ladder", 1, "C"), Accessory("cleat", 6, "C")),
    work=Work(equipment=(replace(BOAT, days=Decimal(3)),), permit_fees=(PERMIT_FEE,), crew_size=3),
)
SWIM = DockSpec(
    title="8 × 10 swim platform",
    sections=(Section("A", 120.0, 96.0, x_in=1200.0),),
    anchors=(*ANCHORS, Anchor("3", "A", "shore-right"), Anchor("4", "A", "lake-left")),
    accessories=(Accessory("ladder", 1, "A"),),
    work=Work(equipment=(BOAT,)),
)
LONG_RUN = DockSpec(
    live_load_psf=20.0,
    title="5 × 40 run in three sections",
    sections=tuple(
        Section(mark, 160.0, 60.0, x_in=160.0 * n, decking=Decking(direction="across"))
        for n, mark in enumerate(("A", "B", "C"))
    ),
    joints=(Joint("A", "B"), Joint("B", "C")),
    ramp=Ramp(240.0, shore_fixing="timber deadman"),
    anchors=(Anchor("1", "A", "shore-left"), Anchor("2", "C", "lake-left"), Anchor("3", "C", "lake-right")),
    work=Work(equipment=(BOAT,), permit_fees=(Allowance("Power company permit", Decimal(250)),)),
)
CAUSEWAY = {"datum": "causeway staff", "low_in": 18.0, "normal_in": 42.0, "high_in": 54.0, "storm_in": 72.0}
DEPTHS = (
    {"label": "ramp end", "distance_in": 144.0, "depth_in": 50.4, "bottom": "gravel"},
    {"label": "lake end", "distance_in": 336.0, "depth_in": 72.0, "bottom": "gravel"},
)
RESERVOIR = {"datum": "full pool 412 ft", "low_in": -240.0, "normal_in": -24.0, "high_in": 0.0}

DEMO_JOBS = (
    DemoJob(
        client={
            "names": "Ilse Quarrington\nTom Quarrington",
            "phones": "555 0142",
            "email": "ilse@quarrington.example",
        },
        site={
            "water_body": "Long Quillet Lake",
            "water_kind": "lake",
            "name": "22 Heron Spit Road",
            "miles_from_yard": 23.0,
            "steps": 14,
            "gate_width_in": 48.0,
            "carry_in": 1680.0,
            "overhead_wires": False,
            "hinge_level_in": 79.2,
            "salt": "fresh",
            "bottom": "gravel",
            "fetch_miles": 0.6,
            "fetch_direction": "south-west",
            "wake": "low",
        },
        facts={
            "their_words": "Somewhere to swim and tie the runabout. The grandchildren run, so not tippy.",
            "rough_size": "6 x 16",
            "boats": "one 18 ft runabout",
        },
        called=30,
        levels=CAUSEWAY,
        depths=DEPTHS,
        spec=STRAIGHT,
        state="accepted",
        permit={"authority": "Town of Corriveau Landing", "applied": 6, "expected": -12, "most_width_in": 72.0},
        options=(
            {"name": "Take the old dock away", "kind": "sum", "typed_amount": Decimal(380)},
            {"name": "Boards that do not splinter", "kind": "swap", "to": "composite"},
        ),
        calls=("Wants it before the long weekend.", "Asked whether the ladder can go on the left."),
    ),
    DemoJob(
        client={"names": "Amadi Okafor", "phones": "555 0177"},
        site={
            "water_body": "Sable Reservoir",
            "water_kind": "reservoir",
            "name": "Cove 9, lot 31",
            "miles_from_yard": 41.0,
            "hinge_level_in": 36.0,
            "salt": "fresh",
            "setback_left_in": 300.0,
        },
        facts={"their_words": "The lake drops twenty feet in the autumn.", "rough_size": "5 x 40"},
        called=21,
        levels=RESERVOIR,
        spec=LONG_RUN,
        state="spec",
        calls=("Power company owns the bed; their drawing rules are in the mail.",),
    ),
    DemoJob(
        client={"names": "Petra Vanterpool\nHugh Vanterpool", "email": "petra@vanterpool.example"},
        site={
            "water_body": "Long Quillet Lake",
            "water_kind": "lake",
            "name": "8 Causeway Road",
            "miles_from_yard": 21.0,
            "hinge_level_in": 84.0,
            "salt": "fresh",
            "bottom": "mud",
        },
        facts={"their_words": "An L so two boats lie quiet.", "rough_size": "6 x 24 and a leg", "boats": "two, 20 ft"},
        called=18,
        levels=CAUSEWAY,
        depths=DEPTHS,
        spec=L_SHAPE,
        state="sent",
        options=({"name": "Bumper strip along the right side", "kind": "sum", "typed_amount": Decimal(245)},),
    ),
    DemoJob(
        client={"names": "Camp Brightwater", "company_name": "Camp Brightwater", "phones": "555 0199"},
        site={"water_body": "Little Marrow Lake", "water_kind": "lake", "name": "Camp shore", "miles_from_yard": 35.0},
        facts={"their_words": "A raft for the swimmers, away from the beach.", "rough_size": "8 x 10"},
        called=9,
        levels={"datum": "mark on the boathouse", "low_in": 6.0, "normal_in": 18.0, "high_in": 30.0},
        spec=SWIM,
        state="draft",
    ),
    DemoJob(
        client={"names": "Rosalind Achterberg", "phones": "555 0123"},
        site={"water_body": "Tamsin River", "water_kind": "river", "name": "Mill bend"},
        facts={"their_words": "Something for the canoe.", "rough_size": "4 x 12"},
        called=2,
        calls=("Call back after six.",),
    ),
    DemoJob(
        client={"names": "Nils Haverbrook", "phones": "555 0161"},
        site={"water_body": "Long Quillet Lake", "water_kind": "lake", "name": "3 Heron Spit Road"},
        facts={"their_words": "Same as the neighbours, a bit wider.", "promised": "a visit this week"},
        called=4,
        state="visit",
    ),
    DemoJob(
        client={"names": "Odalys Brandt", "phones": "555 0188"},
        site={
            "water_body": "Little Marrow Lake",
            "water_kind": "lake",
            "name": "17 Pine Neck",
            "miles_from_yard": 33.0,
            "hinge_level_in": 60.0,
        },
        facts={"their_words": "Cheapest that will last."},
        called=60,
        levels={"datum": "mark on the boathouse", "low_in": 6.0, "normal_in": 18.0, "high_in": 30.0},
        spec=replace(STRAIGHT, title="6 × 16 dock", accessories=()),
        state="run out",
    ),
)
LONG_AGO = timedelta(days=40)
