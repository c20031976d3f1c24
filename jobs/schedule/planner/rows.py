"""What has to fit into what: the rows that every plan keeps to, for crews that share work and for kinds of boats."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import highspy
import numpy as np

from .calendar import Calendar, Work
from .earliest import heads, proving


@dataclass(frozen=True, slots=True)
class Family:
    """The rows of one resource from one day on: for each later day, what must be over by it fits into what there is.

    `columns[piece, place]`: the completion (job * days + day, or `onto` a program its column) that makes a day's piece
    of a stage be over by the day of that place; `room[place]` in days of a crew.
    """

    columns: np.ndarray
    room: np.ndarray

    def onto(self, column: np.ndarray) -> "Family":
        """The same in the columns of a program: `column[job, day]`."""
        return replace(self, columns=column.ravel()[self.columns])

    def broken(self, answer: np.ndarray, *, most: int, least_breach: float) -> list[int]:
        """The places of the rows that an answer breaks most."""
        over = answer[self.columns].sum(axis=0) - self.room
        return [int(place) for place in np.argsort(-over)[:most] if over[place] > least_breach]


def families_of(calendar: Calendar, jobs: Sequence[int]) -> list[Family]:
    """All rows for these jobs, which count from 0 in this order."""
    finder = _Finder(calendar, {job: place for place, job in enumerate(jobs)})
    return [family for works, capacity in _resources(calendar) for family in finder.families(works, capacity)]


def add_rows(solver: highspy.Highs, families: Sequence[Family], rows: Sequence[tuple[int, int]]) -> None:
    """Rows by number of the family and place in it: completions, each times days of work, fit into the room."""
    found = [np.unique(families[n].columns[:, place], return_counts=True) for n, place in rows]
    if not found:
        return
    starts = np.cumsum([0, *(columns.size for columns, _ in found)])[:-1].astype(np.int32)
    indices = np.concatenate([columns for columns, _ in found]).astype(np.int32)
    values = np.concatenate([counts for _, counts in found]).astype(float)
    upper = np.array([families[n].room[place] for n, place in rows], dtype=float)
    solver.addRows(len(rows), np.full(len(rows), -highspy.kHighsInf), upper, indices.size, starts, indices, values)


class _Finder:
    def __init__(self, calendar: Calendar, place: Mapping[int, int]) -> None:
        self.calendar, self.place = calendar, place
        self.heads, self.proving = heads(calendar), proving(calendar)

    def families(self, works: list[Work], capacity: np.ndarray) -> Iterator[Family]:
        """One for every day on which work is let in: stages that cannot start before it share what is left from it."""
        counted = [work for work in works if work.job in self.place and work.stage.pinned is None]
        for release in sorted({0, *(self.heads[work.number] for work in counted)}):
            let_in = [work for work in counted if self.heads[work.number] >= release]
            if let_in and release < self.calendar.days:
                family = self._family(let_in, capacity[release:], release)
                if family.room.size:
                    yield family

    def _family(self, works: list[Work], capacity: np.ndarray, release: int) -> Family:
        """Days on which nobody works or on which there is room for all the work say nothing new."""
        room = np.cumsum(capacity)
        tight = np.flatnonzero((room < sum(work.duration for work in works)) & (capacity > 0))
        columns = [self._proven_by(work, tight + release, left) for work in works for left in range(work.duration)]
        return Family(np.array(columns).reshape(len(columns), tight.size), room[tight])

    def _proven_by(self, work: Work, days: np.ndarray, left: int) -> np.ndarray:
        """For each day: by when the job must be complete, to prove all but `left` days of a stage over by that day."""
        ends = np.minimum(days + 1 + left, self.calendar.days + 1)
        proven = np.minimum(self.proving[work.number][ends] - 1, self.calendar.days - 1)
        return self.place[work.job] * self.calendar.days + proven


def _resources(calendar: Calendar) -> Iterator[tuple[list[Work], np.ndarray]]:
    """Stages that draw on the same crews, or on the same kind of boat, with what there is of it on each day."""
    working = np.zeros((len(calendar.crews), calendar.days))
    for number, crew in enumerate(calendar.crews):
        working[number, list(crew.worked)] = 1
    shares = {frozenset(slots.crew for slots in work.slots) for work in calendar.works} - {frozenset()}
    shares.add(frozenset(range(len(calendar.crews))))
    for share in sorted(shares, key=sorted):
        works = [w for w in calendar.works if {slots.crew for slots in w.slots} <= share and w.slots]
        yield works, working[sorted(share)].sum(axis=0)
    anybody = working.max(axis=0, initial=0)
    for kind, boats in calendar.boats.items():
        wanting = [work for work in calendar.works if kind in work.stage.boats]
        afloat = sum(
            np.array([1 - (calendar.boat_out[b.key] >> day & 1) for day in range(calendar.days)]) for b in boats
        )
        yield wanting, afloat * anybody
