"""What each open job waits for, in three groups by who must act, and the dates that close."""

from dataclasses import dataclass
from datetime import date, timedelta

from jobs.records.models import Job
from jobs.records.services import Standing, standing_of, with_papers

CLOSING_WITHIN = timedelta(days=30)
TITLES = {
    "today": "Someone acts today",
    "waiting": "Waiting, with a date to check",
    "clear": "Nothing in the way",
}
NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


@dataclass(frozen=True, slots=True)
class Row:
    standing: Standing
    days: int


@dataclass(frozen=True, slots=True)
class Group:
    title: str
    rows: tuple[Row, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Closing:
    """A date after which something no longer holds."""

    on: date
    days: int
    job: Job
    what: str


@dataclass(frozen=True, slots=True)
class Board:
    summary: str  # one sentence of totals; empty when no job was ever opened
    groups: tuple[Group, ...]
    closing: tuple[Closing, ...]
    is_new: bool


def board_on(day: date) -> Board:
    """The board as of a day; longest wait first."""
    jobs = with_papers(Job.objects.open().in_full().newest_first())
    rows = sorted((_row(job, day) for job in jobs), key=lambda row: (-row.days, row.standing.job.number))
    by_group = {name: tuple(row for row in rows if row.standing.group == name) for name in TITLES}
    return Board(
        summary=_summary(len(jobs), {name: len(rows) for name, rows in by_group.items()}),
        groups=tuple(_group(name, rows) for name, rows in by_group.items() if rows),
        closing=tuple(sorted(_closing(jobs, day), key=lambda closing: (closing.on, closing.job.number))),
        is_new=not jobs and not Job.objects.exists(),
    )


def in_words(count: int) -> str:
    """A count as one says it: small ones as words.

    >>> in_words(3), in_words(13)
    ('three', '13')
    """
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _row(job: Job, day: date) -> Row:
    standing = standing_of(job, on=day)
    return Row(standing, standing.days(on=day))


def _group(name: str, rows: tuple[Row, ...]) -> Group:
    counted = f"{len(rows)} job{'' if len(rows) == 1 else 's'}"
    return Group(TITLES[name], rows, f"{counted}, longest wait first" if len(rows) > 1 else counted)


def _summary(count: int, sizes: dict[str, int]) -> str:
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


def _closing(jobs: list[Job], day: date) -> list[Closing]:
    last = day + CLOSING_WITHIN
    found = []
    for job in jobs:
        ends = [
            *(
                (quote.valid_until, f"price of quote {quote.letter} ends")
                for quote in job.quotes.all()
                if _is_out(quote)
            ),
            *(
                (permit.expires_on, f"permit of {permit.authority} ends")
                for permit in job.permits.all()
                if permit.needed
            ),
        ]
        found += [Closing(on, (on - day).days, job, what) for on, what in ends if on and day <= on <= last]
    return found


def _is_out(quote) -> bool:
    return quote.state == "sent"
