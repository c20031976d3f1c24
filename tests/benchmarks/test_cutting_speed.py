"""How fast cutting plans are proven least. Run with `pytest tests/benchmarks --benchmark-only -s`.

Processor time of the best round: what the program needs, not what its neighbours on the machine took.
"""

import random
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from time import process_time

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.cutting import Piece, StockLength, exact_in, plan_cuts
from estimating.engine.design import design
from estimating.engine.needs import cuts
from estimating.engine.parts import Lumber
from tests.benchmarks.test_pipeline_speed import two_sections

CATALOGUE, RULES = starter_catalogue()
KERF_IN = Fraction(1, 8)
# Round prices, dearer by the foot as the stick gets longer, as common practice has it.
YARD = [
    StockLength(Fraction(feet * 12), Decimal(price))
    for feet, price in ((8, "6.49"), (10, "8.39"), (12, "10.49"), (14, "12.79"), (16, "14.89"), (20, "20.49"))
]


def stock_of(item: Lumber) -> list[StockLength]:
    return [StockLength(exact_in(stick.length_in), stick.price.amount) for stick in item.sticks]


def one_dock() -> list[tuple[list[Piece], list[StockLength]]]:
    return [
        ([Piece(mark, exact_in(length)) for mark, length in sawn.pieces], stock_of(CATALOGUE.lumber[sawn.code]))
        for sawn in cuts(design(two_sections(), CATALOGUE, RULES))
    ]


def many_docks(seed: int) -> list[Piece]:
    """2,000 pieces of thirty lengths to the eighth, from 1 ft to 15 ft 10 in."""
    rnd = random.Random(seed)
    lengths = [Fraction(rnd.randrange(12 * 8, 190 * 8), 8) for _ in range(30)]
    return [Piece(str(number), rnd.choice(lengths)) for number in range(2000)]


def first_fit_decreasing(pieces: Sequence[Piece], stock: Sequence[StockLength]) -> Decimal:
    """Longest piece first into the first stick with room; a new stick is the cheapest by the foot that holds it."""
    rooms: list[Fraction] = []
    cost = Decimal(0)
    for length in sorted((piece.length_in + KERF_IN for piece in pieces), reverse=True):
        place = next((number for number, room in enumerate(rooms) if room >= length), None)
        if place is None:
            holding = [one for one in stock if one.length_in + KERF_IN >= length]
            new = min(holding, key=lambda one: (one.price / Decimal(float(one.length_in)), one.length_in))
            cost += new.price
            rooms.append(new.length_in + KERF_IN - length)
        else:
            rooms[place] -= length
    return cost


def told(name: str, cost: Decimal, greedy: Decimal) -> None:
    print(f"\n{name}: {cost}, first fit decreasing {greedy}: {(1 - cost / greedy) * 100:.1f} % less")


@pytest.mark.benchmark(timer=process_time)
def test_the_plan_of_one_dock_is_proven_in_time(benchmark) -> None:
    dock = one_dock()
    plans = benchmark.pedantic(lambda: [plan_cuts(*one) for one in dock], rounds=10)
    assert all(plan.proven for plan in plans)
    told("one dock", sum(plan.cost for plan in plans), sum(first_fit_decreasing(*one) for one in dock))
    assert benchmark.stats.stats.min < 0.100


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize("seed", range(5))
def test_two_thousand_pieces_over_six_lengths_are_proven_in_time(benchmark, seed: int) -> None:
    wanted = many_docks(seed)
    plan = benchmark.pedantic(plan_cuts, (wanted, YARD), rounds=3)
    assert plan.proven
    told("2,000 pieces", plan.cost, first_fit_decreasing(wanted, YARD))
    assert benchmark.stats.stats.min < 1.0
