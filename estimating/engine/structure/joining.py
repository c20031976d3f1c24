"""Joints against their share of the load: tees and corners, the ramp's foot, section to section, floats on their lags.

Half of a joint's bolts are in each of its members, in single shear across the grain: on a steel plate where the firm's
rule takes one, else wood on wood. Backers are not counted on; the plates' own strength comes from their sheet.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil

from estimating.engine.frame_result import MemberCheck
from estimating.engine.outline import own_axes
from estimating.engine.parts import Catalogue, FloatItem
from estimating.engine.reasons import Amount, Sentence, Step
from estimating.engine.result import JointPoint
from estimating.engine.spec import Section

from .factors import Service
from .fasteners import WET_CONNECTION, Lag, bolt_shear_lb, lag_withdrawal_lb, plate_bolt_lb, size_in_name
from .lifting import JOLT
from .rows import Asked, check_row, step
from .sections import Framed, Rest, Stock, carried_width_in
from .stringers import strength_of

USUAL_BOLT_IN = 0.5
USUAL_LAG = Lag(0.375, 4.0)
HINGE_INSET_IN = 3.0  # hinges sit this far inside the ramp's sides: common practice, no source
UNDER_HEAD_IN = 0.5  # flange and washer under a lag's head: common practice, no source
_BOLT_RULE = "Bolts in single shear across the grain, in wet wood, against the joint's share of the load."


@dataclass(frozen=True, slots=True)
class Bolted:
    """The bolts of one joint: diameter in inches, how many, and how many of them carry."""

    diameter_in: float
    named: bool
    carrying: int
    plated: bool


def bolted(joint: JointPoint, catalogue: Catalogue, *, through: bool = False) -> Bolted | None:
    """None for a joint without bolts. `through`: every bolt goes through both members."""
    if not joint.bolts:
        return None
    good = catalogue.goods.get(joint.bolt)
    size = size_in_name(good.name) if good else None
    carrying = joint.bolts if through else max(1, joint.bolts // 2)
    plated = not through and any(
        catalogue.goods[code].kind == "hardware" for code, _ in joint.parts if code in catalogue.goods
    )
    return Bolted(size[0] if size else USUAL_BOLT_IN, size is not None, carrying, plated)


@lru_cache(maxsize=256)
def lesser_gravity(stringer: Stock, header: Stock) -> float:
    """The lesser specific gravity of stringers and headers."""
    return min(strength_of(stock, Service()).gravity for stock in (stringer, header))


def gravity_of(framed: Framed) -> float:
    return lesser_gravity(framed.stringer, framed.header)


def bolt_row(
    asked: tuple[str, str, Sentence, float], framed: Framed, bolts: Bolted, steps: Sequence[Step]
) -> MemberCheck:
    kind, name, where, load_lb = asked
    thickness = min(framed.stringer.thickness_in, framed.header.thickness_in)
    bears = plate_bolt_lb if bolts.plated else bolt_shear_lb
    one = bears(gravity=gravity_of(framed), diameter_in=bolts.diameter_in, thickness_in=thickness)
    on = "on a 1/4 in steel plate" if bolts.plated else "wood on wood"
    said = f"One bolt, {{0}}, dry, {on}" if bolts.named else f"One bolt, taken as {{0}}, dry, {on}"
    ledger = (
        *steps,
        Step(Sentence(said, (Amount(bolts.diameter_in, "in_small"),)), Amount(round(one), "lb")),
        Step(Sentence("× in wet wood"), Amount(WET_CONNECTION, "")),
        Step(Sentence("Bolts that carry"), Amount(bolts.carrying, "count")),
    )
    holds = one * WET_CONNECTION * bolts.carrying
    return check_row(Asked(kind, name, where, load_lb, holds, "lb"), _BOLT_RULE, "NDS_YIELD", ledger)


def end_load_lb(framed: Framed, held: Sequence[Rest], number: int) -> tuple[float, float]:
    """What one stringer hands its header, pounds, and over which length, inches, as a simple beam to the first support.

    To the first float centre, or to the first cross member for one off the floats. Source: STATICS.
    """
    rest = next((rest for rest in held if rest.number == number), None)
    if rest is not None:
        centres = rest.float_centres_in
        reach = max(centres[0], framed.length_in - centres[-1])
    else:
        lines = framed.lines_in
        reach = max(lines[1] - lines[0], lines[-1] - lines[-2])
    width = carried_width_in(framed, number)
    return (framed.dead_psf + framed.live_psf) * width / 144 * reach / 2, reach


def end_checks(framed: Framed, held: Sequence[Rest], tee: Bolted | None, corner: Bolted | None) -> list[MemberCheck]:
    """The worst tee and the worst corner: the end of a stringer's first bay, and its part of the ramp's foot."""
    rows = []
    last = len(framed.centres_in) - 1
    for kind, name, bolts, numbers in (
        ("tee", "Stringer ends on the headers", tee, range(1, last)),
        ("corner", "Corners", corner, (0, last)),
    ):
        if bolts is None or not numbers:
            continue
        loads = [(sum(parts), parts, reach) for parts, reach in (_end(framed, held, n) for n in numbers)]
        load, (own, ramp), reach = max(loads)
        steps = [step("First bay", reach, "in"), step("Its end load", own, "lb")]
        steps += [step("Its part of the ramp's foot", ramp, "lb")] if ramp else []
        where = Sentence("the deck and the ramp full of people" if ramp else "people on all of it")
        rows.append(bolt_row((kind, name, where, load), framed, bolts, steps))
    return rows


def _end(framed: Framed, held: Sequence[Rest], number: int) -> tuple[tuple[float, float], float]:
    load, reach = end_load_lb(framed, held, number)
    return (load, _ramp_part_lb(framed, number)), reach


def _ramp_part_lb(framed: Framed, number: int) -> float:
    """What one stringer's end takes of a ramp hinged to the header near both its sides, by the lever rule."""
    landing = framed.landing
    if landing is None or not landing.on_header:
        return 0.0
    half = (landing.dead_lb + landing.live_lb) / 2
    return sum(
        half * lever_share(framed.centres_in, number, at)
        for at in (landing.v0_in + HINGE_INSET_IN, landing.v1_in - HINGE_INSET_IN)
    )


