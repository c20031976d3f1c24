"""Labour rates and factors: the firm's own hours in the place of the starter's."""

from collections.abc import Mapping
from decimal import Decimal

from django.db import transaction

from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from estimating.catalogue.models import LabourFactor, LabourRate


@transaction.atomic
def save_labour(
    *, rates: Mapping[LabourRate, tuple[int, Decimal]], factors: Mapping[LabourFactor, tuple[int, Decimal]], by: Staff
) -> int:
    """Write hours and factors, each with the version that was seen; returns how many changed.

    A rate that changes is the firm's own from then on. Raises ChangedMeanwhile and changes nothing when any of them
    was saved by somebody else first.
    """
    changed = 0
    for rate, (seen_version, hours) in rates.items():
        changes = {"hours_per_unit": hours} | ({"source": "FIRM"} if hours != rate.hours_per_unit else {})
        changed += save_if_unchanged(rate, seen_version, changes, by=by).version != seen_version
    for factor, (seen_version, value) in factors.items():
        changed += save_if_unchanged(factor, seen_version, {"factor": value}, by=by).version != seen_version
    return changed
