"""Sections together: rigid, hinged, in a ring, mirrored, and what explicit floats do."""

from dataclasses import replace

import numpy as np
import pytest

from estimating.engine.afloat.floating import float_proof
from estimating.engine.afloat.model import model_of
from estimating.engine.afloat.stepping import with_people
from estimating.engine.spec import Accessory, DockSpec, FloatPlace, Flotation, Joint, Ramp, Section
from tests.afloat.docks import CHECK_SECTION, EVEN, asking, dock, floated, laid
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

A = replace(CHECK_SECTION, flotation=EVEN)
B = replace(A, mark="B", x_in=192.0)


def test_the_trim_of_an_l_turns_its_sign_with_the_product_of_inertia():
    """B is bolted to the left of A at its lake end. A crowd at B's far end stands left and lakeward of the middle, yet
    the shore end goes down: by small angles, heights of the floats on springs, worked out here from their places."""
    foot = replace(A, mark="B", length_in=144.0, x_in=120.0, y_in=72.0, turned=True)
    spec = dock(A, replace(foot, flotation=Flotation(rows=2, columns=2)), joints=(Joint("A", "B", "rigid"),))
    design = laid(spec)
    out = with_people(design, CATALOGUE, FIRM, where="B, left end", people=4).sections
    rest = floated(spec).case("dead_wet").sections
    places = np.array([(1.0, f.x_in, f.y_in) for f in design.floats])
    places[:, 1:] -= places[:, 1:].mean(0)
    crowd = np.array([1.0, 156.0, 204.0]) - np.array([0.0, *np.mean([(f.x_in, f.y_in) for f in design.floats], axis=0)])
    spring = (600 + 46) / 16  # lb an inch of one float
    stiffness = spring * places.T @ places
    _, slope_x, slope_y = np.linalg.solve(stiffness, -700 * crowd)
    alone = -700 * crowd / np.diag(stiffness)
    assert crowd[1] > 0 > alone[1]  # by itself the lake end would go down: it falls towards +x
    trim, heel = out[0].trim_deg - rest[0].trim_deg, out[0].heel_deg - rest[0].heel_deg
    assert slope_x > 0 > trim
    # The rest is the size of the floats themselves, their stiffness, and the height of the weight.
    assert trim == pytest.approx(-np.degrees(slope_x), rel=0.6)
    assert heel == pytest.approx(-np.degrees(slope_y), rel=0.2)
    assert out[0].tilt_deg == out[1].tilt_deg  # one rigid piece
    assert len(floated(spec).groups) == 1


def test_a_hinged_pair_shares_its_hinge_line_and_says_what_each_would_do_alone():
    spec = dock(A, B, joints=(Joint("A", "B"),), ramp=Ramp(144))
    proof = floated(spec)
    first, second = proof.case("dead_wet").sections
    # Decks alike: the lake corners of A and the shore corners of B are at the hinge. The hinge lies under the deck, so
    # the deck's edges part from it only by the lean.
    for a, b in ((1, 0), (2, 3)):
        assert first.corners[a].freeboard_in == pytest.approx(second.corners[b].freeboard_in, abs=0.01)
    assert first.trim_deg != pytest.approx(second.trim_deg, abs=0.1)
    (hinge,) = proof.hinges
    alone = floated(dock(A, ramp=Ramp(144))).case("dead_wet").sections[0]
    free = floated(dock(B)).case("dead_wet").sections[0]
    assert hinge.step_in == pytest.approx(free.corners[0].freeboard_in - alone.corners[1].freeboard_in, abs=0.15)
    assert "hinge_step" in {finding.code for finding in proof.findings}
    assert "hinge_step" not in {f.code for f in floated(spec, asking(hinge_step_in=12.0)).findings}


