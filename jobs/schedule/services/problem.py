"""The board and all open work, told to the planner; and its answer told back to the board."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from jobs.records.models import Job
from jobs.schedule.gates import allows_day, opens_by_itself
from jobs.schedule.models import JobStage
from jobs.schedule.planner.problem import (
    Place,
    Plan,
    PlanBoat,
    PlanCrew,
    PlanJob,
    PlanProblem,
    PlanStage,
    Start,
    Window,
)

from .facts import launches_first, plan_of, with_facts
from .shop import Shop, Team
from .stages import open_accepted
from .visits import Visit, spread, visits_of

HORIZON_DAYS = 300
LATE_DAY_MILES = 100.0


@dataclass(frozen=True, slots=True)
class Left:
    """A visit the planner is not asked about: what it waits for has no date."""

    visit: Visit
    why: str


@dataclass(frozen=True, slots=True)
class Work:
    """All open work as a problem, with the visits behind its keys."""

    problem: PlanProblem
    visits: dict[str, Visit]
    left: tuple[Left, ...]
    shop: Shop

    @property
    def standing(self) -> Plan:
        """The board of today as a plan, for what is on it."""
        starts = tuple(_standing(visit, self.shop) for visit in self.visits.values() if visit.starts_on)
        return Plan(starts, (), 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class StageDays:
    """Where one stage would stand."""

    stage: JobStage
    crew_id: int
    first: date
    last: date

    @property
    def moves(self) -> bool:
        """Whether that is elsewhere than now."""
        stage = self.stage
        return (stage.crew_id, stage.starts_on, stage.ends_on) != (self.crew_id, self.first, self.last)


@dataclass(frozen=True, slots=True)
class Asked:
    """How the work is to be told: `split` opens a visit at this stage, though what it waits for have no date.

    `as_it_stands` keeps the days a visit has on the board; else its hours are counted anew.
    """

    split: str = ""
    as_it_stands: bool = False


def open_work(*, on: date, asked: Asked = Asked()) -> Work:
    """Every accepted, open job with stages to be done, as of a day."""
    open_accepted()
    shop = Shop(on=on)
    jobs = with_facts(
        Job.objects.open().in_full().filter(build_stages__done_on__isnull=True, build_stages__isnull=False).distinct()
    )
    return work_of(jobs, shop, asked)


def work_of(jobs: list[Job], shop: Shop, asked: Asked = Asked()) -> Work:
    """These jobs, from `with_facts`, as one problem."""
    last_day = shop.today + timedelta(days=HORIZON_DAYS)
    plan_jobs, visits, left = [], {}, []
    for job in jobs:
        placed, waiting = _ready(visits_of(job, shop, split=asked.split), asked.split)
        left += waiting
        if not placed:
            continue
        visits |= {visit.key: visit for visit in placed}
        plan_jobs.append(_job(job, placed, shop, last_day, asked))
    problem = PlanProblem(
        first_day=shop.today,
        last_day=last_day,
        jobs=tuple(plan_jobs),
        crews=tuple(_crew(team, shop, last_day) for team in shop.teams if team.people),
        boats=tuple(_boat(one, shop, last_day) for one in shop.equipment),
        places=tuple(_place(job) for job in jobs if job.site.miles_from_yard is not None),
        late_day_miles=LATE_DAY_MILES,
    )
    return Work(problem, visits, tuple(left), shop)


def days_of_visit(visit: Visit, start: Start, shop: Shop) -> tuple[StageDays, ...]:
    """The visit's days given to its stages."""
    team = shop.team_of(int(start.crew))
    assert team is not None
    count = (start.last - start.first).days + 1
    days = [start.first + timedelta(days=n) for n in range(count)]
    worked = tuple(day for day in days if shop.works(team, day)) or (start.first,)
    shares = spread(visit.stages, worked)
    return tuple(StageDays(stage, team.crew.pk, *shares[stage.stage]) for stage in visit.stages)


def _ready(visits: tuple[Visit, ...], split: str) -> tuple[list[Visit], list[Left]]:
    """The visits whose gates all have a date, and those that wait, with all that come after them; pins stay."""
    placed: list[Visit] = []
    left: list[Left] = []
    for visit in visits:
        why = next((gates.governor for gates in map(opens_by_itself, visit.facts) if gates.earliest is None), "")
        if visit.key == split or ((visit.pinned_on or visit.starts_on) and not left):
            placed.append(visit)
        elif left:
            left.append(Left(visit, f"It comes after {left[0].visit.name}. {left[0].why}"))
        elif why:
            left.append(Left(visit, why))
        else:
            placed.append(visit)
    return placed, left


def _job(job: Job, visits: list[Visit], shop: Shop, last_day: date, asked: Asked) -> PlanJob:
    stages, before = [], ""
    for visit in visits:
        stage = _stage(visit, before, shop, last_day)
        standing = asked.as_it_stands and visit.starts_on and not _under_way(visit, shop)
        stages.append(replace(stage, duration_days=_days_standing(visit, shop)) if standing else stage)
        before = visit.key
    place = f"site {job.site_id}" if job.site.miles_from_yard is not None else ""
    name = f"{job.client.filed_under} {job.number}"
    return PlanJob(job.number, name, tuple(stages), job.wanted_by, float(plan_of(job).weight), place)


