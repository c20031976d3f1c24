"""What makes an equilibrium one: forces balance, energy is least, and nothing depends on how the dock is drawn.

Sources: statics and geometry; second opinions are named in each test.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize

from estimating.engine.flotation.descent import DidNotSettle, Energy, descend
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import (
    FRESH,
    Assembly,
    FloatBody,
    FloatShape,
    Hinge,
    Mass,
    PointLoad,
    RigidBody,
)
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Outcome
from tests.flotation.docks import chain, check_dock, float_one, on_deck, random_assembly, random_loads
from tests.flotation.energy import energy_of


def afloat_at_random(seed, count, bodies):
    """Random docks under random loads that stay afloat, with their energy and where it is least."""
    rng, found = np.random.default_rng(seed), 0
    while found < count:
        assembly = random_assembly(rng, bodies, stout=True)
        case = LoadCase("random", random_loads(rng, assembly))
        if DockAfloat(assembly).solve([case])[0].bodies:
            found += 1
            yield rng, assembly, case


@pytest.mark.parametrize("bodies", [1, 5], ids=["one body", "hinged"])
def test_it_is_the_least_of_the_energy_around(bodies):
    for rng, assembly, case in afloat_at_random(3, 6, bodies):
        for land, state in energy_of(assembly, case):
            rows = np.zeros(200, dtype=int)
            steps = rng.normal(size=(200, land.linkage.freedoms)) * 10.0 ** rng.uniform(-2, 0.3, (200, 1))
            around = land.energy(land.move(np.repeat(state, 200, 0), steps / land.reach_in), rows).value
            least = land.energy(state, rows[:1]).value[0]
            assert around.min() > least - 1e-9 * (abs(least) + land.weight_lb[0])


@pytest.mark.parametrize("bodies", [1, 5], ids=["one body", "hinged"])
def test_its_slopes_and_curvatures_are_those_of_its_energy(bodies):
    for rng, assembly, case in afloat_at_random(4, 4, bodies):
        for land, state in energy_of(assembly, case):
            at = land.move(state, rng.normal(size=(1, land.linkage.freedoms)) * 3 / land.reach_in)
            rows, here = np.zeros(1, dtype=int), land.energy(at, np.zeros(1, dtype=int))
            for i, direction in enumerate(np.eye(land.linkage.freedoms) * 1e-4):
                ahead, behind = (
                    land.energy(land.move(at, sign * direction[None] / land.reach_in), rows) for sign in (1, -1)
                )
                slope = (ahead.value[0] - behind.value[0]) / 2e-4
                assert slope == pytest.approx(here.slope[0, i], abs=1e-6 * land.weight_lb[0])
            size = 1e-2 / np.abs(here.step).max()
            ahead, behind = (
                land.energy(land.move(at, sign * size * here.step / land.reach_in), rows).value[0] for sign in (1, -1)
            )
            curved = (ahead - 2 * here.value[0] + behind) / size**2
            assert curved == pytest.approx(here.along[0], rel=0.01)


def test_it_balances_every_float_against_the_weight():
    for _, assembly, case in afloat_at_random(5, 10, 1):
        result = DockAfloat(assembly).solve([case])[0]
        held = sum(f.buoyancy_lb for f in result.bodies[0].floats)
        assert held == pytest.approx(result.weight_lb, rel=1e-8, abs=1e-6)


def test_it_agrees_with_a_general_minimiser_started_anywhere_near():
    """scipy's Nelder-Mead on the same energy, without slopes."""
    for rng, assembly, case in afloat_at_random(6, 2, 1):
        ((land, state),) = energy_of(assembly, case)

        def energy(step, land=land, state=state):
            return land.energy(land.move(state, step[None] / land.reach_in), np.zeros(1, dtype=int)).value[0]

        start = rng.normal(size=3) * 0.3
        found = minimize(energy, start, method="Nelder-Mead", options={"xatol": 1e-4, "fatol": 1e-9})
        assert energy(found.x) >= energy(np.zeros(3)) - 1e-7 * land.weight_lb[0]
        assert np.abs(found.x).max() < 0.05


def test_it_follows_a_top_heavy_dock_from_its_saddle_to_the_loll():
    # Wall-sided form: GM < 0 lolls to tan2(a) = -2 GM / BM, either way (Barrass and Derrett, from memory).
    gm, bm = -0.1, 64 / 24
    weight = 8 * 20 * 2 * 62.4
    deck = tuple((x, y, 120.0) for x, y in ((-120, -48), (120, -48), (120, 48), (-120, 48)))
    box = RigidBody("box", (FloatBody(240, 96, 72),), Mass(weight, 0, 0, 12 * (1 + bm - gm)), deck)
    result = float_one(box, LoadCase("top heavy"))
    assert abs(math.tan(math.radians(result.bodies[0].heel_deg))) == pytest.approx(math.sqrt(-2 * gm / bm), rel=1e-6)
    assert result.gm_across_in > 0


