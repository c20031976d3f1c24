"""The water of a site over the years: calendar, gauges, and what it stands at on a day."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from contractor.company.current import units
from contractor.company.journal import log_change, log_made
from contractor.company.models import ChangeLog, Staff
from contractor.company.versions import save_if_unchanged
from contractor.quantities import format_level
from estimating.engine.water import (
    CalendarRow,
    GaugeFile,
    Season,
    Series,
    Told,
    calendar_level_in,
    day_mean_in,
    propose,
    read_gauge_file,
    usual_level_in,
)
from estimating.engine.water.packing import by_year, packed, unpacked
from estimating.engine.water.series import FLAGGED
from jobs.records.models import CalendarLevel, Gauge, GaugeBlock, GaugeKind, LevelRange, Site
from jobs.records.models.saying import day_said

from .levels import save_levels

CHANGED_CALENDAR = "changed the calendar of"


@dataclass(frozen=True, slots=True)
class LevelOn:
    """What the water stands at on a day: inches on the site's datum, None where nobody can say.

    `how` is reading, gauge, predicted, calendar, usual, normal or unknown; `words` say it to a person.
    """

    value_in: float | None
    how: str
    words: str


@dataclass(frozen=True, slots=True)
class GaugeUpload:
    """A gauge file as it came, and what a person says about it."""

    data: bytes
    told: Told
    datum: str
    file_name: str = ""


@dataclass(frozen=True, slots=True)
class Imported:
    """What a gauge file brought: readings that are new, readings that were put right, and what was left out."""

    gauge: Gauge
    added: int
    revised: int
    missing: int
    repeated: int
    flagged: int

    @property
    def nothing_new(self) -> bool:
        return not self.added and not self.revised


class CalendarChangedMeanwhile(Exception):
    """Somebody saved the calendar first; nothing was saved. As DepthsChangedMeanwhile."""

    def __init__(self, site: Site) -> None:
        super().__init__(f"the calendar of {site} was changed meanwhile")
        last = ChangeLog.objects.about(site).filter(did=CHANGED_CALENDAR).newest_first().first()
        self.version: int = site.calendar_version
        self.standing = list(site.calendar_levels.all())
        self.by_name: str = last.by_name if last else "Somebody"
        self.at: datetime.datetime | None = last.at if last else None


class DatumsApart(Exception):
    """A gauge's levels cannot be set against the site's: nobody said how its zero lies to the site's datum."""


@transaction.atomic
def save_calendar(
    site: Site, *, seen_version: int, rows: Sequence[Mapping[str, Any]], by: Staff | None
) -> list[CalendarLevel]:
    """Make the calendar of a site these rows. Raises CalendarChangedMeanwhile, ValidationError with its `row`."""
    locked = Site.objects.select_for_update().get(pk=site.pk)
    if locked.calendar_version != seen_version:
        raise CalendarChangedMeanwhile(locked)
    wanted = [CalendarLevel(site=locked, **row) for row in rows]
    before = [(row.month, row.day, row.level_in) for row in locked.calendar_levels.all()]
    after = sorted((row.month, row.day, row.level_in) for row in wanted)
    if before == after:
        return list(locked.calendar_levels.all())
    locked.calendar_levels.all().delete()
    for place, row in enumerate(wanted):
        try:
            row.full_clean()
        except ValidationError as wrong:
            wrong.row = place
            raise
        row.save()
    locked.calendar_version += 1
    locked.save(update_fields=["calendar_version"])
    log_change(locked, did=CHANGED_CALENDAR, by=by, before={"calendar": before}, after={"calendar": after})
    return list(locked.calendar_levels.all())


def import_gauge_file(site: Site, *, upload: GaugeUpload, by: Staff | None) -> Imported:
    """Take a gauge file in; a gauge that is here already grows by it, and newer figures put older ones right.

    Raises FileNotUnderstood (ChoiceNeeded for what the file leaves open), ValidationError without a datum; then nothing
    is kept.
    """
    found = read_gauge_file(
        upload.data, upload.told
    )  # outside the transaction: reading takes seconds, and others must write
    return _keep(site, found, upload, by)


