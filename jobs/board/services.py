"""What each open job waits for, in three groups by who must act, and the dates that close."""

from collections import Counter
from datetime import date, timedelta

from jobs.board.facts import Board, Closing, Due, Group, Row, Shown
from jobs.board.standings import Standings, Today
from jobs.records.models import Job

ROWS_A_PAGE = 50
FILTERS = ("floats", "hardware", "lumber", "customer", "permit", "water")
CLOSING_WITHIN = timedelta(days=30)
TITLES = {
    "today": "Someone acts today",
    "waiting": "Waiting, with a date to check",
    "clear": "Nothing in the way",
}
PLACES = {name: place for place, name in enumerate(TITLES)}
NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


def board_on(
    day: date, *, show: str = "", page: int = 1, per_page: int | None = ROWS_A_PAGE, known: Standings | None = None
) -> Board:
    """The board as of a day; who must act first, then the longest wait. The same few questions however many jobs.

    `known` spares what was worked out before and did not change since.
    """
    today = (known or Standings()).on(day)
    wanted = [one for one in today.jobs.values() if not show or show in one.standing.by_kind]
    rows = sorted((Row(one, show, day) for one in wanted), key=_place)
    pages = max(-(-len(rows) // per_page), 1) if per_page else 1
    page = min(max(page, 1), pages)
    part = rows[(page - 1) * per_page : page * per_page] if per_page else rows
    groups = Counter(one.standing.group for one in today.jobs.values())
    return Board(
        summary=_summary(len(today.jobs), groups),
        groups=_groups(part, rows),
        closing=tuple(sorted(_closing(today, day), key=lambda closing: (closing.on, closing.job.number))),
        visits=tuple(Due(visit, (visit.due_on - day).days) for visit in today.visits.first),
        notes=tuple(today.notes.values()),
        filters=_filters(today),
        shown=show,
        page=page,
        pages=pages,
        is_new=not today.jobs and not Job.objects.exists(),
    )


def _place(row: Row) -> tuple[int, int, str]:
    return PLACES[row.standing.group], -row.days, row.standing.job.number


def _groups(part: list[Row], rows: list[Row]) -> tuple[Group, ...]:
    """The rows of this page under their titles; each title counts the rows of every page."""
    sizes = {name: sum(row.standing.group == name for row in rows) for name in TITLES}
    of_page = {name: tuple(row for row in part if row.standing.group == name) for name in TITLES}
    return tuple(_group(name, found, sizes[name]) for name, found in of_page.items() if found)


def _filters(today: Today) -> tuple[Shown, ...]:
    counts = Counter(kind for one in today.jobs.values() for kind in one.standing.by_kind)
    kinds = tuple(Shown(name, name.capitalize(), counts[name]) for name in FILTERS)
    return (Shown("", "All", len(today.jobs)), *kinds)


def in_words(count: int) -> str:
    """A count as one says it: small ones as words.

    >>> in_words(3), in_words(13)
    ('three', '13')
    """
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _group(name: str, rows: tuple[Row, ...], size: int) -> Group:
    counted = f"{size} job{'' if size == 1 else 's'}"
    return Group(TITLES[name], rows, f"{counted}, longest wait first" if size > 1 else counted)


def _summary(count: int, sizes: Counter[str]) -> str:
    if not count:
        return "No job is open."
    parts = [
        _part(sizes["today"], "needs someone today", "need someone today"),
        _part(sizes["waiting"], "has a date to check", "have a date to check"),
        _part(sizes["clear"], "has nothing in its way", "have nothing in their way"),
    ]
    is_open = "job is open" if count == 1 else "jobs are open"
    return f"{in_words(count).capitalize()} {is_open}: {', '.join(part for part in parts if part)}."


def _part(count: int, one: str, many: str) -> str:
    return f"{in_words(count)} {one if count == 1 else many}" if count else ""


def _closing(today: Today, day: date) -> list[Closing]:
    last = day + CLOSING_WITHIN
    return [
        Closing(ending.on, (ending.on - day).days, one.job, ending.what)
        for one in today.folder.papers.values()
        for ending in one.endings
        if day <= ending.on <= last
    ]
