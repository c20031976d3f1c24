"""The numbers an authority sets for a dock, kept as numbers so that every spec can be checked against them."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from contractor.company.models import CheckedAtOnce
from estimating.engine.permitted import PermitLimits

from .bounds import above_zero, not_below_zero


class DockLimits(CheckedAtOnce):
    """What a dock may be at most, or must keep at least. None means no such limit is known."""

    most_width_in = models.FloatField("width at most", null=True, blank=True)
    most_area_sqft = models.FloatField("area at most", null=True, blank=True)
    most_reach_in = models.FloatField("reach at most", null=True, blank=True)
    most_walkway_width_in = models.FloatField("walkway width at most", null=True, blank=True)
    least_setback_in = models.FloatField("from each side line at least", null=True, blank=True)
    least_clearance_in = models.FloatField("water under the floats at least", null=True, blank=True)
    least_deck_open_percent = models.FloatField(
        "deck open at least", null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(100)]
    )

    class Meta:
        abstract = True

    @property
    def has_limits(self) -> bool:
        return any(getattr(self, name) is not None for name in LIMIT_FIELDS)

    def limits_by(self, by: str) -> PermitLimits:
        """The same numbers for the engine, with who set them."""
        return PermitLimits(by, **{name: getattr(self, name) for name in LIMIT_FIELDS})


LIMIT_FIELDS = (
    "most_width_in",
    "most_area_sqft",
    "most_reach_in",
    "most_walkway_width_in",
    "least_setback_in",
    "least_clearance_in",
    "least_deck_open_percent",
)


def limit_bounds(record: str) -> list[models.CheckConstraint]:
    """The same limits on limits, named for the record that carries them."""
    return [
        above_zero("most_width_in", f"{record}_most_width", "A width limit is more than nothing."),
        above_zero("most_area_sqft", f"{record}_most_area", "An area limit is more than nothing."),
        above_zero("most_reach_in", f"{record}_most_reach", "A reach limit is more than nothing."),
        above_zero("most_walkway_width_in", f"{record}_most_walkway", "A walkway limit is more than nothing."),
        not_below_zero("least_setback_in", f"{record}_least_setback", "A setback is zero or more."),
        not_below_zero("least_clearance_in", f"{record}_least_clearance", "A clearance is zero or more."),
        models.CheckConstraint(
            condition=models.Q(least_deck_open_percent__gte=0, least_deck_open_percent__lte=100)
            | models.Q(least_deck_open_percent__isnull=True),
            name=f"{record}_deck_open_percent",
            violation_error_message="Open deck is between 0 and 100 percent.",
        ),
    ]
