"""A plan is looked for, watched, stopped, and put on the board only when somebody says so."""

import threading
from dataclasses import dataclass
from datetime import date, timedelta
from time import monotonic
from typing import Any

from django.db import connection, transaction
from django.utils import timezone

from contractor.company.models import Staff
from jobs.schedule.models import Crew, JobStage, PlanRun, RunState
from jobs.schedule.planner.problem import Plan
from jobs.schedule.planner.solve import plan

from .problem import StageDays, Work, days_of_visit, open_work
from .putting import BoardChanged, hold_board, mark_of_board, put_stages
from .stages import open_accepted

TELL_EVERY_S = 0.5
GIVEN_UP_AFTER = timedelta(seconds=60)


class NothingToPlan(Exception):
    """There is no crew, or no open work."""


@dataclass(frozen=True, slots=True)
class Proposed:
    """One visit of a plan that was found, as its page tells it."""

    job_number: str
    name: str
    what: str
    crew: str
    first: date
    last: date
    was: date | None
    moves: bool
    governor: str


def start_run(*, by: Staff, on: date, seconds: int = 10) -> PlanRun:
    """Begin to look for a plan; one that is still looking is handed back instead. Raises NothingToPlan."""
    running = PlanRun.objects.filter(state=RunState.RUNNING).first()
    if running is not None and not is_lost(running):
        return running
    if not Crew.objects.working().filter(members__active=True).exists():
        raise NothingToPlan("There is no crew with people in it yet.")
    open_accepted()
    with transaction.atomic():
        run = PlanRun.objects.create(by=by, first_day=on, seconds=seconds, standing=mark_of_board())
        transaction.on_commit(lambda: _in_background(run.pk))
    return run


def is_lost(run: PlanRun) -> bool:
    """It ought to have ended long ago: the machine was stopped meanwhile."""
    return run.is_running and timezone.now() > run.started_at + timedelta(seconds=run.seconds) + GIVEN_UP_AFTER


def stop_run(run: PlanRun) -> None:
    """Ask it to stop; the best plan so far is kept."""
    PlanRun.objects.filter(pk=run.pk, state=RunState.RUNNING).update(stop_asked=True)


def work_run(run_id: int) -> PlanRun:
    """Look for the plan, telling now and then how far it is, and keep the best."""
    run = PlanRun.objects.get(pk=run_id)
    try:
        work = open_work(on=run.first_day)
        found = plan(work.problem, seconds=run.seconds, progress=_telling(run.pk))
    except Exception:
        _end(run, state=RunState.FAILED, words="The search broke off. The board is as it was.")
        raise
    stopped = PlanRun.objects.values_list("stop_asked", flat=True).get(pk=run.pk)
    state = RunState.STOPPED if stopped else RunState.DONE
    _end(run, state=state, words=found.words, best_cost=found.cost, bound=found.bound, answer=_answer(work, found))
    return run


def proposed(run: PlanRun) -> list[Proposed]:
    """The visits of the plan, in the order of their days."""
    return [
        Proposed(
            job_number=row["job"],
            name=row["name"],
            what=row["what"],
            crew=row["crew_name"],
            first=date.fromisoformat(row["first"]),
            last=date.fromisoformat(row["last"]),
            was=date.fromisoformat(row["was"]) if row["was"] else None,
            moves=row["moves"],
            governor=row["governor"],
        )
        for row in run.answer.get("visits", ())
    ]


@transaction.atomic
def fix_run(run: PlanRun, *, by: Staff) -> int:
    """Put the plan on the board; returns how many stages moved. Raises BoardChanged when the board is another now."""
    hold_board()
    held = PlanRun.objects.select_for_update().get(pk=run.pk)
    if held.state == RunState.FIXED:
        return 0
    if held.is_running or held.standing != mark_of_board():
        raise BoardChanged
    stages = {stage.pk: stage for stage in JobStage.objects.open().select_related("job")}
    days = [_days(row, stages) for visit in held.answer.get("visits", ()) for row in visit["stages"]]
    moving = [one for one in days if one.moves]
    put_stages(moving, by=by, did="planned")
    held.state = RunState.FIXED
    held.save(update_fields=["state"])
    return len(moving)


def _days(row: dict[str, Any], stages: dict[int, JobStage]) -> StageDays:
    first, last = date.fromisoformat(row["first"]), date.fromisoformat(row["last"])
    return StageDays(stages[row["stage"]], row["crew"], first, last)


def _answer(work: Work, found: Plan) -> dict[str, Any]:
    visits = [_visit_row(work, start) for start in found.starts]
    unplaced = [
        {"job": work.visits[one.stage].job.number, "name": _who(work, one.stage), "why": one.why}
        for one in found.unplaced
    ]
    left = [
        {"job": one.visit.job.number, "name": f"{one.visit.job.client.filed_under}, {one.visit.name}", "why": one.why}
        for one in work.left
    ]
    broken = [{"name": _who(work, one.stage), "why": one.why} for one in found.broken]
    late = [{"job": job, "days": days} for job, days in found.lateness]
    return {
        "visits": visits,
        "unplaced": [*unplaced, *left],
        "broken": broken,
        "late": late,
        "travel_mi": round(found.travel_mi, 1),
    }


def _visit_row(work: Work, start) -> dict[str, Any]:
    visit, team = work.visits[start.stage], work.shop.team_of(int(start.crew))
    # What is under way keeps the day it began; the planner only knows what is left of it.
    days = days_of_visit(visit, start, work.shop) if not _has_begun(visit, work) else ()
    return {
        "job": visit.job.number,
        "name": visit.job.client.filed_under,
        "what": visit.name,
        "crew_name": team.crew.name if team else "",
        "first": start.first.isoformat(),
        "last": start.last.isoformat(),
        "was": visit.starts_on.isoformat() if visit.starts_on else "",
        "moves": any(one.moves for one in days),
        "governor": start.governor or f"Nothing is in the way before {work.shop.say_day(start.first)}.",
        "stages": [
            {
                "stage": one.stage.pk,
                "crew": one.crew_id,
                "first": one.first.isoformat(),
                "last": one.last.isoformat(),
            }
            for one in days
        ],
    }


def _has_begun(visit, work: Work) -> bool:
    return bool(visit.starts_on and visit.starts_on <= work.shop.today)


def _who(work: Work, key: str) -> str:
    visit = work.visits[key]
    return f"{visit.job.client.filed_under}, {visit.name}"


def _telling(run_id: int):
    """Keeps the best and the bound where the page can see them, and hears whether to stop."""
    last = 0.0

    def tell(best: float, bound: float) -> bool:
        nonlocal last
        if monotonic() - last < TELL_EVERY_S:
            return False
        last = monotonic()
        PlanRun.objects.filter(pk=run_id).update(best_cost=best, bound=bound)
        return PlanRun.objects.filter(pk=run_id, stop_asked=True).exists()

    return tell


def _end(run: PlanRun, **facts: Any) -> None:
    for name, value in facts.items():
        setattr(run, name, value)
    run.finished_at = timezone.now()
    run.save(update_fields=[*facts, "finished_at"])


def _in_background(run_id: int) -> None:
    threading.Thread(target=_work_and_close, args=(run_id,), name=f"plan {run_id}", daemon=True).start()


def _work_and_close(run_id: int) -> None:
    try:
        work_run(run_id)
    finally:
        connection.close()
