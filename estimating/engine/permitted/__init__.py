"""What authorities allow, as numbers and days, held against a dock: exact at the limit, each with its reason."""

from .dates import BARRED, DateFault, DayRange, PermitDays, Window, date_faults
from .exact import exact_in, exact_sqft
from .limits import PermitLimits, SideLines
from .measures import MEASURES, Measured
from .verdicts import BREAKS, KEEPS, UNKNOWN, Verdict, limit_findings, verdicts

__all__ = [
    "BARRED",
    "BREAKS",
    "KEEPS",
    "MEASURES",
    "UNKNOWN",
    "DateFault",
    "DayRange",
    "Measured",
    "PermitDays",
    "PermitLimits",
    "SideLines",
    "Verdict",
    "Window",
    "date_faults",
    "exact_in",
    "exact_sqft",
    "limit_findings",
    "verdicts",
]
