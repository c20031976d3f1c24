"""Orders in which jobs may be placed: by due date, by weight, by what the relaxed program has complete first."""

from collections.abc import Callable, Mapping
from functools import partial
from math import exp

from .calendar import Calendar

Group = tuple[int, ...]
"""The stages of jobs that wait for each other, in an order that keeps every "after"."""

Rank = Callable[[Group], tuple[float, int]]
LOOK_AHEAD = (10.0, 30.0, 60.0)  # days


def simple_ranks(calendar: Calendar) -> list[Rank]:
    return [partial(rank, calendar=calendar) for rank in (by_due, by_weight, *map(_by_both, LOOK_AHEAD))]


def by_due(group: Group, *, calendar: Calendar) -> tuple[float, int]:
    """The earliest due date first, less the days of work to be done by then."""
    days, due, _ = _facts(group, calendar)
    return (due - days, group[0])


def by_weight(group: Group, *, calendar: Calendar) -> tuple[float, int]:
    """Most weight for the least work first (the rule of Smith, best when everything is late)."""
    days, _, weight = _facts(group, calendar)
    return (-weight / max(days, 1), group[0])


def by_ends(group: Group, *, calendar: Calendar, ends: Mapping[int, float]) -> tuple[float, int]:
    """The job that ends first; one of which no end is known last."""
    jobs = {calendar.works[number].job for number in group}
    return (min(ends.get(job, float("inf")) for job in jobs), group[0])


def hanging_together(calendar: Calendar) -> list[Group]:
    """Jobs whose stages wait for each other, each lot as one group."""
    head = list(range(len(calendar.jobs)))

    def find(job: int) -> int:
        while head[job] != job:
            job = head[job]
        return job

    for work in calendar.works:
        for number in work.after:
            head[find(work.job)] = find(calendar.works[number].job)
    groups: dict[int, list[int]] = {}
    for number in calendar.in_order:
        groups.setdefault(find(calendar.works[number].job), []).append(number)
    return [tuple(groups[head]) for head in sorted(groups)]


def hopeless(calendar: Calendar) -> int:
    """How many stages stand on no day in any plan: no crew could ever do them, or one that they wait for."""
    lost: set[int] = set()
    for number in calendar.in_order:
        work = calendar.works[number]
        if work.stage.pinned is None and (not work.slots or lost & set(work.after)):
            lost.add(number)
    return len(lost)


def sought_after(calendar: Calendar) -> list[float]:
    """For each crew the share of all work that it could do, by days: one that can do all is not to be spent on what
    others can do as well.
    """
    every = sum(work.duration for work in calendar.works) or 1
    shares = [0.0] * len(calendar.crews)
    for work in calendar.works:
        for slots in work.slots:
            shares[slots.crew] += work.duration / every
    return shares


def _by_both(look_ahead: float) -> Callable[..., tuple[float, int]]:
    """Weight over work, the more the closer the due date (apparent tardiness cost)."""

    def by_both(group: Group, *, calendar: Calendar) -> tuple[float, int]:
        days, due, weight = _facts(group, calendar)
        return (-weight / max(days, 1) * exp(-max(0.0, min(due, 1e6) - days) / look_ahead), group[0])

    return by_both


def _facts(group: Group, calendar: Calendar) -> tuple[int, float, float]:
    """Days of work, the first due date (inf when there is none) and the weight of jobs that hang together."""
    works = [calendar.works[number] for number in group]
    jobs = {work.job for work in works}
    due = min((due for job in jobs if (due := calendar.due[job]) is not None), default=float("inf"))
    return sum(w.duration for w in works), due, sum(calendar.problem.jobs[job].weight for job in jobs)
