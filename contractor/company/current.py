"""The firm of this request, read from the database once."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from contractor.company.models import Company, Units
from contractor.quantities import System

# Asked a thousand times for a page, and an enumeration is slow to ask.
_METRIC = Units.METRIC.value

_kept: ContextVar[dict[str, object] | None] = ContextVar("firm of this request", default=None)


@contextmanager
def one_reading() -> Iterator[None]:
    """Within this, the firm is read once; outside, every time it is asked for."""
    token = _kept.set({})
    try:
        yield
    finally:
        _kept.reset(token)


def firm() -> Company | None:
    """The firm, or None before it is named."""
    kept = _kept.get()
    if kept is None:
        return Company.objects.the_firm()
    if "firm" not in kept:
        kept["firm"] = Company.objects.the_firm()
    return kept["firm"]  # type: ignore[return-value]


def forget() -> None:
    """The firm was saved: read it again when next asked."""
    kept = _kept.get()
    if kept is not None:
        kept.clear()


def units() -> System:
    """The firm's units; feet and inches before it is named."""
    named = firm()
    return "metric" if named and named.units == _METRIC else "imperial"
