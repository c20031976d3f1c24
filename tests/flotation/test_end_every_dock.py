"""Thousands of random docks and loads: every one ends in one of four ways, none in trouble. Random data, no source."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import FRESH, SALT, Assembly, FloatBody, Mass, PointLoad, RigidBody
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.flotation.results import Equilibrium, Outcome
from tests.flotation.docks import random_assembly, random_loads


def assert_sound(result: Equilibrium) -> None:
    assert result.outcome in set(Outcome)
    assert bool(result.bodies) == (result.outcome in (Outcome.FLOATS, Outcome.AWASH))
    assert (result.reserve_lb <= 0) <= (result.outcome is Outcome.SINKS)
    for body in result.bodies:
        assert body.tilt_deg <= 45 + 1e-9
        figures = [body.heel_deg, body.trim_deg, *(c.freeboard_in for c in body.corners)]
        figures += [c.draft_in for c in body.corners] + [f.carried_lb for f in body.floats]
        assert all(math.isfinite(figure) for figure in figures)
        assert all(-1e-9 <= f.immersed_share <= 1 + 1e-9 for f in body.floats)
        assert all((f.immersed_share > 1e-9) <= (f.draft_in > 0) for f in body.floats)
    if result.bodies:
        awash = min(c.freeboard_in for body in result.bodies for c in body.corners) <= 0
        assert awash == (result.outcome is Outcome.AWASH)
        assert sum(f.buoyancy_lb for b in result.bodies for f in b.floats) == pytest.approx(result.weight_lb, abs=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_it_ends_every_random_dock_in_one_of_four_ways(seed):
    rng = np.random.default_rng(100 + seed)
    seen = set()
    for _ in range(20):
        assembly = random_assembly(rng, 3, stout=rng.random() < 0.5)
        cases = [
            LoadCase("random", random_loads(rng, assembly), water=FRESH if rng.random() < 0.7 else SALT)
            for _ in range(40)
        ]
        for result in DockAfloat(assembly).solve(cases):
            assert_sound(result)
            seen.add(result.outcome)
    assert seen == set(Outcome)


def test_it_ends_random_chains_of_many_sections():
    rng = np.random.default_rng(200)
    for _ in range(5):
        assembly = random_assembly(rng, 12)
        for result in DockAfloat(assembly).solve([LoadCase("c", random_loads(rng, assembly)) for _ in range(8)]):
            assert_sound(result)


sizes = st.floats(1, 300, allow_nan=False)
places = st.floats(-200, 200, allow_nan=False)


@st.composite
def odd_docks(draw):
    """Docks at the edge of sense: whole numbers, equal floats, floats on one spot, weight of nothing."""
    whole = st.integers(-6, 6).map(lambda n: 12.0 * n)
    one_size = draw(st.tuples(sizes, sizes, sizes))
    floats = tuple(
        FloatBody(*one_size, draw(st.one_of(whole, places)), draw(st.one_of(whole, places)), draw(whole))
        for _ in range(draw(st.integers(1, 5)))
    )
    frame = Mass(draw(st.one_of(st.just(0.0), st.floats(0, 1e4))), draw(whole), draw(whole), draw(whole))
    deck = tuple((x, y, 40.0) for x, y in ((-72.0, -36.0), (72.0, -36.0), (72.0, 36.0), (-72.0, 36.0)))
    load = PointLoad(0, draw(st.one_of(st.just(0.0), st.floats(0, 1e5))), draw(whole), draw(places), 40.0)
    return RigidBody("odd", floats, frame, deck), LoadCase("odd", (load,))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(odd_docks())
def test_it_ends_odd_docks_too(drawn):
    body, case = drawn
    (result,) = DockAfloat(Assembly((body,))).solve([case])
    assert_sound(result)
