"""Among answers of one cost, the one with the fewest different sticks: less to set up, more to cut at one stop."""

from collections.abc import Sequence
from dataclasses import dataclass

import highspy

from estimating.engine.solver import QuietSolver

from .integer import answer_in, load, most, whole_bound
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
    """A better answer, if one is found, and the fewest columns any answer of this cost needs."""
    solver = QuietSolver()
    cost = cost_of(whole, answer)
    load(solver, whole, columns, (cost, cost), priced=False)
    _count_columns(solver, whole, columns)
    for option, value in (("mip_abs_gap", 0.999), ("mip_max_nodes", NODES), ("time_limit", seconds)):
        solver.setOptionValue(option, value)
    solver.run()
    better = answer_in(solver, columns)
    good = better is not None and covers(whole, better) and cost_of(whole, better) <= cost
    return (better if good else None), whole_bound(solver.getInfo().mip_dual_bound)


def _count_columns(solver: highspy.Highs, whole: Whole, columns: list[Column]) -> None:
    count, first = len(columns), len(columns) + len(whole.bins)
    solver.addVars(count, [0.0] * count, [1.0] * count)
    for number, column in enumerate(columns):
        solver.changeColCost(first + number, 1.0)
        solver.changeColIntegrality(first + number, highspy.HighsVarType.kInteger)
        solver.addRow(-highspy.kHighsInf, 0.0, 2, [number, first + number], [1.0, -float(most(whole, column))])


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
