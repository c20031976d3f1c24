"""What the firm asks of a ramp and of the water under the floats, over the whole range of levels."""

from django.db import models
from django.db.models import F, Q


class RangeChoices(models.Model):
    """Slopes as 1 up in so many out. The figures to start with are common practice; none is a constant."""

    ramp_comfortable = models.FloatField("comfortable ramp, 1 in", default=4.0)
    ramp_steep = models.FloatField("steep ramp, 1 in", default=3.0)
    ramp_refuse = models.FloatField("steepest ramp, 1 in", default=2.0)
    float_clearance_in = models.FloatField("water under the floats", default=12.0)

    class Meta:
        abstract = True


def range_bounds() -> list[models.CheckConstraint]:
    """What these figures may be, named."""
    return [
        models.CheckConstraint(
            condition=Q(ramp_refuse__gte=1, ramp_refuse__lte=F("ramp_steep"), ramp_comfortable__lte=100)
            & Q(ramp_steep__lte=F("ramp_comfortable")),
            name="company_ramp_slopes_are_possible",
            violation_error_message="Each slope is flatter than the next: comfortable, steep, steepest. From 1:1.",
        ),
        models.CheckConstraint(
            condition=Q(float_clearance_in__gte=0, float_clearance_in__lte=240),
            name="company_float_clearance_is_possible",
            violation_error_message="Water under the floats runs from 0 to 20 ft (6.1 m).",
        ),
    ]
