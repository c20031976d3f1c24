"""Who changed what, from what to what: written in the transaction of the change itself."""

from collections.abc import Mapping
from typing import Any

from django.db import models

from contractor.company.models import ChangeLog, Staff


def log_change(
    thing: models.Model,
    *,
    did: str,
    by: Staff | None,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
) -> ChangeLog:
    """Enter one change. `did` is the verb of the trade: made, changed, sent, accepted. No `by` means the machine."""
    return ChangeLog.objects.create(
        by=by,
        by_name=by.name if by else "Wharfwright",
        kind=thing._meta.label_lower,
        object_id=str(thing.pk),
        object_name=str(thing)[:200],
        did=did,
        before=kept_values(before or {}),
        after=kept_values(after or {}),
    )


def log_made(thing: models.Model, *, by: Staff | None, facts: Mapping[str, Any] | None = None) -> ChangeLog:
    """Enter that a record was made, with what was first written in it."""
    return log_change(thing, did="made", by=by, after=facts)


def kept_values(values: Mapping[str, Any]) -> dict[str, Any]:
    """Values as the log keeps them: a linked record or a file by its name, everything else as it is."""
    return {name: _kept(value) for name, value in values.items()}


def _kept(value: Any) -> Any:
    if isinstance(value, models.Model) or hasattr(value, "storage"):
        return str(value)
    return value
