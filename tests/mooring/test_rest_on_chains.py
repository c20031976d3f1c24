"""Where docks come to rest: against hand calculation, a general minimiser, and what must be true of any dock."""

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, root

from estimating.engine.mooring.catenary import reach_under
from estimating.engine.mooring.equilibrium import GIVES_IN_PER_LB, Fastened, Pushes, come_to_rest

WEIGHT = 0.08  # lb an inch, 5/16 in chain in fresh water
GIVE = GIVES_IN_PER_LB[-1]
NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)  # a failing dock is small enough as it is


def four_corners(length: float, width: float, aside: float, chain: float) -> Fastened:
    x = np.array([0.0, 0.0, length, length])
    y = np.array([0.0, width, 0.0, width])
    out = aside / np.sqrt(2)
    return Fastened(
        x,
        y,
        x + np.where(x > 0, out, -out),
        y + np.where(y > 0, out, -out),
        np.full(4, chain),
        np.full(4, WEIGHT),
    )


def pushes(force: float, degrees: np.ndarray, at: tuple[float, float]) -> Pushes:
    angle = np.radians(degrees)
    return Pushes(
        -force * np.cos(angle), -force * np.sin(angle), np.full(len(angle), at[0]), np.full(len(angle), at[1])
    )


def test_one_chain_pulls_back_as_hard_as_the_dock_is_pushed():
    # By hand: a dock on one chain lies straight down the load, at the reach the closed form gives for that pull.
    chain = Fastened(*(np.array([v]) for v in (0.0, 0.0, 100.0, 0.0, 180.0, WEIGHT)))
    rest = come_to_rest(chain, Pushes(*(np.array([v]) for v in (-150.0, 0.0, 0.0, 0.0))), np.array([[90.0]]))
    reach = float(reach_under(pull_lb=150, height=90, length=180, weight=WEIGHT)) + 150 * GIVE
    assert rest.settled.all()
    assert rest.pull_lb[0, 0] == pytest.approx(150, rel=1e-6)
    assert rest.dx_in[0] == pytest.approx(100 - reach, abs=1e-6)
    assert rest.dy_in[0] == pytest.approx(0, abs=1e-6)


def test_one_chain_at_a_corner_lets_the_dock_swing_round_into_the_wind():
    chain = Fastened(*(np.array([v]) for v in (0.0, 0.0, 100.0, 30.0, 180.0, WEIGHT)))
    rest = come_to_rest(chain, Pushes(*(np.array([v]) for v in (0.0, -150.0, -60.0, 20.0))), np.array([[90.0]]))
    assert rest.settled.all()
    turned = rest.turn_rad[0]
    arm_x = np.cos(turned) * -60 - np.sin(turned) * 20
    assert arm_x == pytest.approx(0, abs=1e-4)  # the load's place hangs straight down the wind from the corner


def pull_at(reach: float, height: float, length: float) -> float:
    """The pull whose reach this is, by bisection on the closed form and the chain's give."""
    if reach <= length - height:
        return 0.0

    def beyond(pull: float) -> float:
        return float(reach_under(pull_lb=pull, height=height, length=length, weight=WEIGHT)) + pull * GIVE - reach

    return brentq(beyond, 0.0, 1e7, xtol=1e-9)


def test_it_finds_the_place_a_general_solver_finds():
    # scipy.optimize.root on the same forces, written out here by themselves.
    chains = four_corners(384, 72, 100, 150)
    sides = np.array([0.0, 112.5, 202.5])
    loads = pushes(400, sides, (200.0, 30.0))
    height = 96.0
    rest = come_to_rest(chains, loads, np.full((3, 4), height))
    middle = np.array([192.0, 36.0])

    def left_over(place: np.ndarray, k: int) -> np.ndarray:
        cos, sin = np.cos(place[2] / 200), np.sin(place[2] / 200)
        turn = np.array([[cos, -sin], [sin, cos]])
        push = np.array([loads.x_lb[k], loads.y_lb[k]])
        arm = turn @ (np.array([loads.at_x_in[k], loads.at_y_in[k]]) - middle)
        total, moment = push.copy(), arm[0] * push[1] - arm[1] * push[0]
        for i in range(4):
            fit = turn @ (np.array([chains.fitting_x_in[i], chains.fitting_y_in[i]]) - middle)
            to = np.array([chains.weight_x_in[i], chains.weight_y_in[i]]) - middle - place[:2] - fit
            reach = np.hypot(*to)
            pull = pull_at(reach, height, 150.0)
            total += pull * to / reach
            moment += (fit[0] * to[1] - fit[1] * to[0]) / reach * pull
        return np.array([*total, moment / 200])

    for k in range(3):
        place = np.array([rest.dx_in[k], rest.dy_in[k], rest.turn_rad[k] * 200])
        found = root(left_over, place + np.array([0.3, -0.2, 0.4]), args=(k,), tol=1e-10)
        assert found.success
        assert found.x == pytest.approx(place, abs=1e-3)


