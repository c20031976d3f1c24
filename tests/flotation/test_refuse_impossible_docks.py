"""What no dock can be is refused, and the refusal names the field. Common sense, no source."""

import math

import pytest

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import (
    Assembly,
    FloatBody,
    FloatShape,
    FlotationInputError,
    Hinge,
    Mass,
    PointLoad,
    RigidBody,
    WaterDensity,
    buoyancy_factor_from_rating,
    join_rigidly,
)
from estimating.engine.flotation.loads import LoadCase
from tests.flotation.docks import chain, check_dock

DECK = ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


@pytest.mark.parametrize(
    ("field", "make"),
    [
        ("length_in", lambda: FloatBody(0, 1, 1)),
        ("height_in", lambda: FloatBody(1, 1, math.nan)),
        ("buoyancy_factor", lambda: FloatBody(1, 1, 1, buoyancy_factor=0)),
        ("own_weight_lb", lambda: FloatBody(1, 1, 1, own_weight_lb=-1)),
        ("x_in", lambda: FloatBody(1, 1, 1, x_in=math.inf)),
        ("width_in", lambda: FloatBody(10, 4, 5, shape=FloatShape.ROUND)),
        ("weight_lb", lambda: Mass(-1)),
        ("z_in", lambda: PointLoad(0, 1, 0, 0, math.nan)),
        ("lb_per_ft3", lambda: WaterDensity(0)),
        ("deck", lambda: RigidBody("A", (FloatBody(1, 1, 1),), Mass(1), DECK[:2])),
        ("second", lambda: Hinge(1, 1, 0, 0, 0, 1)),
        ("x1_in", lambda: Hinge(0, 1, 2, 3, 2, 3)),
        ("bodies", lambda: Assembly((RigidBody("A", (), Mass(1), DECK),))),
        ("hinges", lambda: Assembly((check_dock(),), (Hinge(0, 1, 0, 0, 0, 1),))),
        ("bodies", lambda: join_rigidly("A", (), DECK)),
        ("net_lift_lb", lambda: buoyancy_factor_from_rating(net_lift_lb=0, own_weight_lb=1, gross_volume_in3=1)),
        ("own_weight_lb", lambda: buoyancy_factor_from_rating(net_lift_lb=1, own_weight_lb=-1, gross_volume_in3=1)),
        ("gross_volume_in3", lambda: buoyancy_factor_from_rating(net_lift_lb=1, own_weight_lb=1, gross_volume_in3=0)),
    ],
)
def test_it_names_the_field_that_cannot_be(field, make):
    with pytest.raises(FlotationInputError) as trouble:
        make()
    assert trouble.value.field == field


def test_it_joins_sections_stiffly_into_one():
    first, second = chain(2).bodies
    deck = (first.deck[0], second.deck[1], second.deck[2], first.deck[3])
    whole = join_rigidly("both", (first, second), deck)
    assert (len(whole.floats), whole.frame) == (12, Mass(1640, 192, 0, 20))
    (result,) = DockAfloat(Assembly((whole,))).solve([LoadCase("dead")])
    (alone,) = DockAfloat(Assembly((first,))).solve([LoadCase("dead")])
    assert result.least_freeboard_in == pytest.approx(alone.least_freeboard_in, abs=1e-9)
    assert DockAfloat(Assembly((first,))).solve([]) == ()
