"""How fast frames are proved. Run with `pytest tests/benchmarks --benchmark-only`.

Processor time of the best round: what the program needs, not what its neighbours on the machine took.
"""

from time import process_time

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.structure.frame_proof import prove_frame
from tests.benchmarks.test_pipeline_speed import marina, two_sections

CATALOGUE, RULES = starter_catalogue()


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize(
    ("spec", "limit_s", "rounds"),
    [(two_sections(), 0.003, 400), (marina(20), 0.060, 40)],
    ids=["two sections", "marina of 40"],
)
def test_a_frame_is_proved_in_time(benchmark, spec, limit_s: float, rounds: int) -> None:
    drawn = design(spec, CATALOGUE, RULES)
    found = benchmark.pedantic(prove_frame, (drawn, CATALOGUE, RULES), {"live_load_psf": 30.0}, rounds=rounds)
    assert {check.section for check in found.checks} >= {section.mark for section in spec.sections}
    assert benchmark.stats.stats.min < limit_s
