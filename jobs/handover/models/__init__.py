"""What the customer is left with, and the visits that follow from it."""

from .packages import HandOver, PackageStays
from .seasons import SeasonDates, SeasonVisit, VisitKind

__all__ = ["HandOver", "PackageStays", "SeasonDates", "SeasonVisit", "VisitKind"]
