"""What the schedule says about a stage: the day, the crew, the people."""

import datetime
from dataclasses import dataclass

from contractor.company.current import firm
from contractor.company.days import format_day
from contractor.company.models import Role, Staff
from jobs.fieldwork.documents.facts import Person
from jobs.records.models import Job
from jobs.schedule.models import CrewMember, JobStage


@dataclass(frozen=True, slots=True)
class Planned:
    """When and by whom; `people` is everybody of the crews where no crew is named yet."""

    on: datetime.date | None
    crew: str
    people: tuple[Person, ...]


def plan_of(job: Job, stage: str) -> Planned:
    """The stage as it stands on the board."""
    row = JobStage.objects.filter(job=job, stage=stage).select_related("crew").first()
    if row is None or row.crew is None:
        return Planned(row.starts_on if row else None, "", everybody())
    people = tuple(_member(member) for member in row.crew.members.filter(active=True))
    return Planned(row.starts_on, row.crew.name, people or everybody())


def stages_done(job: Job) -> dict[str, str]:
    """The stages that are done, each with its day in words."""
    rows = JobStage.objects.filter(job=job, done_on__isnull=False)
    return {row.stage: day_said(row.done_on) for row in rows}


def everybody() -> tuple[Person, ...]:
    """All who build, from the crews; before there are crews, all who sign in as crew."""
    members = tuple(_member(member) for member in CrewMember.objects.filter(active=True).order_by("name"))
    if members:
        return members
    staff = Staff.objects.filter(active=True, role__in=(Role.CREW_LEAD, Role.CREW)).order_by("name")
    return tuple(Person(f"p{one.pk}", one.name, one.pk) for one in staff)


def day_said(day: datetime.date) -> str:
    """Tue 5 May, in the firm's order."""
    named = firm()
    return format_day(day, named.date_style if named else "day_first", weekday=True, year=False)


def _member(member: CrewMember) -> Person:
    key = f"p{member.staff_id}" if member.staff_id else f"m{member.pk}"
    return Person(key, member.name, member.staff_id)
