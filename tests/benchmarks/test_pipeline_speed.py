"""How long a spec takes to become a price. Run with `pytest tests/benchmarks --benchmark-only`.

Processor time of the best round: what the program needs, not what its neighbours on the machine took.
"""

import time

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.pipeline import estimate
from estimating.engine.spec import Anchor, DockSpec, Joint, Ramp, Section

CATALOGUE, RULES = starter_catalogue()


def two_sections() -> DockSpec:
    corners = [("A", "shore-left"), ("A", "shore-right"), ("B", "lake-left"), ("B", "lake-right")]
    return DockSpec(
        "Two sections",
        (Section("A", 192.0, 72.0), Section("B", 192.0, 72.0, x_in=192.0)),
        (Joint("A", "B"),),
        Ramp(144.0),
        tuple(Anchor(str(n), section, corner, depth_in=96.0) for n, (section, corner) in enumerate(corners)),
    )


def marina(slips: int) -> DockSpec:
    """A main walk with a finger on each of its sections."""
    walk = [Section(f"W{n}", 240.0, 96.0, x_in=240.0 * n) for n in range(slips)]
    fingers = [Section(f"F{n}", 240.0, 48.0, x_in=240.0 * n + 96.0, y_in=96.0, turned=True) for n in range(slips)]
    hinged = [Joint(f"W{n}", f"W{n + 1}") for n in range(slips - 1)]
    rigid = [Joint(f"W{n}", f"F{n}", "rigid") for n in range(slips)]
    anchors = [Anchor(str(n), f"F{n}", "lake-left", depth_in=120.0) for n in range(slips)]
    return DockSpec("Marina", (*walk, *fingers), (*hinged, *rigid), Ramp(240.0), tuple(anchors))


@pytest.mark.benchmark(timer=time.process_time, min_rounds=10, max_time=3.0)
@pytest.mark.parametrize(
    ("spec", "limit_s"), [(two_sections(), 0.030), (marina(20), 0.600)], ids=["two sections", "marina of 40"]
)
def test_a_price_is_there_in_time(benchmark, spec, limit_s):
    answer = benchmark(estimate, spec, CATALOGUE, RULES)
    assert len(answer.design.spec.sections) == len(spec.sections)
    assert benchmark.stats.stats.min < limit_s
