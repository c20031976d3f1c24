"""The home page kept as it was written, until anything that it speaks of changes."""

from collections.abc import Callable
from datetime import date
from hashlib import sha256

from django.core.cache import cache

from contractor.company.current import firm
from jobs.board.asked import LOG, NEWEST

A_DAY_S = 24 * 3600


def kept(asked: tuple[object, ...], write: Callable[[], str], *, on: date) -> str:
    """What `write` gives for this question, written once for as long as nothing changes."""
    key = f"board-{sha256(repr((asked, on, _stamp())).encode()).hexdigest()}"
    found = cache.get(key)
    if found is None:
        found = write()
        cache.set(key, found, A_DAY_S)
    return found


def _stamp() -> tuple[object, ...]:
    """Differs as soon as anybody changed anything: every change is logged in its own transaction."""
    company = firm()
    return LOG.rows(), NEWEST.rows(), company and company.version
