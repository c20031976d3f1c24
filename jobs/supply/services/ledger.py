"""The ledger of the yard: nothing comes, goes or changes place but through here."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import F, Sum
from django.utils import timezone

from contractor.company.current import firm, units
from contractor.company.journal import log_change
from contractor.company.models import Company, Staff
from contractor.quantities import format_length
from estimating.catalogue.models import Item, Stick
from jobs.supply.models import Movement, MovementKind, Shelf, Stock
from jobs.supply.models.stock import plain as said

from .advising import goods_moved

ZERO = Decimal(0)
COMMON_SHELF = "Yard"


class NotOnHand(ValueError):
    """There is less on hand, or on that shelf, or free of jobs, than was asked for; `sentence` says how much."""

    def __init__(self, sentence: str):
        super().__init__(sentence)
        self.sentence = sentence


@dataclass(frozen=True, slots=True)
class Why:
    """What a movement belongs to, beside its quantity."""

    kind: str
    reason: str = ""
    unit_cost: Decimal | None = None
    job: Any = None
    need: Any = None
    receipt_line: Any = None


def stock_of(item: Item, length_in: float = 0.0) -> Stock:
    """The yard's row for a thing, made when it is first spoken of."""
    offcut = bool(length_in) and not Stick.objects.filter(item=item, length_in=length_in).exists()
    return Stock.objects.get_or_create(item=item, length_in=length_in, defaults={"offcut": offcut})[0]


def shelf_called(name: str) -> Shelf:
    return Shelf.objects.get_or_create(name=name.strip() or COMMON_SHELF)[0]


def usual_shelf(stock: Stock) -> Shelf:
    return shelf_called(stock.item.shelf)


def hold_stocks(ids: Iterable[int]) -> dict[int, Stock]:
    """Lock these rows, always in the same order, until the transaction ends. Raises outside of one."""
    wanted = set(ids)
    goods_moved(wanted)
    locked = Stock.objects.select_for_update(of=("self",)).select_related("item").filter(pk__in=wanted).order_by("pk")
    return {stock.pk: stock for stock in locked}


def move(stock: Stock, quantity: Decimal, why: Why, *, shelf: Shelf, by: Staff | None) -> Movement:
    """Enter one movement of a stock row that the caller has locked. Raises NotOnHand."""
    after = stock.on_hand + quantity
    if after < stock.set_aside:
        here = f"{said(stock.on_hand)} on hand, {said(stock.set_aside)} set aside"
        raise NotOnHand(f"{said(stock.free)} of {stock} can leave: {here}.")
    stock.on_hand = after
    stock.save(update_fields=["on_hand"])
    return Movement.objects.create(
        stock=stock,
        shelf=shelf,
        quantity=quantity,
        kind=why.kind,
        reason=why.reason,
        unit_cost=why.unit_cost,
        job=why.job,
        need=why.need,
        receipt_line=why.receipt_line,
        by=by,
        by_name=by.name if by else "Wharfwright",
    )


def take_off_shelves(stock: Stock, quantity: Decimal, why: Why, *, by: Staff | None) -> list[Movement]:
    """Take so many from the shelves they lie on, the fullest first. Raises NotOnHand."""
    made, left = [], quantity
    for shelf_id, lies in lying(stock):
        if left <= 0 or lies <= 0:
            break
        part = min(left, lies)
        made.append(move(stock, -part, why, shelf=Shelf.objects.get(pk=shelf_id), by=by))
        left -= part
    if left > 0:
        raise NotOnHand(f"{said(quantity - left)} of {stock} are on hand, not {said(quantity)}.")
    return made


def lying(stock: Stock) -> list[tuple[int, Decimal]]:
    """(shelf id, how many lie there), the fullest shelf first."""
    rows = Movement.objects.of(stock).by_shelf().order_by("-lies").values_list("shelf_id", "lies")
    return [(shelf, lies) for shelf, lies in rows]


@transaction.atomic
def count_shelf(stock: Stock, *, shelf: Shelf, counted: Decimal, reason: str, by: Staff) -> Movement | None:
    """Somebody counted one shelf: the difference is entered with its reason. Raises NotOnHand."""
    stock = hold_stocks([stock.pk])[stock.pk]
    lies = Movement.objects.of(stock).filter(shelf=shelf).aggregate(lies=Sum("quantity"))["lies"] or ZERO
    stock.counted_on = timezone.localdate()
    stock.save(update_fields=["counted_on"])
    if counted == lies:
        log_change(stock, did="counted", by=by, after={"counted": counted, "shelf": shelf})
        return None
    why = Why(MovementKind.COUNTED, reason.strip(), unit_cost=average_cost(stock))
    made = move(stock, counted - lies, why, shelf=shelf, by=by)
    log_change(
        stock, did="counted", by=by, before={"lay": lies}, after={"counted": counted, "shelf": shelf, "reason": reason}
    )
    return made


