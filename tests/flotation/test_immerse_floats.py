"""The immersed-volume kernel against a general geometry library, against numerical slices, and against solids whose
volume has been known since Archimedes. Sources: geometry; the second opinions named in each test."""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.spatial import ConvexHull, HalfspaceIntersection

from estimating.engine.flotation.immersion import immerse_boxes
from estimating.engine.flotation.round_immersion import immerse_rounds

NOWHERE = np.zeros((3, 1, 1))


def column(*values):
    return np.array(values, dtype=float).reshape(len(values), 1, 1)


def random_attitudes(rng, count, near_level):
    """Up vectors of any lean, or of a lean of ten degrees or less down to a billionth."""
    up = rng.normal(size=(3, count, 1))
    if near_level:
        up[:2] *= 10.0 ** rng.uniform(-9, -0.8, (2, count, 1))
        up[2] = 1.0
    return up / np.linalg.norm(up, axis=0)


def cut_solid(size, up, height):
    """The wet part of one box as a general polyhedron: intersected half spaces, then their hull."""
    half = size / 2
    walls = np.vstack([np.hstack([np.eye(3), -half[:, None]]), np.hstack([-np.eye(3), -half[:, None]])])
    deepest = -np.copysign(half, up)
    depth = -(height + up @ deepest)
    inner = deepest + np.copysign(np.minimum(half, depth / 8 / np.maximum(np.abs(up), 1e-12)), up)
    return HalfspaceIntersection(np.vstack([walls, [*up, height]]), inner).intersections


def middle_of(hull):
    """Centroid of a hull, by the tetrahedra from one of its own points."""
    start = hull.points[hull.simplices[0, 0]]
    corners = hull.points[hull.simplices] - start
    volumes = np.abs(np.linalg.det(corners))
    return start + (volumes @ corners.sum(1)) / 4 / volumes.sum()


@pytest.mark.parametrize("near_level", [False, True], ids=["any attitude", "near level"])
def test_it_agrees_with_a_general_geometry_library_on_boxes(near_level):
    rng = np.random.default_rng(7)
    count = 1000
    size = rng.uniform(5, 100, (3, count, 1))
    up = random_attitudes(rng, count, near_level)
    height = rng.uniform(-0.95, 0.95, (count, 1)) * 0.5 * (np.abs(up) * size).sum(0)
    wet = immerse_boxes(size, NOWHERE, up, height)
    for i in range(count):
        hull = ConvexHull(cut_solid(size[:, i, 0], up[:, i, 0], height[i, 0]))
        assert wet.volume_in3[i, 0] == pytest.approx(hull.volume, rel=1e-9)
        middle = wet.moment_in4[:, i, 0] / wet.volume_in3[i, 0]
        assert middle == pytest.approx(middle_of(hull), abs=1e-8 * size[:, i, 0].max())


def test_it_agrees_with_a_general_geometry_library_on_the_water_plane():
    rng = np.random.default_rng(11)
    for _ in range(300):
        size, up = rng.uniform(5, 100, 3), random_attitudes(rng, 1, False)[:, 0, 0]
        height = rng.uniform(-0.9, 0.9) * 0.5 * np.abs(up) @ size
        points = cut_solid(size, up, height)
        on_plane = points[np.abs(points @ up + height) < 1e-7]
        across = np.linalg.svd(up[None])[2][1:]
        area = ConvexHull(on_plane @ across.T).volume
        wet = immerse_boxes(column(*size), NOWHERE, column(*up), np.array([[height]]))
        assert wet.plane[3, 3, 0, 0] == pytest.approx(area, rel=1e-9)


@pytest.mark.parametrize(
    ("depth_ft", "area_ft2", "width_ft"), [(0.5, 0.6142, 1.732), (1.0, 1.5708, 2.000), (1.5, 2.5274, 1.732)]
)
def test_it_agrees_with_the_segment_tables_on_a_level_round_float(depth_ft, area_ft2, width_ft):
    # Check case 7.12: radius 1.0 ft, per foot of length; closed form of the circular segment.
    wet = immerse_rounds(column(1, 2, 2), NOWHERE, column(0, 0, 1), np.array([[1.0 - depth_ft]]))
    assert wet.volume_in3[0, 0] == pytest.approx(area_ft2, abs=5e-5)
    assert wet.plane[3, 3, 0, 0] == pytest.approx(width_ft, abs=5e-4)


