"""The advice is solved when goods move, by whoever moved them, so that nobody who opens the home page waits for it."""

import threading
from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone

from jobs.supply.models import KeptAdvice, Stock

from .advice import Awaited, kept_words, mark_of, most_awaited, named, words_for
from .coming import ZERO, free_stock, missing_needs, owed_on_orders


class _Moved(threading.local):
    stocks: frozenset[int] = frozenset()


_MOVED = _Moved()


def goods_moved(stock_ids: Iterable[int]) -> None:
    """What needs or serves these stocks changes in this transaction: advise anew once it is kept."""
    _MOVED.stocks |= frozenset(stock_ids)
    transaction.on_commit(_advise, robust=True)


def _advise() -> None:
    moved, _MOVED.stocks = _MOVED.stocks, frozenset()
    if moved:
        advise_on(moved)


def advise_on(stock_ids: Iterable[int]) -> int:
    """Solve anew what these stocks can finish first, as far as the home page speaks of them; returns how many."""
    today, wanted = timezone.localdate(), set(stock_ids)
    shared = {pk: rows for pk, rows in most_awaited(missing_needs()).items() if pk in wanted}
    if not shared:
        return 0
    jobs = named(row.job_id for rows in shared.values() for row in rows)
    stocks, free, owed = Stock.objects.in_bulk(shared), free_stock(shared), owed_on_orders(shared)
    kept, solved = kept_words(shared), 0
    for pk, rows in shared.items():
        one = Awaited(stocks[pk], rows, free.get(pk, ZERO), [line for line in owed if line.stock_id == pk])
        mark = mark_of(one, jobs, today)
        if kept.get(pk, ("", ""))[0] != mark:
            facts = {"mark": mark, "words": words_for(one, jobs, today)}
            KeptAdvice.objects.update_or_create(stock_id=pk, defaults=facts)
            solved += 1
    return solved
