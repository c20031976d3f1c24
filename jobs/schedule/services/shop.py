"""The shop as a planner sees it: its week and holidays, who is there on a day, what can be used."""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property, lru_cache

import holidays

from contractor.company import current
from contractor.company.days import Style, format_day
from jobs.schedule.gates import CancellationRule, WorkDays, in_water
from jobs.schedule.models import Absence, Crew, CrewMember, Equipment, IceDates, JobStage, ScheduleRules, Skill

YEARS_AHEAD = 3
SPRING = (3, 4, 5)
PEOPLE_ON_WATER = 2
NO_BREAK = "\u00a0"


@lru_cache(maxsize=64)
def named_holidays(country: str, subdivision: str, year: int) -> dict[date, str]:
    """Public holidays of one year and their names. A region nobody knows has none."""
    try:
        found = holidays.country_holidays(country, subdiv=subdivision or None, years=year)
    except NotImplementedError:
        return {}
    return dict(found.items())


def holidays_around(rules: ScheduleRules, day: date, *, everywhere: bool = False) -> dict[date, str]:
    """Holidays from last year on. `everywhere` leaves out those of the state or province alone."""
    region = "" if everywhere else rules.subdivision
    found: dict[date, str] = {}
    for year in range(day.year - 1, day.year + YEARS_AHEAD + 1):
        found |= named_holidays(rules.country, region, year)
    return found


@dataclass(frozen=True, slots=True)
class Team:
    """A crew with its people and the days each is away."""

    crew: Crew
    people: tuple[CrewMember, ...]
    away: tuple[Absence, ...]

    def there_on(self, day: date) -> tuple[CrewMember, ...]:
        """Who is there; nobody when the whole crew is kept for something else."""
        gone = [one for one in self.away if one.first_on <= day <= one.last_on]
        if any(one.member_id is None for one in gone):
            return ()
        missing = {one.member_id for one in gone}
        return tuple(person for person in self.people if person.pk not in missing)

    def lacks_on(self, day: date, skills: frozenset[str]) -> frozenset[str]:
        known = {skill.name for person in self.there_on(day) for skill in person.skills.all()}
        return skills - known


class Shop:
    """Everything but the jobs, read once."""

    def __init__(self, *, on: date) -> None:
        self.today = on
        self.rules = ScheduleRules.objects.filter(pk=1).first() or ScheduleRules(pk=1)
        self.holidays = holidays_around(self.rules, on)
        self.work_days = WorkDays(frozenset(int(day) for day in self.rules.works_on), frozenset(self.holidays))

    @cached_property
    def date_style(self) -> Style:
        named = current.firm()
        return named.date_style if named else "day_first"

    def say_day(self, day: date) -> str:
        """A day in the firm's order; the year only where it is another."""
        return format_day(day, self.date_style, year=day.year != self.today.year).replace(" ", NO_BREAK)

    @cached_property
    def teams(self) -> tuple[Team, ...]:
        """Crews of this season in the order of their names."""
        away = list(Absence.objects.select_related("member"))
        crews = Crew.objects.working().prefetch_related("members__skills")
        return tuple(_team(crew, away) for crew in crews)

    @cached_property
    def equipment(self) -> tuple[Equipment, ...]:
        return tuple(Equipment.objects.filter(active=True))

    @cached_property
    def skills(self) -> tuple[Skill, ...]:
        return tuple(Skill.objects.all())

    @cached_property
    def ice(self) -> dict[tuple[str, int], IceDates]:
        return {(one.water_body.casefold(), one.year): one for one in IceDates.objects.all()}

    @cached_property
    def standing(self) -> tuple[JobStage, ...]:
        """Stages on the board that are still to be done."""
        return tuple(JobStage.objects.open().placed().select_related("job"))

    @property
    def cancellation(self) -> CancellationRule:
        rules = self.rules
        if rules.cancellation_kind == "none":
            return CancellationRule()
        return CancellationRule(rules.cancellation_days, rules.cancellation_kind == "business", rules.saturdays_count)

    @cached_property
    def cancellation_holidays(self) -> frozenset[date]:
        return frozenset(holidays_around(self.rules, self.today, everywhere=True))

    def team_of(self, crew_id: int | None) -> Team | None:
        return next((team for team in self.teams if team.crew.pk == crew_id), None)

    def skills_for(self, stage: str) -> frozenset[str]:
        return frozenset(skill.name for skill in self.skills if stage in skill.stages)

    def kinds_for(self, stage: str) -> tuple[str, ...]:
        """Kinds of boat or machine a stage needs."""
        return tuple(sorted({one.kind for one in self.equipment if stage in one.stages}))

    def boats_of(self, kind: str, day: date) -> int:
        """How many of a kind are in use on a day, those in repair left out."""
        return sum(one.kind == kind and not _is_out(one, day) for one in self.equipment)

    def works(self, team: Team, day: date) -> bool:
        return self.work_days.works(day) and bool(team.there_on(day))

    def weather_share(self, day: date) -> Decimal:
        """The part of a day that weather leaves, by the firm's allowance for the season."""
        spring = day.month in SPRING
        one_in = self.rules.weather_spring_one_in if spring else self.rules.weather_summer_one_in
        return 1 - Decimal(1) / Decimal(one_in)

    def hours_a_day(self, people: int, day: date) -> Decimal:
        """Worker-hours of a day: people × productive hours × what weather leaves."""
        return Decimal(people) * self.rules.day_hours * self.weather_share(day)

    def days_for(self, hours: Decimal, people: int, day: date) -> int:
        """Working days so many worker-hours take, the last one begun counted whole; at least one."""
        return max(1, math.ceil(hours / self.hours_a_day(max(people, 1), day)))

    def people_needed(self, stages: tuple[str, ...], *, launch_first: bool) -> int:
        """Two on the water, never one alone."""
        return PEOPLE_ON_WATER if any(in_water(one, launch_first=launch_first) for one in stages) else 1

    def usual_people(self) -> int:
        """The smallest crew of two or more, so that no day is promised on hands that may be elsewhere."""
        sizes = [len(team.people) for team in self.teams if len(team.people) >= PEOPLE_ON_WATER]
        return min(sizes, default=PEOPLE_ON_WATER)


def span_of(team: Team, shop: Shop, first: date, days: int) -> tuple[date, ...]:
    """So many days this crew works, from a day on."""
    found: list[date] = []
    for step in range(days * 7 + 400):
        if len(found) == days:
            break
        day = first + timedelta(days=step)
        if shop.works(team, day):
            found.append(day)
    return tuple(found)


def _team(crew: Crew, away: list[Absence]) -> Team:
    people = tuple(person for person in crew.members.all() if person.active)
    own = {person.pk for person in people}
    theirs = (one for one in away if one.member_id in own or (one.member_id is None and one.crew_id in (None, crew.pk)))
    return Team(crew, people, tuple(theirs))


def _is_out(one: Equipment, day: date) -> bool:
    return bool(one.out_from and one.out_until and one.out_from <= day <= one.out_until)
