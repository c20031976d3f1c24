"""The best plan of a small shop by trying every crew and every day for every stage: slow, and sure."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise, product

from jobs.schedule.planner.problem import YARD, PlanCrew, PlanProblem, PlanStage, Start
from jobs.schedule.planner.travel import Roads


def faults(problem: PlanProblem, starts: dict[str, Start]) -> list[str]:
    """Every rule that a plan breaks, checked day by day without the planner's own code."""
    crews = {crew.key: crew for crew in problem.crews}
    found, busy = [], set()
    for job in problem.jobs:
        for stage in job.stages:
            if stage.key not in starts:
                continue
            start = starts[stage.key]
            days = days_of(crews[start.crew], start.first, stage.duration_days)
            if days is None or days[-1] != start.last or not _open(stage, crews[start.crew], days):
                found.append(f"{stage.key}: a day that is closed")
                continue
            for day in days:
                for thing in (("crew", start.crew, day), *(("boat", boat, day) for boat in start.boats)):
                    if thing in busy:
                        found.append(f"{stage.key}: {thing} is taken")
                    busy.add(thing)
            found += _out_of_order(stage, start, starts)
            kinds = [next(b.kind for b in problem.boats if b.key == key) for key in start.boats]
            if sorted(kinds) != sorted(stage.boats):
                found.append(f"{stage.key}: boats {kinds}")
    return found


def _out_of_order(stage: PlanStage, start: Start, starts: dict[str, Start]) -> list[str]:
    late = [key for key in stage.after if key not in starts or starts[key].last >= start.first]
    return [f"{stage.key}: starts before {key} ends" for key in late]


def cost(problem: PlanProblem, starts: dict[str, Start]) -> float:
    """Weighted late days and miles, from the days alone."""
    late = 0.0
    for job in problem.jobs:
        if job.due is not None:
            last = max(starts[stage.key].last for stage in job.stages)
            late += job.weight * max(0, (last - job.due).days)
    roads = Roads(problem)
    where = {s.key: job.place if s.place is None else s.place for job in problem.jobs for s in job.stages}
    miles = 0.0
    for crew in problem.crews:
        stops = [where[s.stage] for s in sorted(starts.values(), key=lambda s: s.first) if s.crew == crew.key]
        way = [YARD, *stops, YARD]
        miles += sum(roads.miles(a, b) for a, b in pairwise(way))
    return late + miles / problem.late_day_miles


def least_cost(problem: PlanProblem) -> float | None:
    """The least cost of all plans that hold every stage; None when there is none. One boat of a kind at most."""
    stages = [(job.key, stage) for job in problem.jobs for stage in job.stages]
    best = None
    for chosen in product(*(list(_choices(problem, job, stage)) for job, stage in stages)):
        starts = {start.stage: start for start in chosen}
        if _apart(problem, chosen) and not _out_of_turn(problem, starts):
            found = cost(problem, starts)
            best = found if best is None else min(best, found)
    return best


def days_of(crew: PlanCrew, first: date, count: int) -> list[date] | None:
    days = [day for day in sorted(crew.works_on) if day >= first][:count]
    return days if len(days) == count and days[0] == first else None


def _open(stage: PlanStage, crew: PlanCrew, days: list[date]) -> bool:
    return (
        stage.people <= crew.people
        and stage.skills <= crew.skills
        and all(stage.earliest is None or day >= stage.earliest for day in days)
        and not stage.not_on & set(days)
        and all(not stage.windows or any(window.holds(day) for window in stage.windows) for day in days)
    )


def _choices(problem: PlanProblem, job: str, stage: PlanStage) -> Iterator[Start]:
    boats = tuple(next(boat.key for boat in problem.boats if boat.kind == kind) for kind in stage.boats)
    for crew in problem.crews:
        for number in range((problem.last_day - problem.first_day).days + 1):
            first = problem.first_day + timedelta(days=number)
            days = days_of(crew, first, stage.duration_days)
            if days and days[-1] <= problem.last_day and _open(stage, crew, days):
                yield Start(stage.key, job, crew.key, first, days[-1], boats)


def _apart(problem: PlanProblem, starts: tuple[Start, ...]) -> bool:
    for place, one in enumerate(starts):
        for other in starts[:place]:
            shared = one.crew == other.crew or set(one.boats) & set(other.boats)
            if shared and one.first <= other.last and other.first <= one.last:
                return False
    return True


def _out_of_turn(problem: PlanProblem, starts: dict[str, Start]) -> bool:
    stages = (stage for job in problem.jobs for stage in job.stages)
    return any(starts[key].last >= starts[stage.key].first for stage in stages for key in stage.after)
