"""Keeping a Check of a spec as it is, with a reason that stays on record."""

from django.db import transaction

from contractor.company.journal import log_change
from contractor.company.models import Staff
from jobs.records.models import KeptCheck, SpecRevision


@transaction.atomic
def keep_check(revision: SpecRevision, *, key: str, headline: str, reason: str, by: Staff) -> KeptCheck:
    """Write down that this Check stands as it is, and why. `key` is what the finding says in engine units.

    Raises ValidationError when no reason is given.
    """
    kept = KeptCheck(revision=revision, key=key, headline=headline, reason=reason.strip(), by=by, by_name=by.name)
    kept.full_clean()
    kept.save()
    log_change(revision, did="kept a check", by=by, after={"check": headline, "reason": kept.reason})
    return kept


def kept_checks(revision: SpecRevision) -> dict[str, KeptCheck]:
    """By key, the newest reason first: what was kept for this dock on this revision or one before it."""
    found = KeptCheck.objects.filter(
        revision__job_id=revision.job_id, revision__position__lte=revision.position
    ).order_by("at", "pk")
    return {kept.key: kept for kept in found}
