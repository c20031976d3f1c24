"""What standings are read from besides papers: goods laid against needs, holds, and how far the building has come."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from jobs.board.asked import DEPOSITS, HOLDS, NEEDS, OWED, RULES, STAGES, STOCKS, WAIVERS, Row, by_first
from jobs.board.papers import Mark, Papers
from jobs.board.progress import Progress, TimeToCancel, built_of, may_cancel, placed, progress_of, time_to_cancel
from jobs.records.services import Standing
from jobs.supply.models import Hold, Need, Order, Stock
from jobs.supply.services.coming import Cover, Missing, Owed, cover, covers, soonest_first
from jobs.supply.services.waiting import Goods, governing

ZERO = Decimal(0)
NOTHING = Progress()
_day = Need._meta.get_field("needed_by").to_python
_moment = Order._meta.get_field("sent_at").to_python
_number = Need._meta.get_field("quantity").to_python
STOCK_FACTS = ("length_in", "offcut", "item__name", "item__kind", "item__use_unit", "item__lead_days")


@dataclass(frozen=True, slots=True)
class Served:
    """One thing that jobs lack: who lacks it, what could serve them, and how it does. `mark`: the rows that said so."""

    mark: Mark
    needs: list[Missing]
    free: Decimal
    owed: list[Owed]
    covers: list[Cover]


@dataclass(frozen=True, slots=True)
class Ground:
    """What holds now, by job and by thing. `called`: what each thing is, as the database gave it."""

    raw: tuple[list[Row], ...] = ()
    served: dict[int, Served] = field(default_factory=dict)
    stocks: dict[int, Stock] = field(default_factory=dict)
    called: dict[int, Row] = field(default_factory=dict)
    covers: dict[int, list[Cover]] = field(default_factory=dict)
    holds: dict[int, list[Hold]] = field(default_factory=dict)
    progress: dict[int, Progress] = field(default_factory=dict)
    cancelling: TimeToCancel = field(default_factory=TimeToCancel)

    def mark_of(self, job_id: int) -> Mark:
        """Everything of it that a job's sentence may say."""
        mine = self.covers.get(job_id, [])
        holds = [(hold.pk, str(hold), *_said(hold)) for hold in self.holds.get(job_id, ())]
        return (
            mine,
            [self.called.get(one.need.stock_id) for one in mine],
            holds,
            self.progress.get(job_id, NOTHING),
            self.cancelling,
        )

    def standing_of(self, papers: Papers, by_papers: Standing, day: date) -> Standing:
        progress = self.progress.get(papers.job.pk, NOTHING)
        first = governing(
            by_papers,
            holds=self.holds.get(papers.job.pk, ()),
            goods=Goods(self.covers.get(papers.job.pk, ()), self.stocks),
            on=day,
            built=built_of(by_papers, progress, deposit=papers.deposit, on=day),
        )
        first = may_cancel(first, progress, self.cancelling, on=day)
        awaited = {first.about: first, **first.by_kind}
        by_kind = {kind: placed(one, progress, on=day) for kind, one in awaited.items() if kind}
        return replace(placed(first, progress, on=day), by_kind=by_kind)


def _said(hold: Hold) -> Mark:
    return hold.since, hold.promised_on, hold.who_acts, hold.check_on, tuple(hold.stages)


def ground_now(before: Ground, day: date) -> Ground:
    """The ground as it stands; what the same rows said `before` is not worked out again."""
    raw = tuple(question.rows() for question in (NEEDS, STOCKS, OWED, HOLDS, STAGES, DEPOSITS, WAIVERS, RULES))
    if raw == before.raw:
        return before
    same = [new == old for new, old in zip(raw, before.raw, strict=True)] if before.raw else [False] * len(raw)
    goods = _goods(raw, before) if not all(same[:3]) else (before.served, before.stocks, before.called, before.covers)
    holds = before.holds if same[3] else _holds()
    progress = before.progress if all(same[4:7]) else progress_of()
    cancelling = before.cancelling if same[7] else time_to_cancel(day)
    return Ground(raw, *goods, holds, progress, cancelling)


def ground_of(job_id: int, day: date) -> Ground:
    """The ground of one job."""
    mine = covers([job_id])
    stocks = _stocks({one.need.stock_id for one in mine})
    facts = {"holds": _holds([job_id]), "progress": progress_of([job_id]), "cancelling": time_to_cancel(day)}
    return Ground(stocks=stocks, covers={job_id: mine}, **facts)


_GoodsNow = tuple[dict[int, Served], dict[int, Stock], dict[int, Row], dict[int, list[Cover]]]


def _goods(raw: tuple[list[Row], ...], before: Ground) -> _GoodsNow:
    """Goods laid against needs thing by thing; only things with other rows than before are read and laid anew."""
    by_stock: dict[int, list[Row]] = defaultdict(list)
    for row in raw[0]:
        by_stock[row[1]].append(row)
    here, owed = {row[0]: row for row in raw[1] if row[0] in by_stock}, by_first(raw[2])
    marks = {pk: (rows, here.get(pk), owed.get(pk)) for pk, rows in by_stock.items()}
    kept = {
        pk: before.served[pk] for pk, mark in marks.items() if pk in before.served and before.served[pk].mark == mark
    }
    changed = {pk: mark for pk, mark in marks.items() if pk not in kept}
    served = kept | {pk: _served(mark) for pk, mark in changed.items()}
    called = {pk: (*row[:1], *row[3:]) for pk, row in here.items()}
    alike = {pk for pk in marks if pk in before.stocks and before.called.get(pk) == called.get(pk)}
    stocks = {pk: before.stocks[pk] for pk in alike} | _stocks(set(marks) - alike)
    by_need = {one.need.need_id: one for thing in served.values() for one in thing.covers}
    by_job: dict[int, list[Cover]] = defaultdict(list)
    for job_id, stock_id, need_id, *_ in raw[0]:
        if need_id in by_need and stock_id in stocks:
            by_job[job_id].append(by_need[need_id])
    return served, stocks, called, by_job


def _served(mark: Mark) -> Served:
    needs, here, coming = mark
    free = _free(here) if here else ZERO
    missing = [_missing(row) for row in needs]
    owed = soonest_first(_owed(row) for row in coming or ())
    laid = cover(missing, {here[0]: free} if here else {}, owed)
    return Served(mark, missing, free, owed, laid)


def _missing(row: Row) -> Missing:
    job_id, stock_id, need_id, stage, section, *counts, needed_by, signed_on = row
    quantity, set_aside, issued = map(_number, counts)
    days = _day(needed_by), _day(signed_on)
    return Missing(need_id, job_id, stock_id, stage, section, *days, quantity - set_aside - issued)


def _owed(row: Row) -> Owed:
    stock_id, _, order_id, expected_on, quantity, accepted, cancelled, sent_at = row
    owed = _number(quantity) - _number(accepted) - _number(cancelled)
    return Owed(stock_id, order_id, _day(expected_on), owed, _moment(sent_at).date())


def _free(row: Row) -> Decimal:
    return max(_number(row[1]) - _number(row[2]), ZERO)


def _stocks(ids: set[int]) -> dict[int, Stock]:
    return Stock.objects.select_related("item").only(*STOCK_FACTS).in_bulk(ids) if ids else {}


def _holds(jobs: Iterable[int] | None = None) -> dict[int, list[Hold]]:
    of = {"job__ending": ""} if jobs is None else {"job__in": list(jobs)}
    holds: dict[int, list[Hold]] = defaultdict(list)
    for hold in Hold.objects.filter(cleared_on=None, **of):
        holds[hold.job_id].append(hold)
    return holds
