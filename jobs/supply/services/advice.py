"""Which jobs and sections the goods in the yard and on the way can finish first: solved, not guessed."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache
from hashlib import sha256

from estimating.engine.finishing import Advice, Goods, StillNeeded, finish_first
from jobs.records.models import Job
from jobs.records.models.saying import day_said
from jobs.supply.models import KeptAdvice, Need, Stock
from jobs.supply.models.stock import plain as said

from .coming import Missing, Owed, free_stock, missing_needs, owed_on_orders

ZERO = Decimal(0)
MOST_SHOWN, MOST_NAMED = 5, 6


@dataclass(frozen=True, slots=True)
class Named:
    """A job as a note speaks of it."""

    number: str
    filed_under: str


@dataclass(frozen=True, slots=True)
class JobWait:
    job: Named
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class RollUp:
    """One thing several jobs wait for: who, how many, what is free, what is owed and promised, and the advice."""

    stock: Stock
    jobs: tuple[JobWait, ...]  # first needed first
    missing: Decimal
    free: Decimal
    promised: tuple[tuple[date | None, Decimal], ...]
    advice: str

    @property
    def first_jobs(self) -> tuple[JobWait, ...]:
        return self.jobs[:MOST_NAMED]

    @property
    def more_jobs(self) -> int:
        return max(len(self.jobs) - MOST_NAMED, 0)

    @property
    def said(self) -> str:
        """3 jobs wait for this float: 19 owed, 12 promised Fri 8 May."""
        count = len(self.jobs)
        jobs = f"{count} jobs wait" if count > 1 else "One job waits"
        parts = [f"{said(self.missing)} owed to them"]
        parts += [f"{said(self.free)} free in the yard"] if self.free else []
        parts += [_promised(day, quantity) for day, quantity in self.promised]
        parts += ["none on order"] if not self.promised and self.free < self.missing else []
        return f"{jobs} for {self.stock}: {', '.join(parts)}."


@dataclass(frozen=True, slots=True)
class Awaited:
    """One thing with the needs that lack it, first needed first, and what could serve them."""

    stock: Stock
    rows: Sequence[Missing]
    free: Decimal
    owed: Sequence[Owed]


@dataclass(frozen=True, slots=True)
class Proposal:
    """How many each need gets of what is free, and what that does for its job."""

    need: Need
    gives: Decimal
    then: str


def roll_up(*, needs: Sequence[Missing], free: dict[int, Decimal], owed: Sequence[Owed], on: date) -> list[RollUp]:
    """Things that two jobs or more wait for, the most awaited first. Jobs and stocks are read in two questions."""
    shared = most_awaited(needs)
    stocks = Stock.objects.in_full().in_bulk(shared)
    jobs = named(row.job_id for rows in shared.values() for row in rows)
    waits = [
        Awaited(stocks[pk], rows, free.get(pk, ZERO), [one for one in owed if one.stock_id == pk])
        for pk, rows in shared.items()
    ]
    return [rolled(one, jobs=jobs, on=on) for one in waits]


def most_awaited(needs: Iterable[Missing]) -> dict[int, list[Missing]]:
    """The needs of the few things that most jobs wait for, two at least, by stock."""
    by_stock: dict[int, list[Missing]] = defaultdict(list)
    for need in needs:
        by_stock[need.stock_id].append(need)
    jobs = {pk: len({row.job_id for row in rows}) for pk, rows in by_stock.items()}
    ranked = sorted((pk for pk, count in jobs.items() if count > 1), key=lambda pk: (-jobs[pk], pk))
    return {pk: by_stock[pk] for pk in ranked[:MOST_SHOWN]}


def named(ids: Iterable[int]) -> dict[int, Named]:
    rows = Job.objects.filter(pk__in=set(ids)).values_list("pk", "number", "client__filed_under")
    return {pk: Named(number, filed_under) for pk, number, filed_under in rows}


def proposals(stock_ids: Iterable[int], *, on: date) -> list[Proposal]:
    """Who should get what is free of these stocks: the solver's answer, the rest to who needs it first."""
    wanted = set(stock_ids)
    rows = [need for need in missing_needs() if need.stock_id in wanted]
    free = free_stock(wanted)
    advice = advice_on(rows, free, owed_on_orders(), on)
    gives = _given(advice, rows)
    left = {pk: quantity - sum(gives[r.need_id] for r in rows if r.stock_id == pk) for pk, quantity in free.items()}
    for row in rows:  # what the solver leaves over waits on the shelf of who needs it first
        part = min(left.get(row.stock_id, ZERO), row.missing - gives[row.need_id])
        gives[row.need_id] += part
        left[row.stock_id] = left.get(row.stock_id, ZERO) - part
    needs = Need.objects.in_full().in_bulk([row.need_id for row in rows])
    return [Proposal(needs[row.need_id], gives[row.need_id], _then(row, gives[row.need_id])) for row in rows]


def _given(advice: Advice, rows: list[Missing]) -> dict[int, Decimal]:
    """What the advice hands out of the yard today, by need."""
    here: dict[tuple[str, str, str], Decimal] = defaultdict(lambda: ZERO)
    for finish in advice.finish:
        for share in finish.shares:
            if share.on is None:
                here[finish.job, finish.section, share.item] += share.quantity
    gives: dict[int, Decimal] = {}
    for row in rows:
        key = str(row.job_id), row.section, str(row.stock_id)
        gives[row.need_id] = min(here[key], row.missing)
        here[key] -= gives[row.need_id]
    return gives


