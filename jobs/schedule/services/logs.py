"""Lines of the logs are added and struck out, never changed."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.records.models.saying import day_said
from jobs.schedule.models import DelayLog, DepositIn, Waiver, WeatherLog
from jobs.supply.models import HoldKind
from jobs.supply.services import end_holds

from .facts import deposit_of, read_afresh

Line = DepositIn | Waiver | WeatherLog | DelayLog


@transaction.atomic
def take_deposit(job: Job, *, amount: Decimal, cleared_on: date, by: Staff, how: str = "") -> DepositIn:
    """Note money of the deposit that has cleared. Raises ValidationError."""
    kept = _keep(DepositIn(job=job, amount=amount, cleared_on=cleared_on, how=how.strip()), by)
    if deposit_of(read_afresh(job)).is_in:
        said = day_said(cleared_on, short=True, weekday=True)
        end_holds(job, kinds=[HoldKind.DEPOSIT], why=f"The deposit cleared {said}.")
    return kept


@transaction.atomic
def take_risk(job: Job, *, gate: str, reason: str, by: Staff, stage: str = "") -> Waiver:
    """The owner answers for a gate of a job. Raises PermissionError for anybody else, ValidationError."""
    if not by.is_owner:
        raise PermissionError("Only the owner takes this risk.")
    return _keep(Waiver(job=job, gate=gate, stage=stage, reason=reason.strip()), by)


@transaction.atomic
def log_weather(*, facts: Mapping[str, Any], by: Staff) -> WeatherLog:
    """A day the weather took. Raises ValidationError."""
    return _keep(WeatherLog(**facts), by)


@transaction.atomic
def log_delay(job: Job, *, facts: Mapping[str, Any], by: Staff) -> DelayLog:
    """Why a job is later than it was to be. Raises ValidationError."""
    return _keep(DelayLog(job=job, **facts), by)


@transaction.atomic
def strike_out(line: Line, *, by: Staff) -> Line:
    """A wrong line no longer counts, and stays readable."""
    if not line.struck_out:
        line.struck_out = True
        line.save(update_fields=["struck_out"])
        log_change(line, did="struck out", by=by, before={"struck_out": False}, after={"struck_out": True})
    return line


def _keep(line: Any, by: Staff) -> Any:
    line.by, line.by_name = by, by.name
    line.full_clean()
    line.save()
    names = [field.name for field in line._meta.fields if field.name not in ("id", "at", "by", "by_name", "struck_out")]
    log_made(line, by=by, facts={name: getattr(line, name) for name in names})
    return line
