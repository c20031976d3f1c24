"""How the firm saws lumber. The figures to start with are common practice; none is a constant."""

from django.db import models
from django.db.models import Q


class SawingChoices(models.Model):
    """What a cut loses, what a stick may be trusted to run over its name, and which offcuts are kept."""

    kerf_in = models.FloatField("lost at each cut", default=0.125)
    end_trim_in = models.FloatField("squared off every new stick", default=0.0)
    stick_over_in = models.FloatField("sticks run over their name by", default=0.0)
    keep_offcut_in = models.FloatField("offcuts kept from", default=36.0)
    offcuts_first = models.BooleanField("cut offcuts from the yard first", default=True)

    class Meta:
        abstract = True


def sawing_bounds() -> list[models.CheckConstraint]:
    """What these figures may be, named."""
    return [
        models.CheckConstraint(
            condition=Q(kerf_in__gte=0, kerf_in__lte=1, end_trim_in__gte=0, end_trim_in__lte=12),
            name="company_kerf_is_possible",
            violation_error_message="A cut loses at most 1 in, the squared end at most 12 in.",
        ),
        models.CheckConstraint(
            condition=Q(stick_over_in__gte=0, stick_over_in__lte=2),
            name="company_stick_over_is_possible",
            violation_error_message="Sticks are trusted to run at most 2 in over their name.",
        ),
        models.CheckConstraint(
            condition=Q(keep_offcut_in__gte=1, keep_offcut_in__lte=240),
            name="company_keep_offcut_is_possible",
            violation_error_message="Offcuts are kept from 1 in to 20 ft.",
        ),
    ]
