"""Whole sticks: integer programs over patterns."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, isfinite

import highspy
import numpy as np

from estimating.engine.solver import QuietSolver

from .whole import Answer, Column, Whole, cost_of, covers


@dataclass(frozen=True, slots=True)
class Found:
    """The cheapest answer from the columns given. `bound`: no answer from these columns costs less."""

    answer: Answer | None
    bound: int
    proven: bool


def cheapest(whole: Whole, columns: Sequence[Column], *, seconds: float, cost: tuple[float, float]) -> Found:
    """Cut every wanted piece from the columns given at least cost.

    `cost`: what the cheapest answer costs at least and at most, known beforehand. No answer is handed to the solver to
    begin from: given one, its release of today can end with an answer that cuts too few pieces.
    """
    solver = QuietSolver()
    load(solver, whole, columns, cost)
    for option, value in (("mip_rel_gap", 0.0), ("mip_abs_gap", 0.999), ("time_limit", seconds)):
        solver.setOptionValue(option, value)
    solver.run()
    proven = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    answer = answer_in(solver, columns)
    least = max(int(cost[0]), whole_bound(solver.getInfo().mip_dual_bound))
    if answer is None or not covers(whole, answer):
        return Found(None, int(cost[0]), False)
    return Found(answer, cost_of(whole, answer) if proven else min(least, cost_of(whole, answer)), proven)


def answer_in(solver: highspy.Highs, columns: Sequence[Column]) -> Answer | None:
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    times = [round(value) for value in list(solver.getSolution().col_value)[: len(columns)]]
    return {column: count for column, count in zip(columns, times, strict=True) if count}


def whole_bound(bound: float) -> int:
    return ceil(bound - 1e-6) if isfinite(bound) else 0


def load(
    solver: highspy.Highs, whole: Whole, columns: Sequence[Column], cost: tuple[float, float], *, priced: bool = True
) -> None:
    """The program: columns, then the sticks of each stock length as numbers of their own.

    The cost lies on those few numbers, and branching on them settles what branching on patterns takes hours for.
    The solver's own simplifying would fold them away again.
    """
    solver.setOptionValue("presolve", "off")
    pieces, bins = len(whole.counts), len(whole.bins)
    prices = np.array([float(one.cost) for one in whole.bins])
    lp = highspy.HighsLp()
    lp.num_col_ = len(columns) + bins
    lp.num_row_ = pieces + bins + 1
    lp.col_cost_ = np.concatenate([np.zeros(len(columns)), prices if priced else 0 * prices])
    lp.col_lower_ = np.zeros(lp.num_col_)
    lp.col_upper_ = np.array([*(float(most(whole, column)) for column in columns), *_limits(whole)])
    lp.row_lower_ = np.array([*map(float, whole.counts), *[0.0] * bins, float(cost[0])])
    lp.row_upper_ = np.array([*[highspy.kHighsInf] * pieces, *[0.0] * bins, float(cost[1])])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * lp.num_col_
    starts, index, value = [0], [], []
    for rows in (*(_rows(column, pieces) for column in columns), *_stick_rows(whole)):
        index += [row for row, _ in rows]
        value += [entry for _, entry in rows]
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(value)
    solver.passModel(lp)


def most(whole: Whole, column: Column) -> int:
    """How often a column is cut at most."""
    return max(-(-whole.counts[row] // taken) for row, taken in enumerate(column.pattern) if taken)


def _limits(whole: Whole) -> list[float]:
    return [highspy.kHighsInf if one.limit is None else float(one.limit) for one in whole.bins]


def _rows(column: Column, pieces: int) -> list[tuple[int, float]]:
    taken = [(row, float(count)) for row, count in enumerate(column.pattern) if count]
    return [*taken, (pieces + column.bin, 1.0)]


def _stick_rows(whole: Whole) -> list[list[tuple[int, float]]]:
    pieces, cost_row = len(whole.counts), len(whole.counts) + len(whole.bins)
    return [[(pieces + number, -1.0), (cost_row, float(one.cost))] for number, one in enumerate(whole.bins)]
