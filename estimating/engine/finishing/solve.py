"""From needs and goods to advice, in words."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from fractions import Fraction

from estimating.engine.reasons import Amount, Reason, Sentence, Step

from .advice import Advice, Finish, Share, Wait
from .asked import Goods, StillNeeded
from .choose import HERE, Question, Unit, choose


def finish_first(
    needs: Iterable[StillNeeded], supply: Iterable[Goods], *, today: date = date.min, seconds: float = 1.0
) -> Advice:
    """Which jobs and sections the goods in the yard and on the way should finish first.

    A needed-by date is met when everything its job or section lacks is here by then; a date before `today` is met by
    what is in the yard. Most dates met, then fewest jobs left waiting (COMMON_PRACTICE); then most sections
    finished, then the earlier dates. Solved exactly; `proven` says whether time sufficed.

    >>> from datetime import date
    >>> may = date(2026, 5, 8)
    >>> needs = [StillNeeded("1041", "float", Decimal(8), may), StillNeeded("1042", "float", Decimal(6), may)]
    >>> needs.append(StillNeeded("1043", "float", Decimal(4), may))
    >>> advice = finish_first(needs, [Goods("float", Decimal(10))])
    >>> [one.job for one in advice.finish], str(advice.words)
    (['1042', '1043'], '2 of 3 dates can be met; 1 job is left waiting. First come, first served would meet 1.')
    """
    question = Question(tuple(needs), tuple(supply), today)
    choice = choose(question, seconds=seconds)
    stock = {item: dict(days) for item, days in question.coming.items()}
    order = [unit for unit in question.wants if unit in choice.in_time]
    # Goods that come by a day serve all later dates too: item by item, whoever is due first takes the first.
    shares = _shared_out(question, order, stock)
    late = [unit for unit in question.wants if unit in choice.late]
    shares |= _shared_out(question, late, stock)
    finish = [_finish(question, unit, shares[unit], unit in choice.in_time) for unit in (*order, *late)]
    wait = [_wait(question, unit, stock) for unit in question.wants if unit not in shares]
    return Advice(
        finish=tuple(sorted(finish, key=lambda one: (one.ready_on or HERE, one.needed_by, one.job, one.section))),
        wait=tuple(wait),
        dates=len(question.wants),
        met=len(choice.in_time),
        left_waiting=len({one.job for one in wait}),
        first_come_met=_first_come(question),
        proven=choice.proven,
        reason=_reason(question, len(choice.in_time), len({one.job for one in wait})),
    )


def _shared_out(
    question: Question, units: list[Unit], stock: dict[str, dict[date, Fraction]]
) -> dict[Unit, tuple[Share, ...]]:
    asked = [(unit, item, amount) for unit in units for item, amount in question.wants[unit].items()]
    given: dict[Unit, list[Share]] = {unit: [] for unit in units}
    for unit, item, amount in sorted(asked, key=lambda one: question.due[one[0], one[1]]):
        given[unit] += _taken(item, amount, stock[item])
    return {unit: tuple(sorted(shares, key=lambda s: (s.on or HERE, s.item))) for unit, shares in given.items()}


def _taken(item: str, amount: Fraction, days: dict[date, Fraction]) -> list[Share]:
    shares = []
    for day in list(days):
        part = min(amount, days[day])
        if part:
            shares.append(Share(item, _decimal(part), None if day == HERE else day))
            days[day] -= part
            amount -= part
    return shares


def _decimal(amount: Fraction) -> Decimal:
    return Decimal(amount.numerator) / Decimal(amount.denominator)


def _finish(question: Question, unit: Unit, shares: tuple[Share, ...], in_time: bool) -> Finish:
    ready = max((share.on or HERE for share in shares), default=HERE)
    by = question.asked_by[unit]
    if ready == HERE:
        text = "Everything is in the yard: finish it first." if in_time else "Everything is in the yard, past its date."
        words = Sentence(text)
    else:
        text = "Complete {0}, in time for {1}." if in_time else "Complete {0}, too late for {1}."
        words = Sentence(text, (said(ready), said(by)))
    return Finish(*unit, by, None if ready == HERE else ready, in_time, shares, words)


def _wait(question: Question, unit: Unit, stock: dict[str, dict[date, Fraction]]) -> Wait:
    lacks = []
    for item, amount in sorted(question.wants[unit].items()):
        left = amount - sum(stock.get(item, {}).values())
        if left > 0:
            lacks.append((item, _decimal(left)))
    listed = ", ".join(f"{amount.normalize():f} of {item}" for item, amount in lacks)
    text = "Still owed after the others: {0}." if lacks else "The goods left over would do."
    return Wait(*unit, question.asked_by[unit], tuple(lacks), Sentence(text, (listed,) if lacks else ()))


def said(day: date) -> str:
    """A day as it stands in a sentence: 8 May."""
    return f"{day.day} {day:%b}"


def _first_come(question: Question) -> int:
    """Dates met when goods go out in the order of the dates, to whoever is next, finished or not."""
    stock = {item: dict(days) for item, days in question.coming.items()}
    met = 0
    for unit, wants in question.wants.items():
        in_time = True
        for item, amount in wants.items():
            shares = _taken(item, amount, stock.get(item, {}))
            served = sum((Fraction(share.quantity) for share in shares), Fraction(0)) >= amount
            in_time &= served and all((share.on or HERE) <= question.due[unit, item] for share in shares)
        met += in_time
    return met


def _reason(question: Question, met: int, waiting: int) -> Reason:
    rule = Sentence("Most needed-by dates met, then fewest jobs left waiting: no other sharing does better.")
    steps = (
        Step(Sentence("jobs and sections that lack goods"), Amount(len(question.wants), "count")),
        Step(Sentence("dates met"), Amount(met, "count")),
        Step(Sentence("jobs left waiting"), Amount(waiting, "count"), total=True),
    )
    return Reason(rule, "COMMON_PRACTICE", steps)
