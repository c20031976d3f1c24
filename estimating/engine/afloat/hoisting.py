"""What the dock weighs on land: each section by hand, all of it on a trailer, each rigid group with its balance."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, pi, sqrt
from typing import Self

from estimating.engine.flotation.geometry import FloatBody, FloatShape, Mass, combine_masses
from estimating.engine.flotation.results import Equilibrium
from estimating.engine.level import wet_share_of_circle
from estimating.engine.parts import Catalogue
from estimating.engine.proof import GroupAfloat, SectionLift
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.result import Design, Weight

from .model import Model


def section_lifts(design: Design, lift_lb: float) -> tuple[SectionLift, ...]:
    """Each section's weight, wet, bare and whole, and hands to lift it. Source: COMMON_PRACTICE."""
    return tuple(_section(weight, lift_lb) for weight in design.weights)


def hands(weight_lb: float, lift_lb: float) -> int:
    """People to lift so much.

    >>> hands(430, 50), hands(820, 50)
    (9, 17)
    """
    return ceil(weight_lb / lift_lb - 1e-9)


def _section(weight: Weight, lift_lb: float) -> SectionLift:
    bare = weight.frame_wet_lb + weight.hardware_lb
    decked = bare + weight.deck_wet_lb
    whole = decked + weight.accessories_lb + weight.floats_lb
    rows = [
        ("Frame, wet", weight.frame_wet_lb),
        ("Hardware and screws", weight.hardware_lb),
        ("Deck boards, wet", weight.deck_wet_lb),
        ("Accessories", weight.accessories_lb),
        ("Floats", weight.floats_lb),
    ]
    steps = [Step(Sentence(text), Amount(lb, "lb")) for text, lb in rows if lb]
    steps.append(Step(Sentence("Section {0}, whole", (weight.section,)), Amount(whole, "lb"), total=True))
    steps.append(Step(Sentence("One person lifts"), Amount(lift_lb, "lb")))
    steps.append(Step(Sentence("People to lift it, rounded up"), Amount(hands(whole, lift_lb), "count"), total=True))
    rule = Sentence("People to lift by hand: the weight divided by what one person lifts, rounded up.")
    reason = Reason(rule, "COMMON_PRACTICE", tuple(steps))
    return SectionLift(weight.section, bare, decked, whole, hands(bare, lift_lb), hands(whole, lift_lb), reason)


def trailer(design: Design, lifts: Sequence[SectionLift], catalogue: Catalogue) -> tuple[float, Reason]:
    """All that goes on the trailer: sections whole and wet, ramp, anchors and their chains. Source: GEOMETRY."""
    goods = catalogue.goods
    rows = [
        ("Sections, whole and wet", sum(lift.whole_lb for lift in lifts)),
        ("Ramp, wet", design.ramp.wet_lb if design.ramp else 0),
        ("Anchors", round(sum(goods[a.item].weight_lb for a in design.anchors if a.item in goods))),
        (
            "Chain",
            round(sum(goods[a.chain].weight_lb * a.chain_length_in / 12 for a in design.anchors if a.chain in goods)),
        ),
    ]
    steps = [Step(Sentence(text), Amount(lb, "lb")) for text, lb in rows if lb]
    total = sum(lb for _, lb in rows)
    steps.append(Step(Sentence("On the trailer"), Amount(total, "lb"), total=True))
    return total, Reason(Sentence("Everything that leaves the yard, lumber wet."), "GEOMETRY", tuple(steps))


def group_weights(model: Model, dead: Equilibrium) -> Iterator[GroupAfloat]:
    """Each rigid group with its weight, its balance, its lift, and its metacentric heights as it lies, wet."""
    for body, rigid in enumerate(model.assembly.bodies):
        floats = tuple(f for f in rigid.floats if not f.frame_part)
        own = tuple(Mass(f.own_weight_lb, *f.centre) for f in floats)
        whole = combine_masses((model.wet[body], *own))
        heights = (None, None)
        if dead.bodies and whole.weight_lb > 0:
            wet = [level.immersed_share for level in dead.bodies[body].floats]
            heights = _metacentric_heights_in(model, floats, wet, whole)
        if len(model.assembly.bodies) == 1 and dead.bodies:
            heights = dead.gm_across_in, dead.gm_along_in
        yield GroupAfloat(
            model.members[body],
            whole.weight_lb,
            model.seasoned[body].weight_lb + sum(f.own_weight_lb for f in floats),
            whole.x_in,
            whole.y_in,
            whole.z_in,
            rigid.full_lift_lb(model.water),
            *heights,
        )


def _metacentric_heights_in(
    model: Model, floats: Sequence[FloatBody], wet: Sequence[float], whole: Mass
) -> tuple[float | None, float | None]:
    """GM = KB + BM - KG of floats near level, free to heave: across from the spread in y, along from that in x."""
    held = [_Held.of(f, share, model.water.lb_per_in3) for f, share in zip(floats, wet, strict=True)]
    cut = [each for each in held if each.per_in_lb]
    lift = sum(each.lift_lb for each in held)
    if not cut or lift <= 0:
        return None, None
    centre = sum(each.lift_lb * each.centre_in for each in held) / lift
    plane = sum(each.per_in_lb for each in cut)
    heights = []
    for side, at in (("y_size_in", "y_in"), ("x_size_in", "x_in")):
        middle = sum(each.per_in_lb * getattr(each.body, at) for each in cut) / plane
        spread = sum(
            each.per_in_lb * (getattr(each, side) ** 2 / 12 + (getattr(each.body, at) - middle) ** 2) for each in cut
        )
        heights.append(spread / whole.weight_lb + (centre - whole.z_in) * lift / whole.weight_lb)
    return heights[0], heights[1]


@dataclass(frozen=True, slots=True)
class _Held:
    """A float near level: its lift, where that acts, the sides of its waterline, and what it holds per inch."""

    body: FloatBody
    lift_lb: float
    centre_in: float
    x_size_in: float
    y_size_in: float
    per_in_lb: float

    @classmethod
    def of(cls, f: FloatBody, share: float, lb_per_in3: float) -> Self:
        gamma = lb_per_in3 * f.buoyancy_factor
        lift = gamma * f.gross_volume_in3 * share
        across, centre = f.width_in, f.bottom_in + share * f.height_in / 2
        if f.shape is FloatShape.ROUND and share > 0:
            radius = f.height_in / 2
            up = _cosine_of_waterline(min(share, 1.0))
            across = 2 * radius * sqrt(1 - up * up)
            below = across**3 / 12 / (pi * radius**2 * min(share, 1.0))
            centre = f.bottom_in + radius - below
        sides = (f.length_in, across) if f.turn_deg == 0 else (across, f.length_in)
        return cls(f, lift, centre, *sides, gamma * f.length_in * across if 0 < share < 1 else 0.0)


def _cosine_of_waterline(share: float) -> float:
    """How far below the middle of a circle the water stands, in radii, where so much of it is under."""
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if wet_share_of_circle(middle) < share else (low, middle)
    return 1 - 2 * low
