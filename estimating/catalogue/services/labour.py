"""Labour rates and factors: the firm's own hours in the place of the starter's."""

from collections.abc import Mapping
from decimal import Decimal

from django.db import transaction

from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from estimating.catalogue.models import LabourFactor, LabourRate

from .refusals import CatalogueRefusal

Row = LabourRate | LabourFactor


class LabourChangedMeanwhile(CatalogueRefusal):
    """Nothing was saved: `rows` are the ones somebody else changed since they were read, as they stand now."""

    def __init__(self, conflicts: list[ChangedMeanwhile]) -> None:
        self.rows: list[Row] = [conflict.thing for conflict in conflicts]
        self.by_name, self.at = conflicts[0].by_name, conflicts[0].at
        super().__init__(f"{self.by_name} changed the hours meanwhile.")


@transaction.atomic
def save_labour(
    *,
    rates: Mapping[LabourRate, tuple[int, Decimal]],
    factors: Mapping[LabourFactor, tuple[int, Decimal]],
    by: Staff,
) -> None:
    """Write hours and factors, each with the version that was seen.

    A rate that changes is the firm's own from then on. Raises LabourChangedMeanwhile with every row that was saved by
    somebody else first, and changes nothing.
    """
    conflicts = []
    for row, (seen_version, figure) in {**rates, **factors}.items():
        try:
            save_if_unchanged(row, seen_version, _changes(row, figure), by=by)
        except ChangedMeanwhile as conflict:
            conflicts.append(conflict)
    if conflicts:
        raise LabourChangedMeanwhile(conflicts)


def _changes(row: Row, figure: Decimal) -> dict[str, object]:
    if isinstance(row, LabourFactor):
        return {"factor": figure}
    return {"hours_per_unit": figure} | ({"source": "FIRM"} if figure != row.hours_per_unit else {})