def test_chains_too_short_still_get_an_answer():
    rest = come_to_rest(
        four_corners(384, 72, 100, 80), pushes(400, np.array([0.0, 90.0]), (192, 36)), np.full((2, 4), 96.0)
    )
    assert rest.settled.all()
    assert np.isfinite(rest.pull_lb).all() and (rest.pull_lb > 0).all()


def test_with_nothing_pushing_like_chains_leave_the_dock_where_it_is():
    rest = come_to_rest(four_corners(384, 72, 100, 160), pushes(0, np.array([0.0]), (192, 36)), np.full((1, 4), 96.0))
    assert rest.settled.all()
    assert (rest.dx_in[0], rest.dy_in[0], rest.turn_rad[0]) == (0, 0, 0)
    assert rest.pull_lb[0] == pytest.approx(np.full(4, rest.pull_lb[0, 0]))


def test_it_refuses_a_dock_without_chains():
    with pytest.raises(ValueError):
        come_to_rest(Fastened(*(np.zeros(0) for _ in range(6))), pushes(1, np.array([0.0]), (0, 0)), np.zeros((1, 0)))


DOCKS = st.tuples(
    st.floats(96, 900),
    st.floats(48, 400),
    st.floats(40, 240),
    st.floats(1.02, 2.5),
    st.floats(1, 3000),
    st.floats(0, 22.5),
)


@settings(max_examples=20, phases=NO_SHRINKING)
@given(DOCKS, st.floats(-0.4, 0.4), st.floats(-0.4, 0.4))
def test_every_dock_settles_and_its_forces_balance(dock, off_x, off_y):
    length, width, depth, over, force, turned = dock
    chains = four_corners(length, width, depth, np.hypot(depth, depth) * over)
    loads = pushes(force, np.arange(16) * 22.5 + turned, (length * (0.5 + off_x), width * (0.5 + off_y)))
    rest = come_to_rest(chains, loads, np.full((16, 4), depth))
    assert rest.settled.all()
    middle = length / 2, width / 2
    for k in range(16):
        cos, sin = np.cos(rest.turn_rad[k]), np.sin(rest.turn_rad[k])
        fit_x, fit_y = chains.fitting_x_in - middle[0], chains.fitting_y_in - middle[1]
        at_x = middle[0] + rest.dx_in[k] + cos * fit_x - sin * fit_y
        at_y = middle[1] + rest.dy_in[k] + sin * fit_x + cos * fit_y
        reach = np.hypot(chains.weight_x_in - at_x, chains.weight_y_in - at_y)
        pull = rest.pull_lb[k]
        along_x = (pull * (chains.weight_x_in - at_x) / np.maximum(reach, 1e-9)).sum()
        along_y = (pull * (chains.weight_y_in - at_y) / np.maximum(reach, 1e-9)).sum()
        scale = force + pull.sum() + 200
        assert abs(along_x + loads.x_lb[k]) < 1e-6 * scale
        assert abs(along_y + loads.y_lb[k]) < 1e-6 * scale
        assert (pull >= 0).all()


@settings(max_examples=12, phases=NO_SHRINKING)
@given(DOCKS, st.floats(1.05, 4))
def test_a_harder_push_never_lets_the_dock_lie_less_far_down_the_load(dock, more):
    length, width, depth, over, force, turned = dock
    chains = four_corners(length, width, depth, np.hypot(depth, depth) * over)
    sides, middle, heights = np.arange(16) * 22.5 + turned, (length / 2, width / 2), np.full((16, 4), depth)
    weak, strong = (come_to_rest(chains, pushes(load, sides, middle), heights) for load in (force, force * more))
    angle = np.radians(sides)
    before, after = (-rest.dx_in * np.cos(angle) - rest.dy_in * np.sin(angle) for rest in (weak, strong))
    assert (after >= before - 1e-3).all()
    assert (before >= -1e-3).all()
