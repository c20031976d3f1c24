"""Visits of the season: planned from the hand-over, reminded of in time, each followed by the next year's."""

import datetime
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.handover.models import SeasonDates, SeasonVisit, VisitKind
from jobs.records.models import Job


@dataclass(frozen=True, slots=True)
class Reminder:
    """A visit that comes up or is late; days below zero are late."""

    visit: SeasonVisit
    days: int

    @property
    def late_days(self) -> int:
        return max(0, -self.days)


def dates_now() -> SeasonDates:
    """The firm's dates, made with starter figures the first time."""
    return SeasonDates.objects.get_or_create(pk=1)[0]


@transaction.atomic
def save_dates(*, seen_version: int, changes: dict[str, object], by: Staff) -> SeasonDates:
    """The firm's own dates; visits on the list stay where they are. Raises ChangedMeanwhile, ValidationError."""
    dates = dates_now()
    for month, day in (("out_month", "out_day"), ("in_month", "in_day")):
        _day_of(2024, changes.get(month, getattr(dates, month)), changes.get(day, getattr(dates, day)), day)
    return save_if_unchanged(dates, seen_version, changes, by=by)


@transaction.atomic
def plan_visits(job: Job, *, from_day: datetime.date, by: Staff) -> list[SeasonVisit]:
    """The first check, the next haul-out and the put-in after it. A visit already on the list stays."""
    dates = dates_now()
    out = _next(from_day, dates.out_month, dates.out_day)
    planned = [
        (VisitKind.FIRST_CHECK, from_day + datetime.timedelta(weeks=dates.first_check_weeks)),
        (VisitKind.HAUL_OUT, out),
        (VisitKind.PUT_IN, _next(out, dates.in_month, dates.in_day)),
    ]
    open_kinds = set(job.season_visits.open().values_list("kind", flat=True))
    return [_plan(job, kind, day, by) for kind, day in planned if kind not in open_kinds]


@transaction.atomic
def visit_done(visit: SeasonVisit, *, seen_version: int, facts: dict[str, object], by: Staff) -> SeasonVisit:
    """What was done and found. A haul-out or a put-in is followed by the one a year later.

    Raises ChangedMeanwhile, ValidationError for a day ahead or a visit that is no longer open.
    """
    if facts["done_on"] > timezone.localdate():
        raise ValidationError({"done_on": "It was done today or earlier."})
    if not visit.is_open:
        raise ValidationError("This visit is closed already.")
    done = save_if_unchanged(visit, seen_version, {**facts, "done_by_name": by.name}, by=by, did="done")
    if done.kind != VisitKind.FIRST_CHECK:
        _plan(done.job, done.kind, _a_year_later(done.due_on), by)
    return done


@transaction.atomic
def drop_visit(visit: SeasonVisit, *, seen_version: int, why: str, by: Staff) -> SeasonVisit:
    """Take a visit off the list, with the reason: the customer does it, the dock is gone."""
    if not why.strip():
        raise ValidationError({"why": "Say why it is not done."})
    return save_if_unchanged(visit, seen_version, {"dropped_why": why.strip()[:200]}, by=by, did="dropped")


def last_visit(visit: SeasonVisit) -> SeasonVisit | None:
    """The visit done last before this one: what it found is on this one's sheet."""
    done = visit.job.season_visits.filter(done_on__isnull=False).exclude(pk=visit.pk)
    return done.filter(due_on__lte=visit.due_on).order_by("-done_on", "-pk").first()


def reminders_on(day: datetime.date) -> list[Reminder]:
    """Visits due within the firm's days of warning, and those that are late; the most pressing first."""
    until = day + datetime.timedelta(days=dates_now().remind_days)
    return [Reminder(visit, (visit.due_on - day).days) for visit in SeasonVisit.objects.in_full().due_by(until)]


def _plan(job: Job, kind: str, day: datetime.date, by: Staff) -> SeasonVisit:
    visit, made = SeasonVisit.objects.get_or_create(job=job, kind=kind, due_on=day)
    if made:
        log_made(visit, by=by, facts={"kind": kind, "due_on": day})
    return visit


def _next(after: datetime.date, month: int, day: int) -> datetime.date:
    this_year = _day_of(after.year, month, day)
    return this_year if this_year > after else _day_of(after.year + 1, month, day)


def _a_year_later(day: datetime.date) -> datetime.date:
    return _day_of(day.year + 1, day.month, day.day)


def _day_of(year: int, month: int, day: int, field: str = "") -> datetime.date:
    """The day, or 28 February for 29 in a common year. Raises ValidationError for 31 June."""
    try:
        return datetime.date(year, month, day)
    except ValueError as wrong:
        if (month, day) == (2, 29):
            return datetime.date(year, 2, 28)
        message = "There is no such day in the year."
        raise ValidationError({field: message} if field else message) from wrong
