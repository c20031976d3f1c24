"""Hand-over in one press, the visits that follow, and what the job came to."""

from .costing import JobCost, cost_of
from .packages import AlreadySigned, DefectsOpen, Signature, handed_over, make_package, package_now, sign_package
from .seasons import (
    Reminder,
    dates_now,
    drop_visit,
    last_visit,
    plan_visits,
    reminders_on,
    save_dates,
    visit_done,
)

__all__ = [
    "AlreadySigned",
    "DefectsOpen",
    "JobCost",
    "Reminder",
    "Signature",
    "cost_of",
    "dates_now",
    "drop_visit",
    "handed_over",
    "last_visit",
    "make_package",
    "package_now",
    "plan_visits",
    "reminders_on",
    "save_dates",
    "sign_package",
    "visit_done",
]