def lever_share(centres_in: Sequence[float], number: int, at_in: float) -> float:
    """How much of a load on a header one of the stringers takes, the header spanning simply from each to the next.

    >>> [lever_share((0, 24, 48), n, 18) for n in range(3)]
    [0.25, 0.75, 0.0]
    """
    at, here = min(max(at_in, centres_in[0]), centres_in[-1]), centres_in[number]
    there = next((c for c in (centres_in if at > here else reversed(centres_in)) if (c - here) * (at - here) > 0), None)
    return max(0.0, 1 - abs(at - here) / abs(there - here)) if there is not None else 1.0


def ramp_check(framed: Framed, bolts: Bolted | None) -> list[MemberCheck]:
    """The hinge of the ramp on its section."""
    landing = framed.landing
    if landing is None or bolts is None:
        return []
    steps = (step("Half of the ramp", landing.dead_lb, "lb"), step("Half of the people on it", landing.live_lb, "lb"))
    where = Sentence("the ramp full of people")
    load = landing.dead_lb + landing.live_lb
    return [bolt_row(("ramp_joint", "Ramp on the dock", where, load), framed, bolts, steps)]


@dataclass(frozen=True, slots=True)
class Raft:
    """A section as a stiff raft on its floats, own axes: stiffness, its middle, and against trim and heel."""

    lb_per_in: float
    u_in: float
    v_in: float
    trim_lb_in: float
    heel_lb_in: float

    @classmethod
    def of(cls, framed: Framed) -> "Raft | None":
        floats = framed.floats
        whole = sum(each.lb_per_in for each in floats)
        if not whole:
            return None
        u = sum(each.lb_per_in * each.u_in for each in floats) / whole
        v = sum(each.lb_per_in * (each.v0_in + each.v1_in) / 2 for each in floats) / whole
        trim = sum(each.lb_per_in * ((each.u_in - u) ** 2 + (each.u1_in - each.u0_in) ** 2 / 12) for each in floats)
        heel = sum(
            each.lb_per_in * (((each.v0_in + each.v1_in) / 2 - v) ** 2 + (each.v1_in - each.v0_in) ** 2 / 12)
            for each in floats
        )
        return cls(whole, u, v, trim, heel)

    def gives_in(self, u_in: float, v_in: float, at: tuple[float, float] | None = None) -> float:
        """How far a place sinks under one pound at another (itself if not named), inches.

        >>> raft = Raft(100, 96, 36, 100 * 96**2 / 3, 1e9)
        >>> round(raft.gives_in(0, 36) / raft.gives_in(96, 36), 6)
        4.0
        """
        other = at or (u_in, v_in)
        trim = (u_in - self.u_in) * (other[0] - self.u_in) / self.trim_lb_in
        heel = (v_in - self.v_in) * (other[1] - self.v_in) / self.heel_lb_in
        return 1 / self.lb_per_in + trim + heel