def test_a_mirrored_dock_floats_as_the_mirror_image():
    ladder = Accessory("ladder", section="A", edge="left", offset_in=40)
    left = DockSpec(
        "left", (A, B), (Joint("A", "B"),), Ramp(144, offset_in=30), accessories=(ladder,), live_load_psf=20
    )
    right = replace(left, ramp=Ramp(144, offset_in=42), accessories=(replace(ladder, edge="right"),))
    one, other = floated(left), floated(right)
    assert len(one.cases) == len(other.cases)
    for here, there in zip(one.cases, other.cases, strict=True):
        assert (here.kind, here.outcome, here.level) == (there.kind, there.outcome, there.level)
        assert here.least_freeboard_in == pytest.approx(there.least_freeboard_in, abs=1e-6)
    dead, mirror = one.case("dead_wet").sections, other.case("dead_wet").sections
    for here, there in zip(dead, mirror, strict=True):
        assert here.heel_deg == pytest.approx(-there.heel_deg, abs=1e-6)
        assert here.trim_deg == pytest.approx(there.trim_deg, abs=1e-6)
        mirrored = [there.corners[k].freeboard_in for k in (3, 2, 1, 0)]
        assert [corner.freeboard_in for corner in here.corners] == pytest.approx(mirrored, abs=1e-6)
    assert [(c.crowd, c.holds) for c in one.people] == [(c.crowd, c.holds) for c in other.people]


def test_hinges_in_a_ring_are_floated_as_one_and_said_so():
    square = [
        Section(m, 96.0, 96.0, x_in=x, y_in=y) for m, x, y in (("A", 0, 0), ("B", 96, 0), ("C", 0, 96), ("D", 96, 96))
    ]
    proof = floated(dock(*square))
    assert len(proof.groups) == 1
    assert "hinge_ring" in {finding.code for finding in proof.findings}


def test_two_hinges_on_one_line_are_one():
    wide = Section("A", 192.0, 144.0)
    pair = [Section(m, 96.0, 60.0, x_in=192.0, y_in=y) for m, y in (("B", 0.0), ("C", 84.0))]
    proof = floated(dock(wide, *pair))
    assert [(h.first, h.second) for h in proof.hinges] == [("A", "B"), ("A", "C")]


def test_floats_given_with_their_own_size_and_lift_are_floated_so():
    # A box 48 x 24 x 16 in pushes aside 10.667 cu ft, 665.6 lb of fresh water; at 40 lb it lifts 625.6 lb.
    spots = tuple(FloatPlace(u, v, weight_lb=40.0) for u in (24, 96, 168) for v in (12, 60))
    design = laid(dock(replace(A, flotation=Flotation(placed=spots))))
    assert [f.net_lift_lb for f in design.floats] == pytest.approx([48 * 24 * 16 / 1728 * 62.4 - 40] * 6)
    assert float_proof(design, CATALOGUE, FIRM).groups[0].lift_lb == pytest.approx(6 * 48 * 24 * 16 / 1728 * 62.4)
    rated = laid(dock(replace(A, flotation=Flotation(placed=(replace(spots[0], lift_lb=500.0), *spots[1:])))))
    assert rated.floats[0].net_lift_lb == 500.0


def test_everything_that_weighs_is_in_the_model():
    spec = replace(dock(A, B, ramp=Ramp(144)), accessories=(Accessory("ladder", section="B"),))
    design = laid(spec)
    model = model_of(design, CATALOGUE, FIRM)
    weights = design.weights
    whole = (
        sum(w.frame_wet_lb + w.deck_wet_lb + w.hardware_lb + w.accessories_lb for w in weights)
        + design.ramp.reaction_lb
    )
    assert sum(mass.weight_lb for mass in model.wet) == pytest.approx(whole, abs=4)  # rounded to the pound in six sums
    assert sum(mass.weight_lb for mass in model.seasoned) < whole
    assert any(item.what == "accessory" and item.wet_lb == 25.0 for item in model.design.weighed)  # the ladder


def test_a_wet_frame_lifts_only_when_the_firm_says_so():
    spec = dock(replace(A, flotation=replace(EVEN, placed=tuple(replace(s, lift_lb=150.0) for s in EVEN.placed))))
    sunk = floated(spec).case("dead_wet").reserve_lb
    helped = floated(spec, asking(frame_buoyancy=True)).case("dead_wet").reserve_lb
    sticks = sum(p.length_in * 1.5 * p.depth_in for p in laid(spec).pieces) / 1728 * 62.4
    assert helped - sunk == pytest.approx(sticks, rel=0.02)
