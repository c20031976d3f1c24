"""Places on the water are written down, and changed; the specs that stand there follow."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import transaction

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.records.models import Permit, Site, WorkWindow

from .specs import follow_site

Windows = Iterable[Mapping[str, Any]]


@transaction.atomic
def record_site(*, facts: Mapping[str, Any], by: Staff | None) -> Site:
    """Write down a new site. What is not in `facts` is unknown. Raises ValidationError."""
    site = Site(**facts)
    site.full_clean()
    site.save()
    log_made(site, by=by, facts=facts)
    return site


@transaction.atomic
def save_site(
    site: Site, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None, windows: Windows | None = None
) -> Site:
    """Change what is known of a site, and its work dates if given; its open specs follow.

    Raises ChangedMeanwhile, ValidationError.
    """
    saved = save_if_unchanged(site, seen_version, changes, by=by)
    if windows is not None:
        set_work_windows(saved, windows=windows, by=by)
    follow_site(saved, by=by)
    return saved


@transaction.atomic
def set_work_windows(of: Site | Permit, *, windows: Windows, by: Staff | None) -> list[WorkWindow]:
    """Replace the days on which in-water work is allowed or barred. Raises ValidationError for a day that is not."""
    before = [str(window) for window in of.work_windows.all()]
    owner = {"site": of} if isinstance(of, Site) else {"permit": of}
    new = [WorkWindow(**owner, **window) for window in windows]
    if [str(window) for window in new] == before:
        return list(of.work_windows.all())
    for window in new:
        window.full_clean()
    of.work_windows.all().delete()
    WorkWindow.objects.bulk_create(new)
    after = {"work_dates": [str(window) for window in new]}
    log_change(of, did="changed the work dates of", by=by, before={"work_dates": before}, after=after)
    return new