def advice_on(rows: Iterable[Missing], free: dict[int, Decimal], owed: Iterable[Owed], on: date) -> Advice:
    """The solver's answer for these needs: its jobs and items are ids as text, sections as on the needs."""
    rows = list(rows)
    ids = {row.stock_id for row in rows}
    needs = tuple(StillNeeded(str(r.job_id), str(r.stock_id), r.missing, r.needed_by, r.section) for r in rows)
    goods = [Goods(str(pk), quantity) for pk, quantity in free.items() if pk in ids]
    dated = [one for one in owed if one.stock_id in ids and one.expected_on]
    goods += [Goods(str(one.stock_id), one.owed, max(one.expected_on, on)) for one in dated]
    return _solved(needs, tuple(goods), on)


@lru_cache(maxsize=64)
def _solved(needs: tuple[StillNeeded, ...], goods: tuple[Goods, ...], on: date) -> Advice:
    """The same question has the same answer: the home page asks it many times a day."""
    return finish_first(needs, goods, today=on)


def rolled(
    one: Awaited, *, jobs: Mapping[int, Named], on: date, kept: Mapping[int, tuple[str, str]] | None = None
) -> RollUp:
    """Who waits for it, what is promised, and whom its goods can serve first; `kept` as `kept_words` gives it."""
    by_job: dict[int, Decimal] = defaultdict(lambda: ZERO)
    for row in one.rows:
        by_job[row.job_id] += row.missing
    promised: dict[date | None, Decimal] = defaultdict(lambda: ZERO)
    for line in one.owed:
        promised[line.expected_on] += line.owed
    mark, words = (kept or {}).get(one.stock.pk, ("", ""))
    if mark != mark_of(one, jobs, on):
        words = words_for(one, jobs, on)
    return RollUp(
        stock=one.stock,
        jobs=tuple(JobWait(jobs[pk], quantity) for pk, quantity in by_job.items()),
        missing=sum(by_job.values(), ZERO),
        free=one.free,
        promised=tuple(promised.items()),
        advice=words,
    )


def words_for(one: Awaited, jobs: Mapping[int, Named], on: date) -> str:
    """The advice on one thing as a sentence; empty while there is none of it anywhere."""
    if not one.free and not one.owed:
        return ""
    return _advised(advice_on(one.rows, {one.stock.pk: one.free}, one.owed, on), jobs)


def mark_of(one: Awaited, jobs: Mapping[int, Named], on: date) -> str:
    """A mark of everything the advice on one thing is worked out from; the day only while something is past due."""
    needs = [(row.job_id, jobs[row.job_id], row.section, row.missing, row.needed_by) for row in one.rows]
    coming = [(line.expected_on, line.owed) for line in one.owed]
    late = any(row.needed_by < on for row in one.rows) or any(day and day < on for day, _ in coming)
    return sha256(repr((one.stock.pk, needs, one.free, coming, on if late else "")).encode()).hexdigest()


def kept_words(stocks: Iterable[int]) -> dict[int, tuple[str, str]]:
    """The advice worked out when goods last moved: its mark and its words, by stock."""
    rows = KeptAdvice.objects.filter(stock__in=list(stocks)).values_list("stock_id", "mark", "words")
    return {pk: (mark, words) for pk, mark, words in rows}


def _advised(advice: Advice, jobs: Mapping[int, Named]) -> str:
    """Who to finish first, in a sentence; empty when the goods finish nobody."""
    if not advice.finish:
        return "What is here and promised is enough for no job yet."
    places = _together(advice)
    names = [f"{_place(where, jobs)}{_when(ready_on)}" for where, ready_on in places[:3]]
    more = f" and {len(places) - 3} more" if len(places) > 3 else ""
    gain = advice.met - advice.first_come_met
    first_come = f" First come, first served would meet {advice.first_come_met} dates, this meets {advice.met}."
    better = first_come if gain > 0 else ""
    left = f" {_jobs(advice.left_waiting)} still." if advice.left_waiting else ""
    return f"They are enough for {', '.join(names)}{more}.{left}{better}"


def _together(advice: Advice) -> list[tuple[tuple[str, tuple[str, ...]], date | None]]:
    """(job, its sections that are ready on one day; none named when that is all of the job), and the day."""
    days: dict[tuple[str, date | None], list[str]] = defaultdict(list)
    for finish in advice.finish:
        days[finish.job, finish.ready_on].append(finish.section)
    parts = Counter(one.job for one in (*advice.finish, *advice.wait))
    return [
        ((job, () if len(sections) == parts[job] else tuple(sorted(sections))), day)
        for (job, day), sections in days.items()
    ]


def _place(where: tuple[str, tuple[str, ...]], jobs: Mapping[int, Named]) -> str:
    job, sections = where
    name, letters = jobs[int(job)].filed_under, [section for section in sections if section]
    if not sections:
        return name
    return f"{name} section{'' if len(letters) == 1 else 's'} {' and '.join(letters)}" if letters else f"part of {name}"


def _when(day: date | None) -> str:
    return f" on {day_said(day, short=True)}" if day else " now"


def _jobs(count: int) -> str:
    return f"{count} jobs wait" if count > 1 else "1 job waits"


def _promised(day: date | None, quantity: Decimal) -> str:
    return f"{said(quantity)} {f'promised {day_said(day, short=True, weekday=True)}' if day else 'on order, no day'}"


def _then(row: Missing, gives: Decimal) -> str:
    left = row.missing - gives
    return f"still waits for {said(left)}" if left else "has them all"
