"""What each open job waits for, in three groups by who must act, and the dates that close."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.board.facts import Board, Closing, Group, Row, Shown
from jobs.records.models import Job
from jobs.records.services import Standing, standing_of, with_papers
from jobs.schedule.models import JobStage
from jobs.supply.models import Hold, Stock
from jobs.supply.services.advice import roll_up
from jobs.supply.services.coming import Cover, Missing, Owed, cover, free_stock, missing_needs, owed_on_orders
from jobs.supply.services.waiting import Goods, by_job, governing

ROWS_A_PAGE = 50
FILTERS = ("floats", "hardware", "lumber", "customer", "permit", "water")
CLOSING_WITHIN = timedelta(days=30)
TITLES = {
    "today": "Someone acts today",
    "waiting": "Waiting, with a date to check",
    "clear": "Nothing in the way",
}
NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


def board_on(day: date, *, show: str = "", page: int = 1, per_page: int | None = ROWS_A_PAGE) -> Board:
    """The board as of a day; who must act first, then the longest wait. The same few questions however many jobs."""
    jobs = list(Job.objects.open().on_the_board().newest_first())
    facts = _facts(jobs)
    standings = [_standing(job, facts, day) for job in jobs]
    wanted = [one for one in standings if not show or one.about == show]
    rows = sorted((_row(one, day) for one in wanted), key=_place)
    pages = max(-(-len(rows) // per_page), 1) if per_page else 1
    page = min(max(page, 1), pages)
    part = rows[(page - 1) * per_page : page * per_page] if per_page else rows
    return Board(
        summary=_summary(len(jobs), {name: sum(one.group == name for one in standings) for name in TITLES}),
        groups=_groups(part, rows),
        closing=tuple(sorted(_closing(jobs, day), key=lambda closing: (closing.on, closing.job.number))),
        rolled=tuple(roll_up(needs=facts.missing, free=facts.free, owed=facts.owed, on=day)),
        filters=_filters(standings),
        shown=show,
        page=page,
        pages=pages,
        is_new=not jobs and not Job.objects.exists(),
    )


@dataclass(frozen=True, slots=True)
class _Facts:
    """What every job's standing is read from besides its papers."""

    missing: list[Missing]
    free: dict[int, Decimal]
    owed: list[Owed]
    covers: dict[int, list[Cover]]
    stocks: dict[int, Stock]
    holds: dict[int, list[Hold]]
    done: dict[int, set[str]]


def _facts(jobs: list[Job]) -> _Facts:
    with_papers(jobs)
    missing, free, owed = missing_needs(), free_stock(), owed_on_orders()
    found = cover(missing, free, owed)
    holds: dict[int, list[Hold]] = defaultdict(list)
    for hold in Hold.objects.filter(cleared_on=None, job__ending=""):
        holds[hold.job_id].append(hold)
    done: dict[int, set[str]] = defaultdict(set)
    for job_id, stage in JobStage.objects.filter(job__ending="", done_on__isnull=False).values_list("job_id", "stage"):
        done[job_id].add(stage)
    stocks = Stock.objects.in_full().in_bulk({one.stock_id for one in missing})
    return _Facts(missing, free, owed, by_job(found), stocks, holds, done)


def _standing(job: Job, facts: _Facts, day: date) -> Standing:
    goods = Goods(facts.covers.get(job.pk, ()), facts.stocks)
    holds, done = facts.holds.get(job.pk, ()), frozenset(facts.done.get(job.pk, ()))
    return governing(standing_of(job, on=day), holds=holds, goods=goods, on=day, done=done)


def _place(row: Row) -> tuple[int, int, str]:
    return list(TITLES).index(row.standing.group), -row.days, row.standing.job.number


def _groups(part: list[Row], rows: list[Row]) -> tuple[Group, ...]:
    """The rows of this page under their titles; each title counts the rows of every page."""
    sizes = {name: sum(row.standing.group == name for row in rows) for name in TITLES}
    of_page = {name: tuple(row for row in part if row.standing.group == name) for name in TITLES}
    return tuple(_group(name, found, sizes[name]) for name, found in of_page.items() if found)


def _filters(standings: list[Standing]) -> tuple[Shown, ...]:
    counts = Counter(one.about for one in standings)
    kinds = tuple(Shown(name, name.capitalize(), counts[name]) for name in FILTERS)
    return (Shown("", "All", len(standings)), *kinds)


def in_words(count: int) -> str:
    """A count as one says it: small ones as words.

    >>> in_words(3), in_words(13)
    ('three', '13')
    """
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _row(standing: Standing, day: date) -> Row:
    return Row(standing, standing.days(on=day))


def _group(name: str, rows: tuple[Row, ...], size: int) -> Group:
    counted = f"{size} job{'' if size == 1 else 's'}"
    return Group(TITLES[name], rows, f"{counted}, longest wait first" if size > 1 else counted)


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
