"""Permits are noted, followed and filed, one authority at a time."""

from collections.abc import Callable, Mapping
from typing import Any

from django.db import transaction

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.records.models import Job, Permit

from .sites import Windows, set_work_windows

_AFTER_PERMIT: list[Callable[..., Any]] = []


def when_permitted(follow: Callable[..., Any]) -> None:
    """A later room asks to be called, as `follow(permit, by=...)`, in the transaction that changes a permit."""
    if follow not in _AFTER_PERMIT:
        _AFTER_PERMIT.append(follow)


def _followed(permit: Permit, by: Staff | None) -> Permit:
    for follow in _AFTER_PERMIT:
        follow(permit, by=by)
    return permit


@transaction.atomic
def record_permit(job: Job, *, facts: Mapping[str, Any], by: Staff | None, windows: Windows = ()) -> Permit:
    """Note that an authority must, or need not, permit this job. Raises ValidationError."""
    permit = Permit(job=job, **facts)
    permit.full_clean()
    permit.save()
    log_made(permit, by=by, facts={name: getattr(permit, name) for name in facts})
    set_work_windows(permit, windows=windows, by=by)
    job.save(update_fields=["find_text"])
    return _followed(permit, by)


@transaction.atomic
def save_permit(
    permit: Permit, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None, windows: Windows | None = None
) -> Permit:
    """Change what is known of a permit, and its work dates if given. Raises ChangedMeanwhile, ValidationError."""
    saved = save_if_unchanged(permit, seen_version, changes, by=by)
    if windows is not None:
        set_work_windows(saved, windows=windows, by=by)
    saved.job.save(update_fields=["find_text"])
    return _followed(saved, by)
