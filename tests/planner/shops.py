"""Invented shops for the planner: crews, boats, places and jobs, small or large."""

from datetime import date, timedelta
from random import Random

from jobs.schedule.planner.problem import Place, PlanBoat, PlanCrew, PlanJob, PlanProblem, PlanStage, Window

MONDAY = date(2026, 3, 2)
STAGES = ("layout", "framing", "flotation", "launch", "decking", "anchoring")


def week_days(first: date, last: date) -> frozenset[date]:
    days = (first + timedelta(days=number) for number in range((last - first).days + 1))
    return frozenset(day for day in days if day.weekday() < 5)


def crew(key: str, last: date, **facts: object) -> PlanCrew:
    return PlanCrew(key, f"Crew {key}", week_days(MONDAY, last), **facts)


def small_shop(random: Random) -> PlanProblem:
    """Two crews, one boat, up to five stages of two or three jobs in two weeks: few enough to try everything."""
    last = MONDAY + timedelta(days=random.choice((9, 11)))
    crews = (crew("1", last, people=2, skills=frozenset({"boat"})), crew("2", last, people=random.choice((1, 2))))
    places = (Place("near", 5.0), Place("far", 20.0, 46.0, -89.0), Place("beyond", 30.0, 46.2, -89.1))
    jobs = []
    left = 5
    for number in range(random.choice((2, 3))):
        count = min(left, random.choice((1, 2)))
        left -= count
        stages = [_small_stage(random, number, place) for place in range(count)]
        due = MONDAY + timedelta(days=random.randint(0, 6)) if random.random() < 0.8 else None
        where = random.choice(("near", "far", "beyond"))
        jobs.append(PlanJob(f"{number}", f"Job {number}", tuple(stages), due, random.choice((1.0, 2.0)), where))
    return PlanProblem(MONDAY, last, tuple(jobs), crews, (PlanBoat("skiff", "boat"),), places, 20.0)


def _small_stage(random: Random, job: int, place: int) -> PlanStage:
    wet = random.random() < 0.4
    return PlanStage(
        f"{job}.{place}",
        random.choice((1, 1, 2, 3)),
        STAGES[place],
        after=(f"{job}.{place - 1}",) if place else (),
        earliest=MONDAY + timedelta(days=random.randint(0, 3)) if random.random() < 0.5 else None,
        governor="the materials are not here",
        windows=(Window(MONDAY + timedelta(days=1), None),) if random.random() < 0.3 else (),
        not_on=frozenset({MONDAY + timedelta(days=random.randint(2, 4))}) if random.random() < 0.3 else frozenset(),
        people=random.choice((1, 2)),
        skills=frozenset({"boat"}) if wet else frozenset(),
        boats=("boat",) if wet else (),
        place="" if random.random() < 0.3 else None,
    )


def rush(jobs: int = 60, *, seed: int = 1) -> PlanProblem:
    """The put-in rush: everything was signed in the winter, and everybody wants it before the summer."""
    random, last = Random(seed), date(2026, 12, 18)
    wet = frozenset({"boat"})
    crews = tuple(crew(f"{n}", last, people=2 + n % 2, skills=wet if n < 3 else frozenset()) for n in range(4))
    places = tuple(
        Place(f"{n}", random.uniform(3, 40), 46 + random.uniform(-0.3, 0.3), -89 + random.uniform(-0.4, 0.4))
        for n in range(jobs)
    )
    work = tuple(_whole_job(random, number) for number in range(jobs))
    return PlanProblem(MONDAY, last, work, crews, (PlanBoat("1", "boat"), PlanBoat("2", "boat")), places)


def _whole_job(random: Random, number: int) -> PlanJob:
    days = (1, random.randint(1, 4), random.randint(1, 2), 1, random.randint(1, 3), random.randint(1, 2))
    wet = frozenset({"boat"})
    ice_out = Window(date(2026, 4, 15), date(2026, 11, 15))
    stages = tuple(
        PlanStage(
            f"{number}.{name}",
            days[place],
            name,
            after=(f"{number}.{STAGES[place - 1]}",) if place else (),
            earliest=MONDAY + timedelta(days=random.randint(0, 30)) if not place else None,
            people=2,
            skills=wet if name in ("launch", "anchoring") else frozenset(),
            boats=("boat",) if name in ("launch", "anchoring") else (),
            windows=(ice_out,) if place >= 3 else (),
            place="" if place < 3 else None,
        )
        for place, name in enumerate(STAGES)
    )
    due = date(2026, 5, 1) + timedelta(days=random.randint(0, 45))
    return PlanJob(f"{number}", f"Job {number}", stages, due, random.choice((1.0, 1.0, 2.0, 3.0)), f"{number}")
