"""Stages put on days: who is busy when, what it costs, and the first slot that is free."""

from bisect import bisect_left, insort
from dataclasses import dataclass
from itertools import pairwise

from .calendar import Calendar, Work
from .problem import YARD
from .travel import Roads


@dataclass(slots=True)
class Standing:
    """One stage on the board: its crew, first and last day, boats; its days as bits of the crew's and of all days."""

    crew: int
    first: int
    last: int
    boats: tuple[str, ...]
    crew_bits: int
    calendar_bits: int


class Board:
    """A plan in the making. Everything on it keeps every gate, but for pins of the owner."""

    def __init__(self, calendar: Calendar, roads: Roads) -> None:
        self.calendar, self.roads = calendar, roads
        self.at: list[Standing | None] = [None] * len(calendar.works)
        self.busy = [0] * len(calendar.crews)
        self.boat_busy = dict(calendar.boat_out)
        self.orders: list[list[tuple[int, int]]] = [[] for _ in calendar.crews]  # (first day, stage) by day
        self._ends: list[int | None] = [None] * len(calendar.jobs)  # None: to be looked up again
        self._late = [0.0] * len(calendar.jobs)
        self._stale = set(range(len(calendar.jobs)))  # jobs whose lateness is to be worked out again
        self.last_days = 0  # of all stages that stand, added up
        self.count = 0  # of them
        self._driven: list[float | None] = [None] * len(calendar.crews)

    def put(self, number: int, standing: Standing) -> None:
        self.at[number] = standing
        self.busy[standing.crew] |= standing.crew_bits
        for boat in standing.boats:
            self.boat_busy[boat] |= standing.calendar_bits
        insort(self.orders[standing.crew], (standing.first, number))
        self.last_days += standing.last
        self.count += 1
        self._forget(number, standing.crew)

    def take(self, number: int) -> Standing | None:
        """Off the board again."""
        standing = self.at[number]
        if standing is None:
            return None
        self.at[number] = None
        self.busy[standing.crew] &= ~standing.crew_bits
        for boat in standing.boats:
            self.boat_busy[boat] &= ~standing.calendar_bits | self.calendar.boat_out[boat]
        order = self.orders[standing.crew]
        del order[bisect_left(order, (standing.first, number))]
        self.last_days -= standing.last
        self.count -= 1
        self._forget(number, standing.crew)
        return standing

    def _forget(self, number: int, crew: int) -> None:
        job = self.calendar.works[number].job
        self._ends[job] = None
        self._stale.add(job)
        self._driven[crew] = None

    def released(self, work: Work) -> int | None:
        """The first day after everything it waits for; None while that is not placed."""
        day = 0
        for number in work.after:
            before = self.at[number]
            if before is None:
                return None
            day = max(day, before.last + 1)
        return day

    def first_free(self, work: Work, crew: int, starts: int, not_before: int) -> Standing | None:
        """The earliest slot with a crew from a day on."""
        slot = self.first_slot(work, crew, starts, min(max(not_before, 0), self.calendar.days))
        return None if slot < 0 else self.standing(work, crew, slot)

    def first_slot(self, work: Work, crew: int, starts: int, not_before: int) -> int:
        """The same as the number of a worked day of the crew, -1 when there is none; asked for millions of times."""
        busy = blocked = self.busy[crew]
        for step in range(1, work.duration):
            blocked |= busy >> step
        low = self.calendar.crews[crew].place_of[not_before]
        free = (starts & ~blocked) >> low << low
        if not work.stage.boats:
            return (free & -free).bit_length() - 1
        before = self.calendar.crews[crew].bits_before
        while free:
            slot = (free & -free).bit_length() - 1
            if self._boats(work, before[slot + work.duration] ^ before[slot]) is not None:
                return slot
            free &= free - 1
        return -1

    def fits(self, work: Work, crew: int, first: int) -> Standing | None:
        """The slot that starts on exactly this day, when it is open and free."""
        days = self.calendar.crews[crew]
        if not 0 <= first < self.calendar.days:
            return None
        slot = days.place_of[first]
        starts = next((slots.starts for slots in work.slots if slots.crew == crew), 0)
        if slot >= len(days.worked) or days.worked[slot] != first or not starts >> slot & 1:
            return None
        if self.busy[crew] & ((1 << work.duration) - 1) << slot:
            return None
        return self.standing(work, crew, slot)

    def added_miles(self, crew: int, first: int, place: str) -> float:
        """What one stop more on this day makes the crew drive."""
        order, works = self.orders[crew], self.calendar.works
        spot = bisect_left(order, (first, -1))
        before = works[order[spot - 1][1]].place if spot else YARD
        after = works[order[spot][1]].place if spot < len(order) else YARD
        if before == place or after == place:
            return 0.0
        miles = self.roads.miles
        return miles(before, place) + miles(place, after) - miles(before, after)

    def miles(self) -> float:
        works = self.calendar.works
        for crew, miles in enumerate(self._driven):
            if miles is None:
                self._driven[crew] = self.roads.along([works[number].place for _, number in self.orders[crew]])
        return sum(miles for miles in self._driven if miles)

    def miles_out(self) -> float:
        """The same without the way home of each crew: it only grows while stops are added behind the others."""
        works, miles = self.calendar.works, 0.0
        for order in self.orders:
            stops = [YARD, *(works[number].place for _, number in order)]
            miles += sum(self.roads.miles(start, end) for start, end in pairwise(stops))
        return miles

    def late_days(self, job: int) -> int:
        """Calendar days from due to the last day; a job not placed to its end counts to the day after the plan."""
        due = self.calendar.due[job]
        return 0 if due is None else max(0, self.end(job) - due)

    def end(self, job: int) -> int:
        """The last day of a job; the day after the plan while any stage of it has none."""
        end = self._ends[job]
        if end is None:
            end = self._ends[job] = self._last_day(job)
        return end

    def _last_day(self, job: int) -> int:
        last = 0
        for number in self.calendar.jobs[job]:
            standing = self.at[number]
            if standing is None:
                return self.calendar.days
            last = max(last, standing.last)
        return last

    def cost(self) -> float:
        """Weighted late days and miles, as `Plan.cost`."""
        problem = self.calendar.problem
        while self._stale:
            job = self._stale.pop()
            self._late[job] = problem.jobs[job].weight * self.late_days(job)
        return sum(self._late) + self.miles() / problem.late_day_miles

    def standing(self, work: Work, crew: int, slot: int) -> Standing | None:
        """A stage from a worked day of a crew on; None when a boat it asks for is taken."""
        duration = work.duration
        worked = self.calendar.crews[crew].worked
        before = self.calendar.crews[crew].bits_before
        bits = before[slot + duration] ^ before[slot]
        boats = self._boats(work, bits)
        if boats is None:
            return None
        crew_bits = ((1 << duration) - 1) << slot
        return Standing(crew, worked[slot], worked[slot + duration - 1], boats, crew_bits, bits)

    def _boats(self, work: Work, bits: int) -> tuple[str, ...] | None:
        if not work.stage.boats:
            return ()
        found: list[str] = []
        for kind in work.stage.boats:
            free = (b.key for b in self.calendar.boats[kind] if b.key not in found and not self.boat_busy[b.key] & bits)
            boat = next(free, None)
            if boat is None:
                return None
            found.append(boat)
        return tuple(found)