@transaction.atomic
def adjust_stock(stock: Stock, *, shelf: Shelf, quantity: Decimal, reason: str, by: Staff) -> Movement:
    """So many more (above zero) or fewer (below), for a reason: found, broken, given away. Raises NotOnHand."""
    stock = hold_stocks([stock.pk])[stock.pk]
    _refuse_emptier(stock, shelf, quantity)
    made = move(stock, quantity, Why(MovementKind.ADJUSTED, reason.strip()), shelf=shelf, by=by)
    log_change(stock, did="adjusted", by=by, after={"quantity": quantity, "shelf": shelf, "reason": reason})
    return made


@transaction.atomic
def move_shelf(stock: Stock, *, from_shelf: Shelf, to_shelf: Shelf, quantity: Decimal, by: Staff) -> None:
    """Carry so many to another shelf; what is on hand stays the same. Raises NotOnHand."""
    stock = hold_stocks([stock.pk])[stock.pk]
    _refuse_emptier(stock, from_shelf, -quantity)
    for shelf, change in ((to_shelf, quantity), (from_shelf, -quantity)):
        move(stock, change, Why(MovementKind.MOVED), shelf=shelf, by=by)
    log_change(stock, did="carried", by=by, after={"from": from_shelf, "to": to_shelf, "quantity": quantity})


@transaction.atomic
def keep_offcut(stock: Stock, *, count: int, shelf: Shelf, by: Staff, job: Any = None) -> Movement:
    """Put what is left of sticks back by its length (see `stock_of`).

    Raises NotOnHand for pieces shorter than the firm keeps.
    """
    if stock.length_in < (firm() or Company()).keep_offcut_in:
        raise NotOnHand(f"An offcut under {least_offcut()} is not kept.")
    stock = hold_stocks([stock.pk])[stock.pk]
    log_change(stock, did="kept offcuts", by=by, after={"count": count, "shelf": shelf})
    return move(stock, Decimal(count), Why(MovementKind.OFFCUT, job=job), shelf=shelf, by=by)


@transaction.atomic
def put_on_shelf(item: Item, *, length_in: float, quantity: Decimal, where: tuple[str, str], by: Staff) -> Stock:
    """Something the yard did not know of: `where` is the shelf and the reason. Raises NotOnHand."""
    stock, shelf = stock_of(item, length_in), shelf_called(where[0])
    if stock.offcut:
        keep_offcut(stock, count=int(quantity), shelf=shelf, by=by)
    else:
        adjust_stock(stock, shelf=shelf, quantity=quantity, reason=where[1], by=by)
    return stock


@transaction.atomic
def cut_up(stock: Stock, *, count: int, by: Staff, job: Any = None) -> None:
    """Take sticks or offcuts from the yard to the saw. Raises NotOnHand."""
    stock = hold_stocks([stock.pk])[stock.pk]
    take_off_shelves(stock, Decimal(count), Why(MovementKind.CUT, job=job, unit_cost=average_cost(stock)), by=by)
    log_change(stock, did="cut up", by=by, after={"count": count})


def least_offcut() -> str:
    """The shortest offcut the firm keeps, as one says it."""
    return format_length((firm() or Company()).keep_offcut_in, units())


def offcuts_on_hand() -> list[tuple[str, float, int]]:
    """(item code, length in inches, how many nobody spoke for), longest first."""
    rows = (
        Stock.objects.offcuts()
        .filter(on_hand__gt=F("set_aside"))
        .values_list("item__code", "length_in", F("on_hand") - F("set_aside"))
    )
    return sorted(((code, length, int(free)) for code, length, free in rows), key=lambda row: (row[0], -row[1]))


def average_cost(stock: Stock) -> Decimal | None:
    """What one of it cost on average over all receipts that stand; None if no receipt carried a price."""
    return average_costs([stock.pk]).get(stock.pk)


def average_costs(ids: Iterable[int] | None = None) -> dict[int, Decimal]:
    paid = Movement.objects.filter(kind__in=["received", "voided"], unit_cost__isnull=False)
    if ids is not None:
        paid = paid.filter(stock__in=list(ids))
    sums = paid.order_by().values("stock_id").annotate(came=Sum("quantity"), cost=Sum(F("quantity") * F("unit_cost")))
    return {row["stock_id"]: _cost(row["cost"] / row["came"]) for row in sums if row["came"] > 0}


def last_costs() -> dict[int, Decimal]:
    """What one of it cost the last time it came, by stock id; voided counts do not speak."""
    rows = Movement.objects.filter(
        kind="received", unit_cost__isnull=False, receipt_line__receipt__voided_at=None
    ).order_by("pk")
    return dict(rows.values_list("stock_id", "unit_cost"))


def _cost(amount: Any) -> Decimal:
    return Decimal(str(amount)).quantize(Decimal("0.0001"))


def _refuse_emptier(stock: Stock, shelf: Shelf, change: Decimal) -> None:
    lies = dict(lying(stock)).get(shelf.pk, ZERO)
    if lies + change < 0:
        raise NotOnHand(f"{said(lies)} of {stock} lie on {shelf}, not {said(-change)}.")
