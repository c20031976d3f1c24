"""What the firm holds a floating dock against. The figures to start with are common practice; none is a constant."""

from django.db import models
from django.db.models import Q

from contractor.company.models.bounds import within


class MooringChoices(models.Model):
    """The firm's slack, wind and safety for anchors and chain."""

    chain_waves_in = models.FloatField("slack for waves", default=12.0)
    chain_tie_off_in = models.FloatField("chain to tie off", default=12.0)
    chain_scope = models.FloatField("chain, times the depth", default=0.0)
    chain_wander_in = models.FloatField("most wander of a corner", default=36.0)
    wind_mph = models.FloatField("wind to hold against", default=45.0)
    wave_wind_mph = models.FloatField("wind that raises waves", default=40.0)
    wind_drag = models.FloatField("drag in wind", default=1.3)
    current_drag = models.FloatField("drag in current", default=1.5)
    boat_profile_in = models.FloatField("height of a boat in the wind", default=42.0)
    chain_share_percent = models.FloatField("share of the chain’s limit", default=100.0)
    anchor_factor = models.FloatField("anchors hold over the pull", default=1.5)

    class Meta:
        abstract = True


def mooring_bounds() -> list[models.CheckConstraint]:
    """What these figures may be, named."""
    return [
        models.CheckConstraint(
            condition=Q(chain_waves_in__gte=0, chain_waves_in__lte=120)
            & Q(chain_tie_off_in__gte=0, chain_tie_off_in__lte=120)
            & Q(chain_wander_in__gte=0, chain_wander_in__lte=2400)
            & Q(boat_profile_in__gte=0, boat_profile_in__lte=600),
            name="company_chain_lengths_are_possible",
            violation_error_message="Chain, wander and boats: from 0 to what there is.",
        ),
        within("company_winds_are_possible", ["wind_mph", "wave_wind_mph"], 250, "Wind runs from 0 to 250 mph."),
        within("company_chain_scope_is_possible", ["chain_scope"], 20, "Chain is from 0 to 20 times the depth."),
        models.CheckConstraint(
            condition=Q(wind_drag__gt=0, wind_drag__lte=5, current_drag__gt=0, current_drag__lte=5),
            name="company_drags_are_possible",
            violation_error_message="A drag coefficient is above 0 and at most 5.",
        ),
        models.CheckConstraint(
            condition=Q(chain_share_percent__gt=0, chain_share_percent__lte=100),
            name="company_chain_share_is_possible",
            violation_error_message="A share of the working load limit is above 0 and at most 100%%.",
        ),
        models.CheckConstraint(
            condition=Q(anchor_factor__gte=1, anchor_factor__lte=10),
            name="company_anchor_factor_is_possible",
            violation_error_message="Anchors hold 1 to 10 times the pull.",
        ),
    ]
