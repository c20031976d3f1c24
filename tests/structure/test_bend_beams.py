"""Beams on rigid supports and springs: against a general frame library, and closed forms from the books."""

from math import cos, cosh, exp, sin, sinh

import numpy as np
import pytest
from Pynite import FEModel3D

from estimating.engine.structure.beam import Beam, Point, Spread, Spring, Unsupported, bend

EI = 1.26e6 * 47.63
LENGTH = 192.0
RIGID = float("inf")

SUPPORTS = {
    "on two supports": (Spring(0), Spring(LENGTH)),
    "with overhangs": (Spring(30), Spring(150)),
    "three spans": (Spring(0), Spring(64), Spring(128), Spring(LENGTH)),
    "uneven spans": (Spring(10), Spring(40), Spring(140), Spring(180)),
    "soft floats": tuple(Spring(x, 9.4) for x in (8, 24, 40, 80, 96, 112, 152, 168, 184)),
    "stiff floats": tuple(Spring(x, 4e3) for x in (8, 24, 40, 152, 168, 184)),
    "a hard end and soft floats": (Spring(0), *(Spring(x, 30.0) for x in (60, 100, 180))),
    "two far floats": (Spring(20, 41.6), Spring(170, 41.6)),
}
LOADS = {
    "spread": [Spread(0, LENGTH, 7.67)],
    "one half": [Spread(0, LENGTH, 1.5), Spread(0, 96, 6.5)],
    "a crowd at the end": [Spread(0, LENGTH, 1.5), Spread(150, LENGTH, 20)],
    "one heavy point": [Point(77, 400)],
    "points at both ends": [Point(0, 200), Point(LENGTH, 300), Spread(20, 90, 3)],
}


def by_the_library(springs, loads):
    """Node places, and down, shear and moment at them from a frame model; one member from node to node."""
    cuts = {0.0, LENGTH, *(s.x_in for s in springs)}
    for load in loads:
        cuts |= {load.x_in} if isinstance(load, Point) else {load.from_in, load.to_in}
    places = sorted(cuts)
    model = FEModel3D()
    model.add_material("wood", 1.26e6, 5e5, 0.3, 0.02)
    model.add_section("stick", 10.875, 2.04, 47.63, 5.0)
    for number, x in enumerate(places):
        model.add_node(f"N{number}", x, 0, 0)
        model.def_support(f"N{number}", support_DX=not number, support_DZ=True, support_RX=True, support_RY=True)
    for spring in springs:
        node = model.nodes[f"N{places.index(spring.x_in)}"]
        if spring.lb_per_in == RIGID:
            node.support_DY = True
        else:
            model.def_support_spring(node.name, "DY", spring.lb_per_in)
    for number in range(len(places) - 1):
        model.add_member(f"M{number}", f"N{number}", f"N{number + 1}", "wood", "stick")
    for load in loads:
        if isinstance(load, Point):
            model.add_node_load(f"N{places.index(load.x_in)}", "FY", -load.lb)
            continue
        for number in range(places.index(load.from_in), places.index(load.to_in)):
            model.add_member_dist_load(f"M{number}", "Fy", -load.lb_per_in, -load.lb_per_in)
    model.analyze_linear(check_stability=False)
    members = [model.members[f"M{number}"] for number in range(len(places) - 1)]
    down = [-model.nodes[f"N{number}"].DY["Combo 1"] for number in range(len(places))]
    forces = [np.asarray(member.f("Combo 1"), dtype=float).ravel() for member in members]
    most = max(max(abs(m.max_moment("Mz")), abs(m.min_moment("Mz"))) for m in members)
    return np.array(places), np.array(down), np.array(forces), most


@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("support", SUPPORTS)
def test_it_bends_as_a_general_frame_library_says(support: str, load: str) -> None:
    springs, loads = SUPPORTS[support], LOADS[load]
    places, down, forces, most = by_the_library(springs, loads)
    bent = bend([Beam(LENGTH, EI, springs)], [[loads]])
    assert bent.x_in == pytest.approx(places)
    near = {"rel": 1e-6, "abs": 1e-6}
    assert bent.deflection_in[0, 0] == pytest.approx(down, rel=1e-6, abs=1e-9)
    # End forces of the library's members: 1 and 7 are across the beam, 5 and 11 turn it.
    assert bent.shear_lb[0, 0] == pytest.approx(np.stack([forces[:, 1], -forces[:, 7]], axis=1), **near)
    turning = np.stack([-forces[:, 5], forces[:, 11]], axis=1)
    assert bent.moment_lb_in[0, 0] == pytest.approx(turning, rel=1e-6, abs=1e-6 * most)
    assert bent.most_moment_lb_in[0, 0] == pytest.approx(most, rel=1e-6)


def test_it_answers_many_beams_together_as_one_by_one() -> None:
    names = [name for name in SUPPORTS if name != "with overhangs"]
    beams = [Beam(LENGTH, EI * (1 + k), SUPPORTS[name]) for k, name in enumerate(names)]
    patterns = list(LOADS.values())
    together = bend(beams, [patterns] * len(beams))
    for row, beam in enumerate(beams):
        alone = bend([beam], [patterns])
        assert together.most_moment_lb_in[row] == pytest.approx(alone.most_moment_lb_in[0], rel=1e-7)
        assert together.most_shear_lb[row] == pytest.approx(alone.most_shear_lb[0], rel=1e-7)


