"""Wood density by the NDS Supplement formula; specific gravities of NDS 2018 Table 12.3.3A."""

import pytest

from estimating.engine.lumber import SPECIFIC_GRAVITY, wood_density_lb_per_cuft

# Worked out by hand calculator from the published formula at 12, 19, 25 and 30 % moisture.
FROM_FORMULA = {
    0.55: (36.28, 37.33, 38.18, 38.85),
    0.50: (33.15, 34.20, 35.06, 35.74),
    0.42: (28.08, 29.10, 29.93, 30.60),
}


@pytest.mark.parametrize("gravity", FROM_FORMULA)
def test_it_weighs_wood_by_the_published_formula(gravity: float) -> None:
    for moisture, expected in zip((12, 19, 25, 30), FROM_FORMULA[gravity], strict=True):
        density = wood_density_lb_per_cuft(specific_gravity=gravity, moisture_percent=moisture)
        assert density == pytest.approx(expected, abs=0.006)


def test_it_knows_the_published_specific_gravities() -> None:
    published = {"Southern Pine": 0.55, "Douglas Fir-Larch": 0.50, "Hem-Fir": 0.43, "Spruce-Pine-Fir": 0.42}
    published |= {"Western Cedars": 0.36, "Redwood": 0.37, "Northern White Cedar": 0.31, "Hem-Fir (North)": 0.46}
    assert published.items() <= SPECIFIC_GRAVITY.items()


def test_it_weighs_bone_dry_wood_at_its_specific_gravity() -> None:
    # Definition: G is oven-dry weight over the weight of as much water.
    assert wood_density_lb_per_cuft(specific_gravity=0.5, moisture_percent=0) == pytest.approx(31.2)


@pytest.mark.parametrize(("gravity", "moisture"), [(0, 12), (-0.5, 12), (2, 12), (0.5, -1)])
def test_it_refuses_wood_that_cannot_be(gravity: float, moisture: float) -> None:
    with pytest.raises(ValueError):
        wood_density_lb_per_cuft(specific_gravity=gravity, moisture_percent=moisture)
