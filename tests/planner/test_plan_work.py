"""Plans break no gate, stay above their bound, and are the best there is where everything can be tried."""

from dataclasses import replace
from datetime import date, timedelta
from random import Random

import pytest

from jobs.schedule.planner.bound import least_cost as bound_of
from jobs.schedule.planner.calendar import Calendar
from jobs.schedule.planner.problem import Change, PlanJob, PlanProblem, PlanStage
from jobs.schedule.planner.solve import moved, plan
from jobs.schedule.planner.travel import Roads

from . import exhaustive
from .shops import MONDAY, crew, rush, small_shop

SMALL = [small_shop(Random(seed)) for seed in range(12)]
LAST = MONDAY + timedelta(days=25)


def one_job(*stages: PlanStage, due: date | None = None, key: str = "7") -> PlanJob:
    return PlanJob(key, f"Job {key}", stages, due)


def shop(*jobs: PlanJob, **facts: object) -> PlanProblem:
    return PlanProblem(MONDAY, LAST, jobs, (crew("1", LAST),), **facts)


@pytest.mark.parametrize("problem", SMALL, ids=range(len(SMALL)))
def test_it_finds_the_best_plan_there_is_of_a_small_shop(problem: PlanProblem) -> None:
    best = exhaustive.least_cost(problem)
    made = plan(problem, seconds=2)
    assert exhaustive.faults(problem, made.by_stage) == []
    if best is None:
        assert made.unplaced
    else:
        assert made.cost == pytest.approx(best) == pytest.approx(exhaustive.cost(problem, made.by_stage))
        assert made.words == "the best possible" and not made.unplaced


@pytest.mark.parametrize("problem", SMALL[:8], ids=range(8))
def test_it_bounds_a_small_shop_from_below(problem: PlanProblem) -> None:
    best, heard = exhaustive.least_cost(problem), []
    if best is not None:
        calendar, roads = Calendar.of(problem), Roads(problem)
        proven = bound_of(calendar, roads, seconds=2, hear=lambda bound, _: heard.append(bound) or True)
        assert proven <= best + 1e-6
        assert heard and max(heard) <= best + 1e-6


def test_it_breaks_no_gate_of_a_rush_and_names_what_governs_every_day() -> None:
    problem = rush(14)
    made = plan(problem, seconds=1.5)
    assert not made.unplaced and exhaustive.faults(problem, made.by_stage) == []
    assert made.cost == pytest.approx(exhaustive.cost(problem, made.by_stage))
    assert 0 < made.bound <= made.cost
    assert all(start.governor for start in made.starts)


def test_it_keeps_the_best_so_far_when_it_is_stopped() -> None:
    heard = []
    made = plan(rush(12), seconds=30, progress=lambda cost, bound: heard.append((cost, bound)) or len(heard) > 2)
    assert made.stopped and not made.unplaced and made.cost <= heard[0][0]


def test_it_leaves_pinned_work_where_the_owner_put_it_and_says_what_that_breaks() -> None:
    framing = PlanStage("f", 2, "framing", earliest=MONDAY + timedelta(days=3), governor="the lumber comes on 5 March")
    decking = PlanStage("d", 1, "decking", after=("f",), pinned=MONDAY + timedelta(days=1))
    made = plan(shop(one_job(framing, decking)), seconds=1)
    assert made.by_stage["d"].first == MONDAY + timedelta(days=1)
    assert made.by_stage["f"].first == MONDAY + timedelta(days=3)
    assert [(one.stage, one.why) for one in made.broken] == [("d", "framing ends no earlier")]


def test_it_puts_what_a_pin_waits_for_before_it_though_another_job_is_late_for_that() -> None:
    framing = PlanStage("f", 2, "framing")
    decking = PlanStage("d", 1, "decking", after=("f",), pinned=MONDAY + timedelta(days=2))
    rushed = replace(one_job(PlanStage("o", 2, "framing"), due=MONDAY, key="8"), weight=9.0)
    made = plan(shop(one_job(framing, decking), rushed), seconds=1)
    assert made.broken == () and made.by_stage["o"].first == MONDAY + timedelta(days=3)


def test_it_says_why_a_stage_stands_on_no_day() -> None:
    stages = (
        PlanStage("a", 1, "anchoring", boats=("barge",)),
        PlanStage("b", 1, "decking", people=9),
        PlanStage("c", 1, "framing", earliest=LAST + timedelta(days=9), governor="the permit comes in April"),
        PlanStage("d", 1, "flotation", after=("c",)),
    )
    made = plan(shop(one_job(*stages)), seconds=1)
    assert {one.stage: one.why for one in made.unplaced} == {
        "a": "there is no barge",
        "b": "no crew has 9 people",
        "c": "the permit comes in April",
        "d": "framing is not placed",
    }


def test_it_counts_weeks_with_their_week_ends() -> None:
    made = plan(shop(one_job(PlanStage("f", 6, "framing"), due=MONDAY)), seconds=1)
    assert made.by_stage["f"].last == MONDAY + timedelta(days=7) and made.lateness == (("7", 7),)


def test_it_refuses_stages_that_wait_for_each_other() -> None:
    circle = (PlanStage("a", 1, after=("b",)), PlanStage("b", 1, after=("a",)))
    with pytest.raises(ValueError, match="circle"):
        plan(shop(one_job(*circle)), seconds=1)


def test_it_tells_everything_else_that_would_move_and_nothing_that_would_not() -> None:
    first = one_job(PlanStage("1f", 2, "framing"), PlanStage("1d", 1, "decking", after=("1f",)), due=MONDAY, key="1")
    other = one_job(PlanStage("2f", 2, "framing"), due=MONDAY + timedelta(days=4), key="2")
    problem = shop(first, other)
    made = plan(problem, seconds=1)
    days = {start.stage: (start.first - MONDAY).days for start in made.starts}
    assert days == {"1f": 0, "1d": 2, "2f": 3}
    shift = moved(problem, made, Change("1f", MONDAY + timedelta(days=1)))
    assert [(one.stage, (one.now.first - MONDAY).days) for one in shift if one.now] == [("1d", 3), ("2f", 4)]
    assert shift[0].why == "after framing"
    assert moved(problem, made, Change("2f", MONDAY + timedelta(days=7))) == ()


def test_it_does_not_push_pinned_work_away() -> None:
    held = replace(PlanStage("2f", 2, "framing"), pinned=MONDAY + timedelta(days=2))
    problem = shop(one_job(PlanStage("1f", 2, "framing"), key="1"), one_job(held, key="2"))
    made = plan(problem, seconds=1)
    [told] = moved(problem, made, Change("1f", MONDAY + timedelta(days=1)))
    assert (told.stage, told.now) == ("2f", None) and "pinned" in told.why