def test_it_gives_the_mirrored_answer_for_the_mirrored_dock():
    for _, assembly, case in afloat_at_random(8, 8, 4):
        straight, mirrored = (
            DockAfloat(assembly).solve([case])[0],
            DockAfloat(mirror(assembly)).solve([mirror(case)])[0],
        )
        assert mirrored.outcome is straight.outcome
        for one, other in zip(straight.bodies, mirrored.bodies, strict=True):
            assert (other.heel_deg, other.trim_deg) == pytest.approx((-one.heel_deg, one.trim_deg), abs=1e-5)
            levels = [corner.freeboard_in for corner in one.corners]
            assert [corner.freeboard_in for corner in other.corners] == pytest.approx(levels, abs=1e-5)


def mirror(thing):
    """The same with y the other way round."""
    match thing:
        case Assembly():
            return Assembly(tuple(mirror(b) for b in thing.bodies), tuple(mirror(h) for h in thing.hinges))
        case RigidBody():
            deck = tuple((x, -y, z) for x, y, z in thing.deck)
            return RigidBody(thing.name, tuple(mirror(f) for f in thing.floats), mirror(thing.frame), deck)
        case LoadCase():
            return replace(thing, live=tuple(mirror(load) for load in thing.live))
        case Hinge():
            return replace(thing, y0_in=-thing.y0_in, y1_in=-thing.y1_in)
        case FloatBody():
            return replace(thing, y_in=-thing.y_in, turn_deg=-thing.turn_deg)
        case Mass() | PointLoad():
            return replace(thing, y_in=-thing.y_in)


def test_it_does_not_care_in_which_order_bodies_and_floats_are_named():
    for rng, assembly, case in afloat_at_random(9, 8, 5):
        order = rng.permutation(len(assembly.bodies)).tolist()
        place = {old: new for new, old in enumerate(order)}
        bodies = tuple(replace(assembly.bodies[i], floats=assembly.bodies[i].floats[::-1]) for i in order)
        hinges = tuple(replace(h, first=place[h.second], second=place[h.first]) for h in assembly.hinges)
        live = tuple(replace(load, body=place[load.body]) for load in case.live)
        first = DockAfloat(assembly).solve([case])[0]
        again = DockAfloat(Assembly(bodies, hinges)).solve([replace(case, live=live)])[0]
        assert again.outcome is first.outcome
        for old, new in place.items():
            levels = [corner.freeboard_in for corner in first.bodies[old].corners]
            assert [corner.freeboard_in for corner in again.bodies[new].corners] == pytest.approx(levels, abs=1e-4)


def bent_dock(side: int) -> RigidBody:
    """An L bolted stiff: the check dock with a leg of three more floats to one side, its weight over its floats."""
    walk = check_dock()
    leg = tuple(FloatBody(24, 48, 16, 168, side * y, 0, 46, walk.floats[0].buoyancy_factor) for y in (80, 140, 200))
    floats = walk.floats + leg
    x, y = (sum(getattr(f, name) for f in floats) / len(floats) for name in ("x_in", "y_in"))
    return RigidBody("L", floats, Mass(1100, x, y, 8), walk.deck)


def test_it_turns_the_trim_of_an_l_by_its_product_of_inertia():
    # 100 lb 40 in over to the leg's side and 4 in towards its end. With moments of inertia alone the end goes down;
    # the product of inertia lifts it. Closed form of the small lean, waterplane integrals by parallel axes.
    body = bent_dock(1)
    areas = [(f.length_in * f.width_in, f.x_in - body.frame.x_in, f.y_in - body.frame.y_in, f) for f in body.floats]
    xx = sum(a * (f.length_in**2 / 12 + x * x) for a, x, _, f in areas)
    yy = sum(a * (f.width_in**2 / 12 + y * y) for a, _, y, f in areas)
    xy = sum(a * x * y for a, x, y, _ in areas)
    stiffness = body.floats[0].buoyancy_factor * FRESH.lb_per_in3 * np.array([[xx, xy], [xy, yy]])
    along, across = np.degrees(np.linalg.solve(stiffness, [100 * 4, 100 * 40]))
    assert along < 0 < math.degrees(100 * 4 / stiffness[0, 0])

    def leaning(side):
        body = bent_dock(side)
        load = PointLoad(0, 100, body.frame.x_in + 4, body.frame.y_in + side * 40, 8)
        return float_one(body, LoadCase("over to the leg", (load,))).bodies[0]

    assert (leaning(1).trim_deg, leaning(1).heel_deg) == pytest.approx((along, across), rel=0.03)
    assert (leaning(-1).trim_deg, leaning(-1).heel_deg) == pytest.approx((along, -across), rel=0.03)