@transaction.atomic
def save_gauge(gauge: Gauge, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> Gauge:
    """Change what a gauge measures from. Raises ChangedMeanwhile, ValidationError."""
    return save_if_unchanged(gauge, seen_version, changes, by=by)


@transaction.atomic
def strike_out_gauge(gauge: Gauge, *, by: Staff | None) -> None:
    """Take a wrong gauge out of use; its readings stay. Does nothing twice."""
    if Gauge.objects.filter(pk=gauge.pk, struck_out=False).update(struck_out=True):
        log_change(gauge, did="struck out", by=by, before={"count": gauge.count})


@dataclass(frozen=True, slots=True)
class Picked:
    """Which percentiles are low, normal and high water, and the season they hold for; None is the whole year."""

    percents: tuple[float, float, float] = (5.0, 50.0, 95.0)
    season: Season | None = None


@transaction.atomic
def take_over_levels(gauge: Gauge, *, picked: Picked, seen_version: int, by: Staff | None) -> LevelRange:
    """Make low, normal and high of the site what the gauge's percentiles are, on the site's datum.

    Raises DatumsApart, ChangedMeanwhile, ValidationError; also where nothing was read in the season.
    """
    levels = LevelRange.objects.filter(site_id=gauge.site_id).first()
    datum = levels.datum if levels and levels.datum else gauge.datum
    lift = gauge.to_site_in(datum)
    if lift is None:
        raise DatumsApart
    proposal = propose(gauge.readings(), picked.percents, picked.season, _zone())
    if proposal is None:
        raise ValidationError("Nothing was read in this season.")
    proposed = (proposal.low_in, proposal.normal_in, proposal.high_in)
    low, normal, high = (round(level + lift, 2) for level in proposed)
    changes = {"datum": datum, "low_in": low, "normal_in": normal, "high_in": high}
    return save_levels(gauge.site, seen_version=seen_version, changes=changes, by=by)


def level_on(site: Site, day: datetime.date, *, today: datetime.date | None = None) -> LevelOn:
    """What the water stands at on a day, by the best that is known.

    A reading of that day, then a gauge's mean of it, a prediction for it, the calendar, what gauges found usual within
    a week of it in other years, normal water.
    """
    levels = site.levels
    for ask in (_by_reading, _by_gauge, _by_prediction, _by_calendar, _by_usual):
        said = ask(site, levels, day, today or timezone.localdate())
        if said is not None:
            return said
    if levels.normal_in is not None:
        return _said(levels.normal_in, "normal", f"normal water on {levels.datum}")
    return LevelOn(None, "unknown", "Unknown: no level, reading or calendar is written down.")


@transaction.atomic
def _keep(site: Site, found: GaugeFile, upload: GaugeUpload, by: Staff | None) -> Imported:
    Site.objects.select_for_update().get(pk=site.pk)
    gauge = _gauge_of(site, found, upload.datum, by)
    added, revised = _grow(gauge, found.series)
    _count(gauge, found)
    facts = {"file": upload.file_name, "added": added, "revised": revised, "missing": found.missing}
    log_change(gauge, did="took in a file for", by=by, after=facts)
    flagged = int(((found.series.flags & FLAGGED) != 0).sum())
    return Imported(gauge, added, revised, found.missing, found.repeated, flagged)


def _gauge_of(site: Site, found: GaugeFile, datum: str, by: Staff | None) -> Gauge:
    facts = {"keeper": found.keeper, "station": found.station, "parameter": found.parameter, "kind": found.kind}
    standing = Gauge.objects.standing().filter(site=site, **facts).first()
    if standing is not None:
        if datum and datum != standing.datum:
            raise ValidationError({"datum": f"This gauge is here already, measured from {standing.datum}."})
        return standing
    gauge = Gauge(site=site, **facts, unit=found.unit, datum=datum)
    gauge.full_clean()
    gauge.save()
    log_made(gauge, by=by, facts={**facts, "datum": datum})
    return gauge


def _grow(gauge: Gauge, series: Series) -> tuple[int, int]:
    """Readings that are new, and readings that were there with another figure."""
    standing = {block.year: block for block in gauge.blocks.all()}
    added = revised = 0
    fresh = []
    for year, part in by_year(series):
        block = standing.get(year)
        if block is None:
            fresh.append(GaugeBlock(gauge=gauge, year=year, count=len(part), packed=packed(part, year)))
            added += len(part)
            continue
        before = unpacked(bytes(block.packed), year)
        merged = before.with_newer(part)
        more = len(merged) - len(before)
        changed = _changed(before, part)
        if more or changed:
            block.count, block.packed = len(merged), packed(merged, year)
            block.save()
        added, revised = added + more, revised + changed
    GaugeBlock.objects.bulk_create(fresh)
    return added, revised


def _changed(before: Series, part: Series) -> int:
    _, old, new = np.intersect1d(before.at_min, part.at_min, assume_unique=True, return_indices=True)
    levels = before.level_in[old] != part.level_in[new]
    return int((levels | (before.flags[old] != part.flags[new])).sum())


def _count(gauge: Gauge, found: GaugeFile) -> None:
    series = gauge.readings()
    gauge.count, gauge.missing = len(series), gauge.missing + found.missing
    gauge.flagged = int(((series.flags & FLAGGED) != 0).sum())
    first, last = (int(minute) * 60 for minute in (series.at_min[0], series.at_min[-1]))
    gauge.first_at, gauge.last_at = (datetime.datetime.fromtimestamp(at, datetime.UTC) for at in (first, last))
    gauge.save()


def _by_reading(site: Site, levels: LevelRange, day: datetime.date, today: datetime.date) -> LevelOn | None:
    start = timezone.make_aware(datetime.datetime.combine(day, datetime.time()))
    ends = timezone.make_aware(datetime.datetime.combine(day + datetime.timedelta(days=1), datetime.time()))
    read = site.readings.standing().filter(read_at__gte=start, read_at__lt=ends, datum=levels.datum).first()
    if read is None:
        return None
    return _said(read.value_in, "reading", f"read that day, {read.get_source_display()}, on {read.datum}")


def _by_gauge(site: Site, levels: LevelRange, day: datetime.date, today: datetime.date) -> LevelOn | None:
    return None if day > today else _by_mean(site, levels, day, GaugeKind.MEASURED)


def _by_prediction(site: Site, levels: LevelRange, day: datetime.date, today: datetime.date) -> LevelOn | None:
    return _by_mean(site, levels, day, GaugeKind.PREDICTED)


def _by_mean(site: Site, levels: LevelRange, day: datetime.date, kind: GaugeKind) -> LevelOn | None:
    how = {"measured": "gauge", "predicted": "predicted"}[kind]
    words = {"measured": "mean of the day by {}", "predicted": "mean of the day as predicted by {}"}[kind]
    for gauge in site.gauges.standing().filter(kind=kind):
        lift = gauge.to_site_in(levels.datum or gauge.datum)
        if lift is None:
            continue
        series = gauge.readings_of({day.year - 1, day.year, day.year + 1})
        mean = day_mean_in(series, day, _zone())
        if mean is not None:
            return _said(mean + lift, how, words.format(gauge))
    return None


def _by_calendar(site: Site, levels: LevelRange, day: datetime.date, today: datetime.date) -> LevelOn | None:
    rows = [CalendarRow(row.month, row.day, row.level_in) for row in site.calendar_levels.all()]
    level = calendar_level_in(rows, day)
    on = f", on {levels.datum}" if levels.datum else ""
    return None if level is None else _said(level, "calendar", f"by the calendar{on}")


def _by_usual(site: Site, levels: LevelRange, day: datetime.date, today: datetime.date) -> LevelOn | None:
    for gauge in site.gauges.standing().measured():
        lift = gauge.to_site_in(levels.datum or gauge.datum)
        usual = usual_level_in(gauge.readings(), day, _zone()) if lift is not None else None
        if usual is not None:
            near = day_said(day, short=True)
            return _said(usual + lift, "usual", f"usual around {near} by {gauge}")
    return None


def _said(level_in: float, how: str, words: str) -> LevelOn:
    return LevelOn(level_in, how, f"{format_level(level_in, units())}, {words}.")


def _zone() -> ZoneInfo:
    return ZoneInfo(timezone.get_current_timezone_name())