def test_it_cuts_the_hoof_of_archimedes_from_a_plumb_round_float():
    # A plane through the diameter of the foot cuts off 2/3 r r h: Archimedes, The Method, proposition 11.
    radius, rise = 3.0, 4.0
    up = np.array([radius, 0.0, -rise]) / np.hypot(radius, rise)
    wet = immerse_rounds(column(20, 6, 6), NOWHERE, column(*up), np.array([[10 * up[0]]]))
    assert wet.volume_in3[0, 0] == pytest.approx(2 / 3 * radius**2 * rise, rel=1e-12)


def sliced_volume(length, radius, up, height):
    lean = math.hypot(up[1], up[2])

    def area(x):
        t = min(max(-(height + up[0] * x) / lean / radius, -1.0), 1.0)
        return radius**2 * (math.acos(-t) + t * math.sqrt(1 - t * t))

    bends = [(-height + sign * lean * radius) / up[0] for sign in (-1, 1)]
    places = [-length / 2, *sorted(x for x in bends if abs(x) < length / 2), length / 2]
    return sum(quad(area, a, b, epsabs=0, epsrel=1e-11)[0] for a, b in pairwise(places))


@pytest.mark.filterwarnings("ignore::scipy.integrate.IntegrationWarning")
def test_it_agrees_with_adaptive_slices_on_round_floats():
    rng = np.random.default_rng(13)
    for _ in range(400):
        length, radius = rng.uniform(5, 200), rng.uniform(3, 30)
        up = rng.normal(size=3) * [10.0 ** rng.uniform(-8, 0), 1, 1]
        up /= np.linalg.norm(up)
        height = rng.uniform(-0.95, 0.95) * (abs(up[0]) * length / 2 + math.hypot(up[1], up[2]) * radius)
        wet = immerse_rounds(column(length, 2 * radius, 2 * radius), NOWHERE, column(*up), np.array([[height]]))
        assert wet.volume_in3[0, 0] == pytest.approx(sliced_volume(length, radius, up, height), rel=1e-9)


@pytest.mark.parametrize("kernel", [immerse_boxes, immerse_rounds], ids=["box", "round"])
def test_its_volume_and_water_plane_are_the_slopes_of_one_energy(kernel):
    """Energy = integral of depth = -(n.moment + h volume); differences of it must give moments and plane."""
    rng = np.random.default_rng(17)
    for _ in range(60):
        size = rng.uniform(10, 60, (3, 1, 1))
        size[2] = size[1]
        centre = rng.normal(size=(3, 1, 1)) * 5
        at = np.append(rng.normal(size=3), rng.normal() * 8)

        def slopes(x, size=size, centre=centre):
            long = np.linalg.norm(x[:3])
            wet = kernel(size, centre, (x[:3] / long).reshape(3, 1, 1), np.array([[x[3] / long]]))
            slope = -np.append(wet.moment_in4[:, 0, 0], wet.volume_in3[0, 0])
            return x @ slope, slope, wet.plane[:, :, 0, 0] / long

        steps = np.eye(4) * 1e-5
        _, slope, curvature = slopes(at)
        by_energy = [(slopes(at + d)[0] - slopes(at - d)[0]) / 2e-5 for d in steps]
        by_slope = [(slopes(at + d)[1] - slopes(at - d)[1]) / 2e-5 for d in steps]
        scale = size.prod()
        assert slope == pytest.approx(by_energy, abs=1e-7 * scale * 50)
        assert curvature == pytest.approx(np.array(by_slope), abs=1e-6 * scale * 50)


def test_it_takes_a_float_wholly_under_or_dry_as_it_is():
    for kernel in (immerse_boxes, immerse_rounds):
        size, up = column(40, 16, 16), column(0.6, 0.0, 0.8)
        full = 40 * 16 * 16 if kernel is immerse_boxes else 40 * math.pi * 64
        for height, volume in ((-500.0, full), (500.0, 0.0)):
            wet = kernel(size, NOWHERE, up, np.array([[height]]))
            assert wet.volume_in3[0, 0] == pytest.approx(volume, abs=1e-9 * full)
            assert np.abs(wet.plane).max() < 1e-6
