"""How good a plan of a whole season is after ten seconds. Run with `pytest tests/benchmarks --benchmark-only -s`.

Seconds of the clock, for that is what the owner waits: on a machine with nothing else to do.
"""

import pytest

from jobs.schedule.planner.solve import plan
from tests.planner import exhaustive
from tests.planner.shops import rush


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_sixty_jobs_of_six_stages_are_planned_near_the_best_in_ten_seconds(benchmark, seed: int) -> None:
    problem = rush(60, seed=seed)
    made = benchmark.pedantic(plan, (problem,), {"seconds": 10}, rounds=1)
    print(f"\n{len(made.starts)} stages, {made.cost:.0f} late days by weight: {made.words}")
    assert not made.unplaced and exhaustive.faults(problem, made.by_stage) == []
    assert made.gap_percent <= 15
    assert benchmark.stats.stats.max < 10.2
