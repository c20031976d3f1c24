"""The first days on which stages could start and end and jobs be complete, were there nothing else to do."""

from collections.abc import Iterator

import numpy as np

from .calendar import Calendar, Slots, Work


def heads(calendar: Calendar) -> list[int]:
    """The first day on which each stage could start, were there nothing else to do."""
    ends = [0] * len(calendar.works)
    heads = [0] * len(calendar.works)
    for number in calendar.in_order:
        work = calendar.works[number]
        heads[number] = max((ends[before] + 1 for before in work.after), default=0)
        if work.stage.pinned is not None:
            heads[number] = min(max(0, calendar.number(work.stage.pinned)), calendar.days)
        ends[number] = first_end(calendar, work, heads[number])
        heads[number] = max(heads[number], _first_start(calendar, work, heads[number]))
    return heads


def proving(calendar: Calendar) -> list[np.ndarray]:
    """For each stage and day: the first day on which the job can be complete if the stage ends on that day.

    So a job that is complete before has had the stage end before; the day of a stage that has others of its own behind
    it has to be over before those. A pin may stand against the order, so nothing hangs on one.
    """
    days = calendar.days
    found: dict[tuple[tuple[Slots, ...], int], np.ndarray] = {}
    complete: list[np.ndarray] = [np.arange(days + 2)] * len(calendar.works)  # of the job, when the stage ends on a day
    for number in reversed(calendar.in_order):
        work = calendar.works[number]
        behind = [calendar.works[n] for n in work.before]
        for after in (one for one in behind if one.stage.pinned is None and one.job == work.job):
            ends = found.setdefault((after.slots, after.duration), np.empty(0))
            if not ends.size:
                ends = found[after.slots, after.duration] = _first_ends(calendar, after)
            from_next_day = ends[np.minimum(np.arange(days + 2) + 1, days)]
            complete[number] = np.maximum(complete[number], complete[after.number][np.minimum(from_next_day, days)])
    return complete


def _first_ends(calendar: Calendar, work: Work) -> np.ndarray:
    """For every day: the first on which the stage can end if it starts no earlier than that day."""
    ends = np.full(calendar.days + 1, calendar.days)
    for slots in work.slots:
        worked = calendar.crews[slots.crew].worked
        for slot in range(len(worked) - work.duration + 1):
            if slots.starts >> slot & 1:
                ends[worked[slot]] = min(ends[worked[slot]], worked[slot + work.duration - 1])
    return np.minimum.accumulate(ends[::-1])[::-1]


def earliest_ends(calendar: Calendar) -> list[int]:
    """For each job: the first day on which it could be complete if it had the crews to itself."""
    starts = heads(calendar)
    ends = [first_end(calendar, work, starts[work.number]) for work in calendar.works]
    return [max((ends[number] for number in works), default=0) for works in calendar.jobs]


def first_end(calendar: Calendar, work: Work, not_before: int) -> int:
    if work.stage.pinned is not None:
        return not_before
    return min((end for _, end in _first_slots(calendar, work, not_before)), default=calendar.days)


def _first_start(calendar: Calendar, work: Work, not_before: int) -> int:
    if work.stage.pinned is not None:
        return not_before
    return min((start for start, _ in _first_slots(calendar, work, not_before)), default=calendar.days)


def _first_slots(calendar: Calendar, work: Work, not_before: int) -> Iterator[tuple[int, int]]:
    for slots in work.slots:
        days = calendar.crews[slots.crew]
        low = days.place_of[min(not_before, calendar.days)]
        left = (slots.starts >> low) << low
        if left:
            first = (left & -left).bit_length() - 1
            yield days.worked[first], days.worked[first + work.duration - 1]
