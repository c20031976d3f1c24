"""Crews, people, boats and days away are written down and changed; nobody is ever deleted."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.schedule.models import Absence, Crew, CrewFeed, CrewMember, Equipment, IceDates, ScheduleRules, Skill

from .shop import holidays_around


@transaction.atomic
def form_crew(*, name: str, by: Staff | None) -> Crew:
    """Start a crew. Raises ValidationError."""
    crew = Crew(name=name.strip())
    crew.full_clean()
    crew.save()
    log_made(crew, by=by, facts={"name": crew.name})
    return crew


@transaction.atomic
def save_crew(crew: Crew, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> Crew:
    """Rename a crew or lay it up. Raises ChangedMeanwhile, ValidationError."""
    return save_if_unchanged(crew, seen_version, changes, by=by)


@transaction.atomic
def add_member(
    crew: Crew, *, name: str, by: Staff | None, staff: Staff | None = None, skills: tuple[Skill, ...] = ()
) -> CrewMember:
    """Somebody joins a crew; who left it earlier comes back. Raises ValidationError."""
    person = crew.members.filter(name=name.strip(), active=False).first() or CrewMember(crew=crew, name=name.strip())
    person.staff, person.active = staff, True
    person.full_clean()
    person.save()
    person.skills.set(skills)
    log_made(person, by=by, facts={"crew": crew, "name": person.name, "can": ", ".join(map(str, skills))})
    return person


@transaction.atomic
def let_member_go(person: CrewMember, *, by: Staff | None) -> CrewMember:
    """Somebody leaves the crew; what they did stays under their name."""
    person.active = False
    person.save(update_fields=["active"])
    log_change(person, did="left the crew", by=by, before={"active": True}, after={"active": False})
    return person


@transaction.atomic
def set_skills(person: CrewMember, *, skills: tuple[Skill, ...], by: Staff | None) -> CrewMember:
    """What somebody can do, as of now."""
    before = ", ".join(map(str, person.skills.all()))
    person.skills.set(skills)
    log_change(person, did="changed", by=by, before={"can": before}, after={"can": ", ".join(map(str, skills))})
    return person


@transaction.atomic
def name_skill(*, name: str, stages: list[str], by: Staff | None) -> Skill:
    """A skill some stages need. Raises ValidationError."""
    skill = Skill(name=name.strip(), stages=stages)
    skill.full_clean()
    skill.save()
    log_made(skill, by=by, facts={"name": skill.name, "stages": skill.stages_said})
    return skill


@transaction.atomic
def note_absence(*, facts: Mapping[str, Any], by: Staff | None) -> Absence:
    """Days somebody is away, or a crew is kept for something else. Raises ValidationError."""
    absence = Absence(**facts)
    absence.full_clean()
    absence.save()
    log_made(absence, by=by, facts=facts)
    return absence


@transaction.atomic
def drop_absence(absence: Absence, *, by: Staff | None) -> None:
    """They are there after all; the change log keeps what was noted."""
    before = {"first_on": absence.first_on, "last_on": absence.last_on, "why": absence.why}
    log_change(absence, did="took back", by=by, before=before)
    absence.delete()


@transaction.atomic
def add_equipment(*, facts: Mapping[str, Any], by: Staff | None) -> Equipment:
    """A boat or machine the shop has. Raises ValidationError."""
    equipment = Equipment(**facts)
    equipment.full_clean()
    equipment.save()
    log_made(equipment, by=by, facts=facts)
    return equipment


@transaction.atomic
def save_equipment(
    equipment: Equipment, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None
) -> Equipment:
    """Raises ChangedMeanwhile, ValidationError."""
    return save_if_unchanged(equipment, seen_version, changes, by=by)


def rules_now() -> ScheduleRules:
    """The firm's rules for days; the starting ones until somebody set them."""
    return ScheduleRules.objects.filter(pk=1).first() or ScheduleRules(pk=1)


def holidays_ahead(rules: ScheduleRules, *, on: date) -> list[tuple[date, str]]:
    """The holidays of the next twelve months, in order."""
    named = holidays_around(rules, on)
    return sorted((day, name) for day, name in named.items() if on <= day <= on + timedelta(days=365))


def cancellation_is_old(rules: ScheduleRules, *, on: date) -> bool:
    """Nobody looked the rule up in the last twelve months."""
    checked = rules.cancellation_checked_on
    return rules.cancellation_kind != "none" and (checked is None or checked < on - timedelta(days=365))


@transaction.atomic
def save_rules(*, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> ScheduleRules:
    """Raises ChangedMeanwhile, ValidationError."""
    rules, _ = ScheduleRules.objects.get_or_create(pk=1)
    return save_if_unchanged(rules, seen_version, changes, by=by)


@transaction.atomic
def note_ice(*, water_body: str, year: int, facts: Mapping[str, Any], by: Staff | None) -> IceDates:
    """When the ice goes and comes on a water in a year; a later word replaces an earlier. Raises ValidationError."""
    if facts.get("out_on") is None and facts.get("in_on") is None:
        raise ValidationError({"out_on": "Give a day for ice-out or ice-in."})
    ice = IceDates.objects.filter(water_body__iexact=water_body.strip(), year=year).first()
    ice = ice or IceDates(water_body=water_body.strip(), year=year)
    before = {name: getattr(ice, name) for name in facts}
    for name, value in facts.items():
        setattr(ice, name, value)
    ice.full_clean()
    ice.save()
    log_change(ice, did="noted", by=by, before=before, after=facts)
    return ice


@transaction.atomic
def open_feed(crew: Crew, *, by: Staff) -> CrewFeed:
    """A new secret address for the crew's calendar; the one before stops working."""
    close_feed(crew, by=by)
    feed = CrewFeed.objects.create(crew=crew, made_by_name=by.name)
    log_change(crew, did="made a calendar address for", by=by)
    return feed


@transaction.atomic
def close_feed(crew: Crew, *, by: Staff) -> int:
    """Take the crew's calendar address back; returns how many stopped working."""
    closed = crew.feeds.open().update(revoked_at=timezone.now())
    if closed:
        log_change(crew, did="took back the calendar address of", by=by)
    return closed
