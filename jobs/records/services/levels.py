"""Water is measured: its range, what was read, how deep it is. What was measured is struck out, never erased."""

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from contractor.company.journal import log_change, log_made
from contractor.company.models import ChangeLog, Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from jobs.records.models import DepthPoint, LevelRange, LevelReading, Site

from .specs import follow_site

CHANGED_DEPTHS = "changed the depths of"
NOT_YET = 0  # the version of a range that nobody wrote yet


class DepthsChangedMeanwhile(Exception):
    """Somebody saved the depths first; nothing was saved.

    `version` is the one to send with the next try, `standing` what stands now, `by_name` and `at` say who and when.
    """

    def __init__(self, site: Site) -> None:
        super().__init__(f"the depths of {site} were changed meanwhile")
        last = ChangeLog.objects.about(site).filter(did=CHANGED_DEPTHS).newest_first().first()
        self.version: int = site.depths_version
        self.standing = site.depths_standing()
        self.by_name: str = last.by_name if last else "Somebody"
        self.at: datetime.datetime | None = last.at if last else None


@transaction.atomic
def save_levels(site: Site, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> LevelRange:
    """Write or change a site's range of levels; its open specs follow. `seen_version` 0 means none was there.

    Raises ChangedMeanwhile, ValidationError.
    """
    Site.objects.select_for_update().get(pk=site.pk)
    standing = LevelRange.objects.filter(site=site).first()
    if standing is None:
        standing = _first_levels(site, changes, by)
    elif seen_version == NOT_YET:
        raise ChangedMeanwhile(standing, seen_version, changes)
    else:
        standing = save_if_unchanged(standing, seen_version, changes, by=by)
    follow_site(Site.objects.get(pk=site.pk), by=by)
    return standing


@transaction.atomic
def record_reading(site: Site, *, facts: Mapping[str, Any], by: Staff | None) -> LevelReading:
    """Add what the water stood at, and how that was known. Raises ValidationError."""
    reading = LevelReading(site=site, **facts)
    reading.full_clean()
    reading.save()
    log_made(reading, by=by, facts=facts)
    return reading


@transaction.atomic
def strike_out_reading(reading: LevelReading, *, by: Staff | None) -> LevelReading:
    """Take a wrong reading out of use; it stays readable. Does nothing twice."""
    if LevelReading.objects.filter(pk=reading.pk, struck_out=False).update(struck_out=True):
        log_change(reading, did="struck out", by=by, before={"value_in": reading.value_in})
    reading.refresh_from_db()
    return reading


@transaction.atomic
def save_depths(
    site: Site, *, seen_version: int, rows: Sequence[Mapping[str, Any]], by: Staff | None
) -> list[DepthPoint]:
    """Make the depths of a site these rows, in this order. A depth that is not among them any more is struck out.

    `seen_version` is the site's `depths_version`. Raises DepthsChangedMeanwhile, ValidationError with its `row`.
    """
    locked = Site.objects.select_for_update().get(pk=site.pk)
    if locked.depths_version != seen_version:
        raise DepthsChangedMeanwhile(locked)
    standing = {_depth_words(point): point for point in locked.depths_standing()}
    wanted = [DepthPoint(site=locked, position=position, **row) for position, row in enumerate(rows)]
    before, after = list(standing), [_depth_words(point) for point in wanted]
    if before == after:
        return list(standing.values())
    gone = [point.pk for words, point in standing.items() if words not in after]
    DepthPoint.objects.filter(pk__in=gone).update(struck_out=True)
    kept = [_keep_depth(point, standing.get(_depth_words(point))) for point in wanted]
    locked.depths_version += 1
    locked.save(update_fields=["depths_version"])
    log_change(locked, did=CHANGED_DEPTHS, by=by, before={"depths": before}, after={"depths": after})
    follow_site(locked, by=by)
    return kept


def _first_levels(site: Site, changes: Mapping[str, Any], by: Staff | None) -> LevelRange:
    levels = LevelRange(site=site, **changes)
    levels.full_clean()
    levels.save()
    log_made(levels, by=by, facts={**changes, "version": levels.version})
    return levels


def _keep_depth(wanted: DepthPoint, standing: DepthPoint | None) -> DepthPoint:
    if standing is not None:
        standing.position = wanted.position
        standing.save(update_fields=["position"])
        return standing
    try:
        wanted.full_clean()
    except ValidationError as wrong:
        wrong.row = wanted.position
        raise
    wanted.save()
    return wanted


def _depth_words(point: DepthPoint) -> tuple[Any, ...]:
    return point.label, point.distance_in, point.depth_in, point.reading_id, point.bottom, point.soft_depth_in
