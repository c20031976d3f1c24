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


def cheapest(
    whole: Whole, columns: Sequence[Column], *, seconds: float, start: Answer | None = None, nodes: int = 100_000
) -> Found:
    """Cut every wanted piece from the columns given at least cost; `start` is an answer to begin from."""
    solver = QuietSolver()
    load(solver, whole, columns)
    for option, value in (("mip_rel_gap", 0.0), ("mip_abs_gap", 0.999), ("time_limit", seconds)):
        solver.setOptionValue(option, value)
    solver.setOptionValue("mip_max_nodes", nodes)
    if start:
        _hint(solver, columns, start)
    solver.run()
    bound = _whole_bound(solver.getInfo().mip_dual_bound)
    proven = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    answer = _answer(solver, columns)
    if answer is None or not covers(whole, answer):
        return Found(None, bound, False)
    return Found(answer, cost_of(whole, answer) if proven else bound, proven)


def _answer(solver: highspy.Highs, columns: Sequence[Column]) -> Answer | None:
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    times = [round(value) for value in solver.getSolution().col_value]
    return {column: count for column, count in zip(columns, times, strict=True) if count}


def _whole_bound(bound: float) -> int:
    return ceil(bound - 1e-6) if isfinite(bound) else 0


def _hint(solver: highspy.Highs, columns: Sequence[Column], start: Answer) -> None:
    solution = highspy.HighsSolution()
    solution.col_value = [float(start.get(column, 0)) for column in columns]
    solver.setSolution(solution)


def load(solver: highspy.Highs, whole: Whole, columns: Sequence[Column]) -> None:
    rows = len(whole.counts)
    limited = [number for number, one in enumerate(whole.bins) if one.limit is not None]
    lp = highspy.HighsLp()
    lp.num_col_ = len(columns)
    lp.num_row_ = rows + len(limited)
    lp.col_cost_ = np.array([float(whole.bins[c.bin].cost) for c in columns])
    lp.col_lower_ = np.zeros(len(columns))
    most = [max(-(-whole.counts[row] // taken) for row, taken in enumerate(c.pattern) if taken) for c in columns]
    lp.col_upper_ = np.array(most, dtype=float)
    lp.row_lower_ = np.array([*map(float, whole.counts), *[-highspy.kHighsInf] * len(limited)])
    lp.row_upper_ = np.array([highspy.kHighsInf] * rows + [float(whole.bins[n].limit) for n in limited])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    starts, index, value = [0], [], []
    for column in columns:
        for row, taken in enumerate(column.pattern):
            if taken:
                index.append(row)
                value.append(float(taken))
        if column.bin in limited:
            index.append(rows + limited.index(column.bin))
            value.append(1.0)
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(value)
    solver.passModel(lp)
