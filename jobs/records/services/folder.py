"""Everything the job's page says, gathered once, so that the page itself only prints."""

from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from contractor.company.current import units
from estimating.quotes.models import Quote
from jobs.records.documents.level_staff import Staff, draw_level_staff
from jobs.records.models import Job, JobNote, LevelReading, Permit, Site, SpecRevision, saying

from .standing import Standing, full_standing, with_papers


@dataclass(frozen=True, slots=True)
class PermitLine:
    permit: Permit
    said: str
    limits: str
    dates: str


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """A site in sentences: label and what is known, the unknown said as unknown."""

    rows: tuple[tuple[str, str], ...]
    staff: str  # the level staff as SVG; empty if no level is known
    staff_caption: str


@dataclass(frozen=True, slots=True)
class Folder:
    """One job with all that hangs on it."""

    job: Job
    standing: Standing
    days: int
    what: str
    specs: tuple[SpecRevision, ...]  # newest first
    quotes: tuple[Quote, ...]  # newest first
    contract: Quote | None
    permits: tuple[PermitLine, ...]
    notes: tuple[JobNote, ...]
    site: SiteFacts

    @property
    def spec(self) -> SpecRevision | None:
        return self.specs[0] if self.specs else None


def folder_of(job: Job, *, on: date) -> Folder:
    """The job's whole folder as of a day."""
    with_papers([job])
    standing = full_standing(job, on=on)
    quotes = tuple(reversed(job.quotes.all()))
    specs = tuple(reversed(job.spec_revisions.all()))
    return Folder(
        job=job,
        standing=standing,
        days=standing.days(on=on),
        what=_what(job, specs),
        specs=specs,
        quotes=quotes,
        contract=next((quote for quote in quotes if quote.state == "accepted"), None),
        permits=tuple(permit_line(permit, on=on) for permit in job.permits.all()),
        notes=tuple(job.notes.all()),
        site=site_facts(job.site),
    )


def site_facts(site: Site) -> SiteFacts:
    """What is known of a site, said in the firm's units."""
    system, levels, points = units(), site.levels, site.depths_standing()
    reading = _last_on(site, levels.datum)
    rows = (
        ("Water", saying.water_said(site)),
        ("By land", saying.land_access_said(site, system)),
        ("By water", saying.water_access_said(site, system)),
        ("Shore", saying.shore_said(site, system) or "Unknown."),
        ("Levels", saying.levels_said(levels, system)),
        ("Depth at normal", saying.depths_said(points, levels, system)),
        ("Bottom", saying.bottom_said(site, points, system)),
        ("Exposure", saying.exposure_said(site, system)),
        ("Ice", saying.ice_said(site)),
        ("Neighbours", saying.neighbours_said(site, system)),
        ("Rules there", saying.limits_said(site, system)),
        ("Work dates", saying.windows_said(site.work_windows.all())),
    )
    drawn = Staff(
        datum=levels.datum,
        low_in=levels.low_in,
        normal_in=levels.normal_in,
        high_in=levels.high_in,
        storm_in=levels.storm_in,
        hinge_in=site.hinge_level_in,
        reading_in=reading.value_in if reading else None,
        reading_words=_short_day(reading) if reading else "",
        system=system,
    )
    return SiteFacts(
        rows=tuple((label, said) for label, said in rows if said),
        staff=draw_level_staff(drawn, name="levels"),
        staff_caption=_caption(levels.datum, reading),
    )


def permit_line(permit: Permit, *, on: date) -> PermitLine:
    return PermitLine(
        permit=permit,
        said=saying.permit_said(permit, on=on),
        limits=saying.limits_said(permit, units()),
        dates=saying.windows_said(permit.work_windows.all()),
    )


def _what(job: Job, specs: tuple[SpecRevision, ...]) -> str:
    if specs:
        return specs[0].title
    return job.rough_size or "Not drawn yet"


def _last_on(site: Site, datum: str) -> LevelReading | None:
    """The last reading on the datum of the range; a reading on another cannot be drawn on the same staff."""
    return site.readings.standing().filter(datum=datum).first() if datum else None


def _short_day(reading: LevelReading) -> str:
    return saying.day_said(timezone.localtime(reading.read_at).date(), short=True, weekday=True)


def _caption(datum: str, reading: LevelReading | None) -> str:
    unit = "Metres" if units() == "metric" else "Feet"
    measured = f"{unit} on {datum}." if datum else ""
    read = f"Read by {reading.observer}." if reading and reading.observer else ""
    note = f"{reading.note.rstrip('.')}." if reading and reading.note else ""
    return " ".join(filter(None, [measured, read, note]))
