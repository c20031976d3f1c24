"""The one thing that holds a signed job: papers, a hold somebody set, or goods; whichever blocks the earliest stage."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from jobs.records.models.saying import day_said
from jobs.records.services import Standing
from jobs.supply.models import STAGES, Hold, HoldKind, Stock

from .coming import Cover
from .holds import KIND_OF_ITEM
from .needs import working_days_before
from .ordering import USUAL_LEAD

# The spine has no stage of its own for the launch; it stands before decking or anchoring.
SPINE = {"launch": "decking", "handover": "hand-over"}
IN_THE_WATER = STAGES.index("launch")
KIND_OF_HOLD = {
    HoldKind.CUSTOMER: "customer",
    HoldKind.SIGNATURE: "customer",
    HoldKind.CANCELLATION: "customer",
    HoldKind.DEPOSIT: "customer",
    HoldKind.DESIGN: "customer",
    HoldKind.PAYMENT: "customer",
    HoldKind.PERMIT: "permit",
    HoldKind.INSPECTION: "permit",
    HoldKind.WINDOW: "permit",
    HoldKind.FLOATS: "floats",
    HoldKind.HARDWARE: "hardware",
    HoldKind.LUMBER: "lumber",
    HoldKind.ICE: "water",
    HoldKind.WATER: "water",
    HoldKind.WEATHER: "water",
}
NO_STAGE = -1


@dataclass(frozen=True, slots=True)
class Goods:
    """What one job's missing goods need to be spoken of: the covers, and the stocks by id."""

    covers: Sequence[Cover]
    stocks: Mapping[int, Stock]


@dataclass(frozen=True, slots=True)
class Built:
    """What later rooms know of a job: the stages done, and what else holds a stage, by stage."""

    done: frozenset[str] = frozenset()
    waits: tuple[tuple[str, Standing], ...] = ()


def governing(standing: Standing, *, holds: Sequence[Hold], goods: Goods, on: date, built: Built = Built()) -> Standing:
    """What governs: the hold of the earliest stage not done; of several the one somebody must act on, then the oldest.

    Papers before the signature block everything; a permit blocks the work in the water.
    """
    done = built.done
    waits = [(STAGES.index(stage), wait) for stage, wait in built.waits]
    is_signed = bool(standing.before.startswith("Signed"))
    if standing.group != "clear":
        waits.append((IN_THE_WATER if is_signed else NO_STAGE, standing))
    waits += [(_first_stage(hold, done), _held(standing, hold, on)) for hold in holds]
    left = [one for one in goods.covers if one.need.stage not in done]
    spine = frozenset(SPINE.get(stage, stage) for stage in done if stage != "launch")
    by_kind = _by_kind([*waits, *_goods_by_kind(standing, left, goods.stocks, on)], spine)
    if left:
        waits.append(_goods(standing, left, goods.stocks, on))
    if not waits:
        return replace(standing, done=spine)
    return replace(_first(waits, spine), by_kind=by_kind)


_Wait = tuple[int, Standing]
"""What holds a job, with the place of the stage it holds."""


def _first(waits: Iterable[_Wait], spine: frozenset[str]) -> Standing:
    stage, governs = min(waits, key=lambda one: (one[0], one[1].group != "today", one[1].since))
    held = SPINE.get(STAGES[stage], STAGES[stage]) if stage >= 0 else ""
    return replace(governs, done=spine, held=held)


def _by_kind(waits: Iterable[_Wait], spine: frozenset[str]) -> dict[str, Standing]:
    """What governs among the things of each kind: a job that waits for lumber may wait for floats as well."""
    of_kind: dict[str, list[_Wait]] = defaultdict(list)
    for one in waits:
        of_kind[one[1].about].append(one)
    return {kind: _first(found, spine) for kind, found in of_kind.items() if kind}


def _goods_by_kind(standing: Standing, left: Sequence[Cover], stocks: Mapping[int, Stock], on: date) -> Iterable[_Wait]:
    of_kind: dict[str, list[Cover]] = defaultdict(list)
    for one in left:
        of_kind[_kind(stocks[one.need.stock_id])].append(one)
    return [_goods(standing, rows, stocks, on) for rows in of_kind.values()]