def _stage(visit: Visit, before: str, shop: Shop, last_day: date) -> PlanStage:
    gates = max(map(opens_by_itself, visit.facts), key=lambda one: one.earliest or date.min)
    stages = tuple(stage.stage for stage in visit.stages)
    first = launches_first(visit.job)
    in_yard = all(facts.built_in_yard and facts.stage in ("layout", "framing") for facts in visit.facts)
    crew = str(visit.crew_id) if visit.pinned_on or _under_way(visit, shop) else ""
    people = shop.people_needed(stages, launch_first=first)
    return PlanStage(
        key=visit.key,
        duration_days=_duration(visit, shop),
        name=visit.name,
        after=(before,) if before else (),
        earliest=max(gates.earliest or shop.today, shop.today),
        governor=gates.governor,
        windows=_allowed(visit, shop, last_day),
        people=people,
        skills=frozenset().union(*(shop.skills_for(stage) for stage in stages)),
        boats=tuple(sorted({kind for stage in stages for kind in shop.kinds_for(stage)})),
        crew=crew,
        pinned=_pin(visit, shop),
        place="" if in_yard else None,
        current=visit.starts_on,
        current_crew=str(visit.crew_id or ""),
    )


def _under_way(visit: Visit, shop: Shop) -> bool:
    """It has begun, and nobody said it is done: it goes on today, whatever day it was to end."""
    return bool(visit.starts_on and visit.starts_on <= shop.today)


def _pin(visit: Visit, shop: Shop) -> date | None:
    """Where the owner pinned it; work that has begun goes on where it stands."""
    if _under_way(visit, shop) or visit.pinned_on:
        team = shop.team_of(visit.crew_id)
        day = max(visit.pinned_on or visit.starts_on, shop.today)
        return _next_worked(team, shop, day) if team else day
    return None


def _next_worked(team: Team, shop: Shop, day: date) -> date:
    for step in range(HORIZON_DAYS):
        if shop.works(team, day + timedelta(days=step)):
            return day + timedelta(days=step)
    return day


def _duration(visit: Visit, shop: Shop) -> int:
    """What is left of it when it is under way; else its hours by the crew it has, or by the smallest."""
    if _under_way(visit, shop):
        return _days_standing(visit, shop)
    pinned = shop.team_of(visit.crew_id) if visit.pinned_on else None
    people = len(pinned.people) if pinned else shop.usual_people()
    return shop.days_for(visit.hours, people, visit.starts_on or shop.today)


def _days_standing(visit: Visit, shop: Shop) -> int:
    """Working days it still has on the board, from today on."""
    first, team = max(visit.starts_on, shop.today), shop.team_of(visit.crew_id)
    days = (first + timedelta(days=n) for n in range(max((visit.ends_on - first).days, 0) + 1))
    return max(1, sum(shop.works(team, day) if team else shop.work_days.works(day) for day in days))


def _allowed(visit: Visit, shop: Shop, last_day: date) -> tuple[Window, ...]:
    """The stretches of days on which every stage of the visit is allowed; none where all days are."""
    days = [shop.today + timedelta(days=n) for n in range((last_day - shop.today).days + 1)]
    flags = [all(allows_day(facts, day) for facts in visit.facts) for day in days]
    if all(flags):
        return ()
    found, opens = [], None
    for day, allowed in zip([*days, None], [*flags, False], strict=True):
        if allowed and opens is None:
            opens = day
        elif not allowed and opens is not None:
            found.append(Window(opens, (day or last_day + timedelta(days=1)) - timedelta(days=1)))
            opens = None
    return tuple(found) or (Window(last_day + timedelta(days=1), None),)


def _crew(team: Team, shop: Shop, last_day: date) -> PlanCrew:
    days = [shop.today + timedelta(days=n) for n in range((last_day - shop.today).days + 1)]
    works = frozenset(day for day in days if shop.works(team, day))
    skills = frozenset(skill.name for person in team.people for skill in person.skills.all())
    full = len(team.people)
    away = [day for day in works if len(team.there_on(day)) < full] if team.away else []
    return PlanCrew(
        key=str(team.crew.pk),
        name=team.crew.name,
        works_on=works,
        people=full,
        skills=skills,
        fewer=tuple((day, len(team.there_on(day))) for day in sorted(away)),
        lacking=tuple((day, skill) for day in sorted(away) for skill in sorted(team.lacks_on(day, skills))),
    )


def _boat(one, shop: Shop, last_day: date) -> PlanBoat:
    if not (one.out_from and one.out_until):
        return PlanBoat(str(one.pk), one.kind)
    first, last = max(one.out_from, shop.today), min(one.out_until, last_day)
    out = frozenset(first + timedelta(days=n) for n in range((last - first).days + 1))
    return PlanBoat(str(one.pk), one.kind, out)


def _place(job: Job) -> Place:
    site = job.site
    known = site.latitude is not None and site.longitude is not None
    return Place(
        f"site {site.pk}",
        float(site.miles_from_yard or 0.0),
        float(site.latitude) if known else None,
        float(site.longitude) if known else None,
    )


def _standing(visit: Visit, shop: Shop) -> Start:
    first = _pin(visit, shop) or visit.starts_on
    return Start(visit.key, visit.job.number, str(visit.crew_id), first, max(visit.ends_on, first))


def with_change(work: Work, key: str, *, start: date, crew: str, days: int) -> PlanProblem:
    """The problem with one visit allowed to stand on a day its own gates would not let it."""
    jobs = tuple(
        replace(
            job,
            stages=tuple(
                replace(stage, earliest=None, windows=(), crew=crew, duration_days=days, pinned=start)
                if stage.key == key
                else stage
                for stage in job.stages
            ),
        )
        for job in work.problem.jobs
    )
    return replace(work.problem, jobs=jobs)