@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("support", SUPPORTS)
def test_what_holds_it_adds_up_to_what_it_carries(support: str, load: str) -> None:
    bent = bend([Beam(LENGTH, EI, SUPPORTS[support])], [[LOADS[load]]])
    whole = sum(x.lb if isinstance(x, Point) else x.lb_per_in * (x.to_in - x.from_in) for x in LOADS[load])
    assert bent.reactions_lb[0, 0].sum() == pytest.approx(whole, rel=1e-9)
    moment = sum(
        x.lb * x.x_in if isinstance(x, Point) else x.lb_per_in * (x.to_in**2 - x.from_in**2) / 2 for x in LOADS[load]
    )
    assert bent.reactions_lb[0, 0] @ bent.x_in == pytest.approx(moment, rel=1e-9)


def test_three_equal_spans_take_a_tenth_of_w_l_squared() -> None:
    # Beam formulas of any steel or wood manual: three equal spans, all loaded: 0.100 wL^2 over the inner supports,
    # 0.080 wL^2 in the outer spans, reactions 0.4, 1.1, 1.1, 0.4 wL, shear 0.6 wL.
    span, w = 64.0, 5.0
    bent = bend([Beam(3 * span, EI, SUPPORTS["three spans"])], [[[Spread(0, 3 * span, w)]]])
    assert bent.most_moment_lb_in[0, 0] == pytest.approx(0.100 * w * span**2)
    assert bent.reactions_lb[0, 0] == pytest.approx(np.array([0.4, 1.1, 1.1, 0.4]) * w * span)
    assert bent.most_shear_lb[0, 0] == pytest.approx(0.6 * w * span)
    first = bend([Beam(span, EI, (Spring(0), Spring(span)))], [[[Spread(0, span, w)]]])
    assert first.most_moment_lb_in[0, 0] == pytest.approx(w * span**2 / 8)


def test_a_simple_beam_sags_by_the_handbook() -> None:
    # 5wL^4/384EI evenly loaded, PL^3/48EI under a point in the middle.
    beam = Beam(100, 1e6, (Spring(0), Spring(100)))
    bent = bend([beam], [[[Spread(0, 100, 2)], [Point(50, 40)]]], also_at=[50])
    assert bent.most_bend_in[0] == pytest.approx([5 * 2 * 100**4 / 384e6, 40 * 100**3 / 48e6])


def test_many_small_springs_become_an_elastic_foundation() -> None:
    # Hetenyi, Beams on Elastic Foundation (1946): free ends, P in the middle of a beam of length l on k per length:
    # y(mid) = P b (cosh bl + cos bl + 2) / (2 k (sinh bl + sin bl)), M(mid) = P (cosh bl - cos bl) / (4 b (sinh bl +
    # sin bl)), b = (k / 4EI)^(1/4).
    k, count = 0.9, 960
    pitch = LENGTH / count
    springs = tuple(Spring((n + 0.5) * pitch, k * pitch) for n in range(count))
    bent = bend([Beam(LENGTH, EI / 40, springs)], [[[Point(LENGTH / 2, 400)]]])
    b = (k / (4 * EI / 40)) ** 0.25
    bl = b * LENGTH
    middle = int(np.argmin(abs(bent.x_in - LENGTH / 2)))
    expected = 400 * b * (cosh(bl) + cos(bl) + 2) / (2 * k * (sinh(bl) + sin(bl)))
    assert bent.deflection_in[0, 0, middle] == pytest.approx(expected, rel=1e-4)
    moment = 400 * (cosh(bl) - cos(bl)) / (4 * b * (sinh(bl) + sin(bl)))
    assert bent.most_moment_lb_in[0, 0] == pytest.approx(moment, rel=1e-3)


def test_a_long_beam_on_springs_decays_as_the_infinite_one() -> None:
    # Hetenyi: infinite beam, M under the load = P / 4b, and y = P b / 2k exp(-bx) (cos bx + sin bx).
    long, k, pitch = 600.0, 20.0, 0.5
    springs = tuple(Spring((n + 0.5) * pitch, k * pitch) for n in range(int(long / pitch)))
    bent = bend([Beam(long, 1e6, springs)], [[[Point(long / 2, 100)]]], also_at=[long / 2 + 20])
    b = (k / 4e6) ** 0.25
    assert bent.most_moment_lb_in[0, 0] == pytest.approx(100 / (4 * b), rel=2e-3)
    away = int(np.argmin(abs(bent.x_in - long / 2 - 20)))
    expected = 100 * b / (2 * k) * exp(-b * 20) * (cos(b * 20) + sin(b * 20))
    assert bent.deflection_in[0, 0, away] == pytest.approx(expected, rel=1e-3)


def test_it_refuses_a_beam_that_nothing_holds() -> None:
    for springs in ((), (Spring(10),), (Spring(10), Spring(10, 40.0))):
        with pytest.raises(Unsupported):
            bend([Beam(LENGTH, EI, springs)], [[[Point(5, 1)]]])


@pytest.mark.parametrize(
    "beam",
    [
        Beam(0, EI, (Spring(0), Spring(0))),
        Beam(LENGTH, -1, (Spring(0), Spring(LENGTH))),
        Beam(LENGTH, EI, (Spring(0), Spring(LENGTH + 5))),
        Beam(LENGTH, EI, (Spring(0, -3), Spring(LENGTH))),
        Beam(LENGTH, EI, (Spring(0, float("nan")), Spring(LENGTH))),
    ],
)
def test_it_refuses_beams_that_cannot_be(beam: Beam) -> None:
    with pytest.raises(ValueError):
        bend([beam], [[[Point(0, 1)]]])


def test_it_refuses_beams_without_the_same_patterns() -> None:
    beam = Beam(LENGTH, EI, (Spring(0), Spring(LENGTH)))
    for patterns in ([], [[]], [[[Point(0, 1)]], [[Point(0, 1)]]]):
        with pytest.raises(ValueError):
            bend([beam], patterns)
