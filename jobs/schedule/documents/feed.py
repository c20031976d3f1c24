"""A crew's days as iCalendar, RFC 5545: whole days, so that no clock change moves them."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from icalendar import Calendar, Event

from jobs.schedule.models import Crew, JobStage

PRODUCT = "-//Wharfwright//crew calendar//EN"


def crew_calendar(crew: Crew, stages: Iterable[JobStage], *, now: datetime, firm_name: str) -> bytes:
    """The calendar. Each stage is one event from its first to its last day; no price, phone or gate code is in it."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", f"{crew.name}, {firm_name}")
    calendar.add("refresh-interval", timedelta(hours=1), parameters={"value": "DURATION"})
    for stage in stages:
        calendar.add_component(_event(stage, now))
    return calendar.to_ical()


def _event(stage: JobStage, now: datetime) -> Event:
    job, event = stage.job, Event()
    event.add("uid", f"stage-{stage.pk}@wharfwright")
    event.add("dtstamp", now)
    event.add("sequence", stage.version)
    event.add("dtstart", stage.starts_on)
    event.add("dtend", stage.ends_on + timedelta(days=1))  # the day after the last, by the standard
    event.add("summary", f"{job.client.filed_under} {job.number}: {stage.get_stage_display()}")
    event.add("location", str(job.site))
    event.add("transp", "OPAQUE")
    event.add("status", "CONFIRMED" if stage.pinned or stage.is_done else "TENTATIVE")
    said = [f"{stage.planned_hours.normalize():f} h planned."]
    if stage.held_why:
        said.append(f"Held: {stage.held_why}")
    if stage.is_done:
        said.append("Done.")
    event.add("description", " ".join(said))
    return event
