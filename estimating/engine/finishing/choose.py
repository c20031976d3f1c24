"""Which jobs and sections get the goods: an integer program over whole units of work, solved aim after aim."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property
from math import lcm

import highspy

from estimating.engine.solver import QuietSolver

from .asked import Goods, StillNeeded

HERE = date.min
Unit = tuple[str, str]  # job, section


@dataclass(frozen=True)
class Question:
    """Needs gathered by unit of work, goods by item and day. A date already past counts as today."""

    needs: tuple[StillNeeded, ...]
    goods: tuple[Goods, ...]
    today: date

    @cached_property
    def wants(self) -> dict[Unit, dict[str, Fraction]]:
        wants: dict[Unit, dict[str, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
        for need in self.needs:
            wants[need.job, need.section][need.item] += Fraction(need.quantity)
        order = sorted(wants, key=lambda unit: (self.asked_by[unit], unit))
        return {unit: dict(wants[unit]) for unit in order}

    @cached_property
    def asked_by(self) -> dict[Unit, date]:
        """The first day on which one of the unit's needs is due."""
        due: dict[Unit, date] = {}
        for need in self.needs:
            unit = (need.job, need.section)
            due[unit] = min(due.get(unit, need.needed_by), need.needed_by)
        return due

    @cached_property
    def due(self) -> dict[tuple[Unit, str], date]:
        """By when each item has to be here for the unit to be in time."""
        due: dict[tuple[Unit, str], date] = {}
        for need in self.needs:
            key = ((need.job, need.section), need.item)
            due[key] = min(due.get(key, date.max), max(need.needed_by, self.today))
        return due

    @cached_property
    def coming(self) -> dict[str, dict[date, Fraction]]:
        coming: dict[str, dict[date, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
        for one in self.goods:
            day = HERE if one.on is None else max(one.on, self.today)
            coming[one.item][day] += Fraction(one.quantity)
        return {item: dict(sorted(days.items())) for item, days in coming.items()}

    def here_by(self, item: str, day: date) -> Fraction:
        return sum((amount for on, amount in self.coming.get(item, {}).items() if on <= day), Fraction(0))


@dataclass(frozen=True, slots=True)
class Choice:
    in_time: frozenset[Unit]
    late: frozenset[Unit]
    proven: bool


Row = tuple[dict[int, int], float]  # a sum over columns, and what it is at most


def choose(question: Question, *, seconds: float = 1.0) -> Choice:
    """Most dates met, then fewest jobs left waiting, then most sections finished, then the earlier dates.

    Goods that come by a day serve every date from that day on, so a choice can be served exactly when for each item
    and day what is due by then is no more than what is here by then, and in all no more than there ever is.
    """
    program = _Program(question)
    units, jobs = len(question.wants), len(program.jobs)
    rank = [units - place for place in range(units)]
    proven = program.aim_for([jobs + 1] * units + [0] * units + [1] * jobs, seconds * 0.8)
    program.aim_for(rank + [units * units + one for one in rank] + [0] * jobs, seconds * 0.2)
    found = dict(zip(question.wants, program.chosen(units), strict=True))
    in_time = frozenset(unit for unit, (met, _) in found.items() if met)
    return Choice(in_time, frozenset(unit for unit, (_, done) in found.items() if done) - in_time, proven)


class _Program:
    """Columns: unit in time, unit finished at all, job finished."""

    def __init__(self, question: Question):
        self.units = list(question.wants)
        self.jobs = sorted({job for job, _ in self.units})
        self.count = 2 * len(self.units) + len(self.jobs)
        self.values = [0] * self.count
        self._solver = QuietSolver()
        self._solver.addVars(self.count, [0.0] * self.count, [1.0] * self.count)
        for number in range(self.count):
            self._solver.changeColIntegrality(number, highspy.HighsVarType.kInteger)
        for row, most in (*self._shape(), *self._served(question)):
            entries = [float(entry) for entry in row.values()]
            self._solver.addRow(-highspy.kHighsInf, most, len(row), list(row), entries)
        self._solver.changeObjectiveSense(highspy.ObjSense.kMaximize)
        self._solver.setOptionValue("mip_rel_gap", 0.0)

    def _shape(self) -> Iterable[Row]:
        """In time is finished; a job is finished when each of its units is."""
        units = len(self.units)
        for number, (job, _) in enumerate(self.units):
            yield {number: 1, units + number: -1}, 0.0
            yield {2 * units + self.jobs.index(job): 1, units + number: -1}, 0.0

    def _served(self, question: Question) -> Iterable[Row]:
        for item in sorted({need.item for need in question.needs}):
            asking = [(number, unit) for number, unit in enumerate(self.units) if item in question.wants[unit]]
            for day in sorted({question.due[unit, item] for _, unit in asking}):
                due = {number: unit for number, unit in asking if question.due[unit, item] <= day}
                yield self._within(question, item, due, question.here_by(item, day))
            every = {len(self.units) + number: unit for number, unit in asking}
            yield self._within(question, item, every, question.here_by(item, date.max))

    def _within(self, question: Question, item: str, columns: Mapping[int, Unit], most: Fraction) -> Row:
        amounts = {number: question.wants[unit][item] for number, unit in columns.items()}
        scale = lcm(most.denominator, *(amount.denominator for amount in amounts.values()))
        return {number: int(amount * scale) for number, amount in amounts.items()}, float(most * scale)

    def aim_for(self, aim: Sequence[int], seconds: float) -> bool:
        """Reach the aim as far as it can be, and hold it for the aims that follow."""
        for number, weight in enumerate(aim):
            self._solver.changeColCost(number, float(weight))
        self._solver.setOptionValue("time_limit", seconds)
        self._solver.run()
        proven = self._solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        if self._solver.getInfo().primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
            self.values = [round(value) for value in self._solver.getSolution().col_value]
        reached = sum(weight * value for weight, value in zip(aim, self.values, strict=True))
        used = [number for number, weight in enumerate(aim) if weight]
        self._solver.addRow(float(reached), highspy.kHighsInf, len(used), used, [float(aim[number]) for number in used])
        return proven

    def chosen(self, units: int) -> list[tuple[int, int]]:
        return list(zip(self.values[:units], self.values[units : 2 * units], strict=True))