def test_it_keeps_its_balance_as_floats_leave_the_water_and_go_under():
    # A stout float in the middle and a long thin one along each edge. The load lifts the far one out of the water
    # and drowns the near one, so that neither has any stiffness left.
    edges = tuple(FloatBody(240, 6, 6, 120, y, own_weight_lb=20) for y in (-44, 44))
    deck = tuple((x, y, 30.0) for x, y in ((0.0, -46.0), (240.0, -46.0), (240.0, 46.0), (0.0, 46.0)))
    body = RigidBody("raft", (FloatBody(240, 48, 24, 120, 0, -8, 60), *edges), Mass(3500, 120, 0, 14), deck)
    level = float_one(body, LoadCase("level"))
    assert level.gm_along_in > 10 * level.gm_across_in
    (loaded,) = float_one(body, LoadCase("edge", (PointLoad(0, 900, 120, 20, 20),))).bodies
    assert [f.immersed_share for f in loaded.floats[1:]] == pytest.approx([0, 1], abs=1e-9)
    assert sum(f.buoyancy_lb for f in loaded.floats) == pytest.approx(900 + 3500 + 100)


def test_it_sinks_exactly_when_the_weight_is_more_than_the_lift():
    dock = check_dock()
    lift = dock.full_lift_lb(FRESH) - dock.floats_weight_lb - dock.frame.weight_lb
    assert lift == pytest.approx(6 * 600 - 820)
    assert float_one(dock, LoadCase("just over", (on_deck(lift + 0.01, 96, 0),))).outcome is Outcome.SINKS
    assert float_one(dock, LoadCase("just under", (on_deck(lift - 0.01, 96, 0),))).outcome is not Outcome.SINKS
    assert float_one(dock, LoadCase("over", (on_deck(lift + 10, 96, 0),))).reserve_lb == pytest.approx(-10)


def test_it_calls_a_dock_awash_once_a_corner_is_under_but_not_turned_over():
    result = float_one(check_dock(), LoadCase("end", (on_deck(1010, 180, 0),)))
    assert result.outcome is Outcome.AWASH
    assert -6 < result.least_freeboard_in <= 0
    assert result.most_tilt_deg < 20


def test_it_takes_round_floats_turned_either_way_alike():
    def raft(turn):
        floats = tuple(
            FloatBody(60, 20, 20, x, y, turn_deg=turn, shape=FloatShape.ROUND, own_weight_lb=30)
            for x, y in ((-50, -50), (50, -50), (50, 50), (-50, 50))
        )
        deck = tuple((x, y, 28.0) for x, y in ((-80.0, -80.0), (80.0, -80.0), (80.0, 80.0), (-80.0, 80.0)))
        return RigidBody("raft", floats, Mass(700, 0, 0, 24), deck)

    along = float_one(raft(0), LoadCase("a", (PointLoad(0, 300, 40, 10, 28),))).bodies[0]
    across = float_one(raft(90), LoadCase("b", (PointLoad(0, 300, -10, 40, 28),))).bodies[0]
    assert across.tilt_deg == pytest.approx(along.tilt_deg, abs=1e-7)
    levels = [corner.freeboard_in for corner in along.corners]
    assert [corner.freeboard_in for corner in across.corners] == pytest.approx([levels[-1], *levels[:-1]], abs=1e-7)


def test_it_counts_a_wet_frame_only_where_it_is_wet_and_asked_for():
    # A stringer across the end counts once the end is down at it, and is no float whose top must stay dry.
    dock = check_dock()
    stringer = FloatBody(1.5, 72, 7.25, 191, 0, 16, frame_part=True)
    framed = replace(dock, floats=(*dock.floats, stringer))
    dry, wet = LoadCase("dead"), LoadCase("end", (on_deck(1000, 180, 0),))
    assert float_one(framed, dry).least_freeboard_in == pytest.approx(float_one(dock, dry).least_freeboard_in, abs=1e-9)
    assert float_one(framed, wet).least_freeboard_in > float_one(dock, wet).least_freeboard_in + 0.5
    assert len(float_one(framed, wet).bodies[0].floats) == 6
    assert float_one(framed, dry).least_top_clearance_in == pytest.approx(11.48, abs=0.01)


class _NoBottom:
    """A slope that never ends."""

    reach_in = np.ones(3)
    weight_lb = np.ones(1)
    stiffness_lb_per_in = np.ones(1)

    def energy(self, state, rows):
        slope, flat = np.tile([1.0, 0.0, 0.0], (len(rows), 1)), np.zeros(len(rows))
        return Energy(state[:, 3], slope, -slope, flat, flat, np.zeros((len(rows), 3, 3)), flat > 0)

    def move(self, state, step):
        return state + np.pad(step[:, :1], ((0, 0), (3, 0)))


def test_it_says_so_when_it_does_not_settle():
    with pytest.raises(DidNotSettle, match="no equilibrium found for 1 of the cases") as trouble:
        descend(_NoBottom(), np.zeros((1, 4)))
    assert (trouble.value.rows, trouble.value.slope_lb) == ([0], [1.0])


def test_it_solves_many_cases_as_it_solves_each():
    cases = [LoadCase(f"{w}", (on_deck(w, 300, 20, 1),)) for w in (0, 100, 400, 900)]
    together = DockAfloat(chain(3)).solve(cases)
    for case, result in zip(cases, together, strict=True):
        (alone,) = DockAfloat(chain(3)).solve([case])
        assert [b.heel_deg for b in alone.bodies] == pytest.approx([b.heel_deg for b in result.bodies], abs=1e-7)
