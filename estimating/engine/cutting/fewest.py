"""Among answers of one cost, the one with the fewest different sticks: less to set up, more to cut at one stop."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, isfinite

import highspy

from estimating.engine.solver import QuietSolver

from .integer import load
from .whole import Answer, Column, Pattern, Whole, cost_of, covers

FEW = 60  # more patterns than this and the search is not begun
NODES = 30  # a bounded effort, counted so that every machine stops at the same answer


@dataclass(frozen=True, slots=True)
class Group:
    """Sticks cut alike: exactly the wanted pieces, nothing over."""

    bin: int
    pattern: Pattern
    times: int


@dataclass(frozen=True, slots=True)
class Fewest:
    groups: tuple[Group, ...]
    proven: bool  # no answer of this cost has fewer different sticks


def fewest(whole: Whole, answer: Answer, near: Sequence[Column], *, seconds: float = 2.0) -> Fewest:
    """The answer told again with fewer different sticks where a bounded search finds one.

    `near` holds every full pattern an answer of this cost can use; empty where they are too many to go through.
    """
    groups = exact_groups(whole, answer)
    if len(groups) <= 1:
        return Fewest(groups, True)
    if not near or len(near) > FEW:
        return Fewest(groups, False)
    columns = list(dict.fromkeys((*near, *answer)))
    better, bound = _search(whole, answer, columns, seconds)
    if better:
        groups = min(groups, exact_groups(whole, better), key=len)
    return Fewest(groups, len(groups) <= bound)


def _search(whole: Whole, answer: Answer, columns: list[Column], seconds: float) -> tuple[Answer | None, int]:
    solver = QuietSolver()
    load(solver, whole, columns)
    count = len(columns)
    most = [_most(whole, column) for column in columns]
    for number in range(count):
        solver.changeColCost(number, 0.0)
    solver.addVars(count, [0.0] * count, [1.0] * count)
    for number in range(count):
        solver.changeColCost(count + number, 1.0)
        solver.changeColIntegrality(count + number, highspy.HighsVarType.kInteger)
        solver.addRow(-highspy.kHighsInf, 0.0, 2, [number, count + number], [1.0, -float(most[number])])
    costs = [float(whole.bins[column.bin].cost) for column in columns]
    solver.addRow(-highspy.kHighsInf, float(cost_of(whole, answer)), count, list(range(count)), costs)
    solver.setOptionValue("mip_abs_gap", 0.999)
    solver.setOptionValue("mip_max_nodes", NODES)
    solver.setOptionValue("time_limit", seconds)
    _hint(solver, columns, answer)
    solver.run()
    info = solver.getInfo()
    bound = ceil(info.mip_dual_bound - 1e-6) if isfinite(info.mip_dual_bound) else 0
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None, bound
    times = [round(value) for value in solver.getSolution().col_value[:count]]
    better = {column: number for column, number in zip(columns, times, strict=True) if number}
    good = covers(whole, better) and cost_of(whole, better) <= cost_of(whole, answer)
    return (better if good else None), bound


def _hint(solver: highspy.Highs, columns: list[Column], answer: Answer) -> None:
    solution = highspy.HighsSolution()
    times = [float(answer.get(column, 0)) for column in columns]
    solution.col_value = times + [1.0 if number else 0.0 for number in times]
    solver.setSolution(solution)


def _most(whole: Whole, column: Column) -> int:
    return max(-(-whole.counts[row] // taken) for row, taken in enumerate(column.pattern) if taken)


def exact_groups(whole: Whole, answer: Answer) -> tuple[Group, ...]:
    """Sticks cut alike, without the pieces nobody asked for; taken off so that few sticks become different."""
    groups = [[column.bin, list(column.pattern), times] for column, times in answer.items()]
    over = [
        sum(column.pattern[row] * times for column, times in answer.items()) - count
        for row, count in enumerate(whole.counts)
    ]
    while any(over):
        _take_off(groups, over)
    merged: dict[tuple[int, Pattern], int] = {}
    for number, pattern, times in groups:
        if any(pattern):
            key = (number, tuple(pattern))
            merged[key] = merged.get(key, 0) + times
    return tuple(Group(number, pattern, times) for (number, pattern), times in merged.items())


def _take_off(groups: list[list], over: list[int]) -> None:
    for group in sorted(groups, key=lambda one: -one[2]):
        for row, left in enumerate(over):
            if group[1][row] and left >= group[2]:
                group[1][row] -= 1
                over[row] -= group[2]
                return
    group = max(groups, key=lambda one: sum(min(taken, left) for taken, left in zip(one[1], over, strict=True)))
    group[2] -= 1
    split = [group[0], list(group[1]), 1]
    for row, left in enumerate(over):
        gone = min(left, split[1][row])
        split[1][row] -= gone
        over[row] -= gone
    groups.append(split)