def _first_stage(hold: Hold, done: frozenset[str]) -> int:
    return min((STAGES.index(s) for s in hold.stages if s in STAGES and s not in done), default=NO_STAGE)


def _held(standing: Standing, hold: Hold, on: date) -> Standing:
    promised = f", promised {_short(hold.promised_on)}" if hold.promised_on else ""
    late = hold.promised_on is not None and hold.promised_on < on
    waits = hold.check_on is not None and hold.check_on > on and not late
    return replace(
        standing,
        group="waiting" if waits else "today",
        since=hold.since,
        before=_before(standing),
        awaited=hold.words,
        after=f"{promised}.",
        who=f"{hold.who_acts} acts" if hold.who_acts.lower() != "nobody" else "Nobody",
        when=f"looks again {_short(hold.check_on)}" if hold.check_on else "",
        act="goods",
        act_on=None,
        about=KIND_OF_HOLD.get(HoldKind(hold.kind), ""),
    )


def _goods(standing: Standing, left: Sequence[Cover], stocks: Mapping[int, Stock], on: date) -> _Wait:
    """The worst line of the earliest stage that lacks goods."""
    first = min(STAGES.index(one.need.stage) for one in left)
    rows = [one for one in left if STAGES.index(one.need.stage) == first]
    worst = max(
        rows, key=lambda one: (one.unordered > 0, not one.is_here, one.expected_on or date.min, one.need.missing)
    )
    return first, _awaits(standing, worst, rows, stocks, on)


def _kind(stock: Stock) -> str:
    return KIND_OF_ITEM.get(stock.item.kind, "hardware")


def _awaits(standing: Standing, worst: Cover, rows: list[Cover], stocks: Mapping[int, Stock], on: date) -> Standing:
    same = [one for one in rows if one.need.stock_id == worst.need.stock_id]
    stock, owner = stocks[worst.need.stock_id], standing.job.owner.first_name
    others = len({one.need.stock_id for one in rows}) - 1
    goods = stock.so_many(sum(one.need.missing for one in same))
    more = f" and {others} other thing{'' if others == 1 else 's'}" if others else ""
    how = {"act_on": worst.order_id, "about": _kind(stock), **_how(worst, stock, owner, on)}
    return replace(standing, before=_before(standing), awaited=f"{goods}{more}", **how)


def _how(worst: Cover, stock: Stock, owner: str, on: date) -> dict[str, object]:
    need = worst.need
    if worst.unordered:
        lead = stock.item.lead_days if stock.item.lead_days is not None else USUAL_LEAD
        by = working_days_before(need.needed_by, lead)
        when = "today" if by <= on else f"by {_short(by)}"
        group = "today" if by <= on else "waiting"
        after = f", not ordered, needed {_short(need.needed_by)}."
        return {
            "group": group,
            "since": need.signed_on,
            "after": after,
            "who": f"{owner} orders",
            "when": when,
            "act": "order",
        }
    if worst.promised:
        return _promised(worst, owner, on)
    after = f", here in the yard, needed {_short(need.needed_by)}."
    who = {"who": f"{owner} sets them aside", "when": "today", "act": "goods"}
    return {"group": "today", "since": need.signed_on, "after": after, **who}


def _promised(worst: Cover, owner: str, on: date) -> dict[str, object]:
    since = max(worst.sent_on or worst.need.signed_on, worst.need.signed_on)
    day = worst.expected_on
    if day is None:
        who = {"who": f"{owner} asks the supplier for a day", "when": "", "act": "count"}
        return {"group": "today", "since": since, "after": ", on order, no day promised.", **who}
    after = f", promised {_short(day)}."
    if day < on:
        return {
            "group": "today",
            "since": since,
            "after": after,
            "who": f"{owner} phones",
            "when": "it is late",
            "act": "count",
        }
    if day == on:
        who = {"who": f"{owner} counts the delivery", "when": "today", "act": "count"}
        return {"group": "today", "since": since, "after": ", promised today.", **who}
    return {
        "group": "waiting",
        "since": since,
        "after": after,
        "who": "The supplier delivers",
        "when": _short(day),
        "act": "",
    }


def _before(standing: Standing) -> str:
    return standing.before if standing.before.startswith("Signed") else ""


def _short(day: date) -> str:
    return day_said(day, short=True, weekday=True)
