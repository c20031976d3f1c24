"""How fast docks come to rest on their chains. Run with `pytest tests/benchmarks --benchmark-only`.

Processor time of the best round: what the program needs, not what its neighbours on the machine took.
"""

import io
from contextlib import redirect_stdout
from time import process_time

import numpy as np
import pytest
from moorpy.Catenary import catenary

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.mooring.catenary import hang, reach_under
from estimating.engine.mooring.proof import prove_mooring
from estimating.engine.spec import Anchor, Boat, DockSpec, Joint, Place, Section, Water

CATALOGUE, RULES = starter_catalogue()
LEVELS = Water(low_in=0.0, normal_in=36.0, high_in=48.0, storm_in=60.0)


def eight_lines() -> DockSpec:
    sections = tuple(Section(mark, 192.0, 72.0, x_in=192.0 * n) for n, mark in enumerate("ABC"))
    corners = [
        (section.mark, f"{end}-{side}")
        for section in sections
        for end in ("shore", "lake")
        for side in ("left", "right")
    ]
    held = [corners[n] for n in (0, 1, 2, 3, 6, 7, 10, 11)]
    anchors = tuple(Anchor(str(n), *at, depth_in=96.0 + 6 * n) for n, at in enumerate(held, start=1))
    place = Place(water=LEVELS, bottom="sand", current_kn=0.5, fetch_mi=0.5)
    return DockSpec(
        "Eight", sections, (Joint("A", "B"), Joint("B", "C")), None, anchors, place=place, boats=(Boat(240.0),)
    )


@pytest.mark.benchmark(timer=process_time)
def test_a_dock_on_eight_chains_is_solved_from_16_sides_at_4_levels_in_time(benchmark):
    laid = design(eight_lines(), CATALOGUE, RULES)
    proof = benchmark.pedantic(prove_mooring, (laid, CATALOGUE, RULES), rounds=15, warmup_rounds=1)
    drifts = proof.docks[0].drifts
    assert (len(drifts), len(drifts[0].tensions_lb)) == (16 * 4, 8)
    assert all(drift.settled for drift in drifts)
    assert benchmark.stats.stats.min < 0.150


@pytest.mark.benchmark(timer=process_time)
def test_chains_hang_fifty_times_faster_than_in_a_general_library_at_equal_answers(benchmark):
    """Side by side with MoorPy on the same 2,000 chains, of which it is given 60: it takes one chain at a time."""
    rng = np.random.default_rng(12)
    height, weight = rng.uniform(48, 360, 2000), rng.uniform(0.05, 0.2, 2000)
    length = height * rng.uniform(1.2, 4, 2000)
    reach = reach_under(
        pull_lb=rng.uniform(0.3, 20, 2000) * weight * height, height=height, length=length, weight=weight
    )
    chains = {"reach": reach, "height": height, "length": length, "weight": weight}
    hung = benchmark.pedantic(hang, (), chains, rounds=20, warmup_rounds=1)
    started, theirs = process_time(), []
    with redirect_stdout(io.StringIO()):
        for row in zip(reach[:60], height[:60], length[:60], weight[:60], strict=True):
            theirs.append(catenary(*row[:3], 1e15 * row[3] * row[2], row[3], Tol=1e-12 * row[2], MaxIter=500)[2])
    each_of_theirs = (process_time() - started) / 60
    np.testing.assert_allclose(hung.pull_lb[:60], np.abs(theirs), rtol=1e-6)
    assert benchmark.stats.stats.min / 2000 * 50 < each_of_theirs
