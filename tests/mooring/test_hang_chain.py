"""Chains against a published case, against a general mooring library, and against what must be true of any chain."""

import io
from contextlib import redirect_stdout
from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from moorpy.Catenary import catenary

from estimating.engine.mooring.catenary import hang, least_length, least_length_under, reach_under

HEIGHTS = st.floats(6, 1200)
OVERS = st.floats(1.001, 6)  # chain, times the height
WEIGHTS = st.floats(0.02, 0.5)
RATIOS = st.floats(0.02, 200)  # pull, times what the height of chain weighs


def test_it_needs_the_published_length_of_line():
    # MIT OpenCourseWare 2.019, lecture 13: Tmax 1510 kN, w 828 N/m, depth 25 m; least length printed as 300.93 m.
    length = least_length_under(height=25, tension_lb=1510e3, weight=828)
    assert length == pytest.approx(300.93, abs=0.005)
    pull = 1510e3 - 828 * 25
    assert least_length(height=25, pull_lb=pull, weight=828) == pytest.approx(length)


def test_a_small_dock_hangs_as_the_closed_form_and_a_mooring_library_say():
    # Closed form worked by hand and MoorPy: w 1.23 lb/ft in water, H 200 lb, h 10 ft.
    length = least_length(height=10, pull_lb=200, weight=1.23)
    reach = float(reach_under(pull_lb=200, height=10, length=length, weight=1.23))
    hung = hang(reach=reach, height=10, length=length, weight=1.23)
    assert (length, reach) == (pytest.approx(57.90, abs=0.005), pytest.approx(56.74, abs=0.005))
    assert length / 10 == pytest.approx(5.79, abs=0.005)
    assert float(hung.tension_lb) == pytest.approx(212.3, abs=0.005)
    assert float(hung.vertical_lb) == pytest.approx(71.2, abs=0.05)
    assert float(hung.uplift_lb) == pytest.approx(0, abs=1e-6)


def test_it_agrees_with_a_mooring_library_over_a_grid_of_depths_and_loads():
    # MoorPy as second opinion, its line made all but stiff and solved to a tight tolerance.
    asked = []
    for height, over, ratio in product((48.0, 96.0, 180.0, 360.0), (1.1, 1.5, 3.0, 6.0), (0.3, 2.0, 20.0, 150.0)):
        weight, length = 0.08, height * over
        reach = float(reach_under(pull_lb=ratio * weight * height, height=height, length=length, weight=weight))
        asked.append((reach, height, length, weight))
    hung = hang(**dict(zip(("reach", "height", "length", "weight"), np.array(asked).T, strict=True)))
    theirs = [second_opinion(*row) for row in asked]
    assert len(theirs) == 64
    np.testing.assert_allclose(hung.pull_lb, [pull for pull, _, _ in theirs], rtol=1e-6)
    np.testing.assert_allclose(hung.vertical_lb, [vertical for _, vertical, _ in theirs], rtol=1e-6)
    np.testing.assert_allclose(hung.resting, [resting for _, _, resting in theirs], rtol=1e-6, atol=1e-5)


def second_opinion(reach: float, height: float, length: float, weight: float) -> tuple[float, float, float]:
    """Pull, vertical and length on the bottom by MoorPy. It is told nothing of our answer."""
    stiff = 1e15 * weight * length
    with redirect_stdout(io.StringIO()):
        *_, pull, vertical, info = catenary(reach, height, length, stiff, weight, Tol=1e-12 * length, MaxIter=500)
    return abs(pull), abs(vertical), info["LBot"]


def test_a_chain_with_nothing_to_do_hangs_straight_down():
    hung = hang(reach=30, height=100, length=150, weight=0.1)
    assert (float(hung.pull_lb), float(hung.vertical_lb), float(hung.resting)) == (
        0,
        pytest.approx(10),
        pytest.approx(50),
    )


def test_a_chain_too_short_has_no_tension_to_give():
    hung = hang(reach=[100, 0, 79.9], height=[60, 120, 60], length=[100, 100, 100], weight=0.1)
    assert np.isinf(hung.pull_lb[:2]).all() and np.isinf(hung.tension_lb[:2]).all()
    assert np.isfinite(hung.pull_lb[2])


def test_a_chain_on_a_dry_bottom_lies_slack_up_to_its_length():
    assert hang(reach=[10, 50], height=0, length=50, weight=0.1).pull_lb.tolist() == [0, 0]


@pytest.mark.parametrize(
    "wrong",
    [{"reach": -1}, {"height": -1}, {"length": 0}, {"weight": 0}, {"reach": float("nan")}, {"length": float("inf")}],
)
def test_it_refuses_what_is_no_chain(wrong):
    with pytest.raises(ValueError):
        hang(**{"reach": 10, "height": 10, "length": 20, "weight": 1, **wrong})


@given(HEIGHTS, OVERS, WEIGHTS, RATIOS)
def test_the_way_back_finds_the_pull(height, over, weight, ratio):
    pull, length = ratio * weight * height, over * height
    reach = float(reach_under(pull_lb=pull, height=height, length=length, weight=weight))
    chord = np.sqrt(length**2 - height**2)
    assume(chord / reach - 1 > 1e-9)  # past that a reach in floating point no longer tells pulls apart
    assert float(hang(reach=reach, height=height, length=length, weight=weight).pull_lb) == pytest.approx(
        pull, rel=1e-5
    )


@given(HEIGHTS, OVERS, WEIGHTS, RATIOS, st.floats(1.001, 5))
def test_tension_and_uplift_grow_with_the_pull(height, over, weight, ratio, more):
    length, pulls = over * height, np.array([1, more]) * ratio * weight * height
    reach = reach_under(pull_lb=pulls, height=height, length=length, weight=weight)
    hung = hang(reach=reach * (1 - 1e-12), height=height, length=length, weight=weight)
    assert reach[1] >= reach[0]
    assert hung.tension_lb[1] >= hung.tension_lb[0] * (1 - 1e-6)
    assert hung.uplift_lb[1] >= hung.uplift_lb[0] - 1e-6 * hung.tension_lb[0]


@given(HEIGHTS, OVERS, WEIGHTS, RATIOS)
def test_what_hangs_and_what_lifts_add_up(height, over, weight, ratio):
    length = over * height
    reach = reach_under(pull_lb=ratio * weight * height, height=height, length=length, weight=weight)
    hung = hang(reach=reach * (1 - 1e-9), height=height, length=length, weight=weight)
    assert float(hung.vertical_lb) == pytest.approx(
        weight * (length - float(hung.resting)) + float(hung.uplift_lb), rel=1e-9
    )
    assert float(hung.uplift_lb) == 0 or float(hung.resting) == 0