@dataclass(frozen=True, slots=True)
class Side:
    """One section at a joint."""

    section: Section
    framed: Framed


def passed_load_lb(first: Side, second: Side, x_in: float, y_in: float) -> float | None:
    """What a joint passes on when one of two sections is full of people and the other empty, pounds; the worse way.

    Two stiff rafts on their floats sharing their height at the joint; neighbours further on are left out, which is
    on the safe side. None where a section has no floats. Source: STATICS.
    """
    rafts = Raft.of(first.framed), Raft.of(second.framed)
    if None in rafts:
        return None
    places = own_axes(first.section, x_in, y_in), own_axes(second.section, x_in, y_in)
    gives = sum(raft.gives_in(*place) for raft, place in zip(rafts, places, strict=True))
    worst = 0.0
    for side, raft, place in zip((first, second), rafts, places, strict=True):
        framed = side.framed
        people = framed.live_psf * framed.length_in * framed.width_in / 144
        sinks = people * raft.gives_in(*place, (framed.length_in / 2, framed.width_in / 2))
        worst = max(worst, abs(sinks) / gives)
    return worst


def joint_check(joint: JointPoint, sides: tuple[Side, Side], bolts: Bolted) -> MemberCheck | None:
    """A hinged or rigid joint in shear."""
    load = passed_load_lb(*sides, joint.x_in, joint.y_in)
    if load is None:
        return None
    where = Sentence("one section full of people, the other empty")
    kind = joint.place
    name = f"{'Hinge' if kind == 'hinged_joint' else 'Rigid joint'} {joint.mark}"
    lighter = min((side.framed for side in sides), key=gravity_of)
    return bolt_row((kind, name, where, load), lighter, bolts, (step("Passed on by the joint", load, "lb"),))


def lag_check(framed: Framed, items: Iterable[FloatItem], catalogue: Catalogue) -> list[MemberCheck]:
    """The lags of the float that asks most of them: its own weight hangs on them when the section is lifted."""
    rows = [row for item in items if (row := _lags(framed, item, catalogue)) is not None]
    return [max(rows, key=lambda row: row.utilisation)] if rows else []


def _lags(framed: Framed, item: FloatItem, catalogue: Catalogue) -> MemberCheck | None:
    fixing = next((use for use in item.fixings if "lag" in _name(use.code, catalogue).lower()), None)
    if fixing is None or fixing.quantity <= 0:
        return None
    size = size_in_name(_name(fixing.code, catalogue))
    lag = Lag(*size) if size else USUAL_LAG
    one = lag_withdrawal_lb(lag, gravity=strength_of(framed.stringer, Service()).gravity, through_in=UNDER_HEAD_IN)
    count = ceil(fixing.quantity)
    if one <= 0:
        return None
    said = "One lag, {0} × {1}, in wet wood" if size else "One lag, taken as {0} × {1}, in wet wood"
    words = Sentence(said, (Amount(lag.diameter_in, "in_small"), Amount(lag.length_in, "in")))
    steps = (
        step("Float", item.weight_lb, "lb"),
        step("Jolt of the hoist, ×", JOLT, ""),
        Step(words, Amount(round(one), "lb")),
        Step(Sentence("Lags"), Amount(count, "count")),
    )
    where = Sentence("lifted with its floats on")
    asked = Asked("float_lags", "Lags of a float", where, item.weight_lb * JOLT, one * count, "lb")
    return check_row(asked, "Lags pulling straight out of side grain, in wet wood.", "NDS_WITHDRAWAL", steps)


def _name(code: str, catalogue: Catalogue) -> str:
    good = catalogue.goods.get(code)
    return f"{good.name} {code}" if good else code
