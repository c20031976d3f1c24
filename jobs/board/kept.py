"""The home page kept as it was written, until anything that it speaks of changes."""

from collections.abc import Callable
from datetime import date
from hashlib import sha256

from django.core.cache import cache
from django.db.models import Count, Max, Sum

from contractor.company.current import firm
from contractor.company.models import ChangeLog
from jobs.records.models import Job

A_DAY_S = 24 * 3600
RECENT = 500  # entries; no change takes longer than that many others


def kept(asked: tuple[object, ...], write: Callable[[], str], *, on: date) -> str:
    """What `write` gives for this question, written once for as long as nothing changes."""
    key = f"board-{sha256(repr((asked, on, _stamp())).encode()).hexdigest()}"
    found = cache.get(key)
    if found is None:
        found = write()
        cache.set(key, found, A_DAY_S)
    return found


def _stamp() -> tuple[object, ...]:
    """Differs as soon as anybody changed anything: every change is logged in its own transaction.

    The last entry alone is not enough: one with an earlier number may be committed after it.
    """
    recent = ChangeLog.objects.order_by("-pk")[:RECENT]
    log = recent.aggregate(entries=Count("pk"), last=Max("pk"), sum=Sum("pk"), at=Max("at"))
    company = firm()
    return *log.values(), company and company.version, Job.objects.aggregate(pk=Max("pk"))["pk"]
