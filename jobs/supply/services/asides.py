"""Setting goods aside for jobs, and taking them to jobs. Nothing is ever set aside twice: the stock row is the lock."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.supply.models import MovementKind, Need, SetAside, Shelf, Stock

from .coming import covers
from .ledger import ZERO, NotOnHand, Why, average_cost, hold_stocks, move, said, take_off_shelves


@transaction.atomic
def set_aside(need: Need, *, quantity: Decimal, by: Staff | None, reason: str = "") -> Need:
    """Set so many free ones aside for a need. Raises NotOnHand when fewer are free or needed."""
    stock = hold_stocks([need.stock_id])[need.stock_id]
    held = _hold(need)
    if quantity > stock.free:
        raise NotOnHand(f"{said(stock.free)} of {stock} are free, not {said(quantity)}.")
    if quantity > held.missing:
        raise NotOnHand(f"{held.job.number} needs {said(held.missing)} more of {stock}, not {said(quantity)}.")
    _aside(stock, held, quantity, reason, by)
    return held


@transaction.atomic
def share_out(gives: Mapping[int, Decimal], *, by: Staff | None) -> list[Need]:
    """Set aside for several needs (by id) at once, all or none. Raises NotOnHand."""
    needs = Need.objects.standing().in_full().filter(pk__in=[pk for pk, quantity in gives.items() if quantity > 0])
    hold_stocks(need.stock_id for need in needs)
    return [set_aside(need, quantity=gives[need.pk], by=by) for need in needs]


@transaction.atomic
def reserve(stock_ids: Iterable[int], *, by: Staff | None, reason: str = "") -> Decimal:
    """Set everything free of these stocks aside, first for who needs it first. Returns how much was set aside."""
    together = ZERO
    for stock in hold_stocks(stock_ids).values():
        waiting = (
            Need.objects.missing()
            .of_open_jobs()
            .select_related("job")
            .filter(stock=stock)
            .first_needed_first()
            .select_for_update(of=("self",))
        )
        for need in waiting:
            part = min(stock.free, need.missing)
            if part > 0:
                _aside(stock, need, part, reason, by)
                together += part
    return together


@transaction.atomic
def reserve_for(job: Job, *, by: Staff | None) -> None:
    """Set aside for this job what lies free for it, after those who need the same goods sooner."""
    mine = [one for one in covers([job.pk]) if one.free]
    hold_stocks(one.need.stock_id for one in mine)
    for one in covers([job.pk]):
        if one.free:
            set_aside(Need.objects.get(pk=one.need.need_id), quantity=one.free, by=by)


@transaction.atomic
def give_up(need: Need, *, quantity: Decimal, by: Staff | None, reason: str) -> Need:
    """Put back to the shelf what was set aside; the job needs it again. Raises NotOnHand."""
    stock = hold_stocks([need.stock_id])[need.stock_id]
    held = _hold(need)
    if quantity > held.set_aside:
        raise NotOnHand(f"{said(held.set_aside)} of {stock} are set aside for {held.job.number}.")
    _aside(stock, held, -quantity, reason, by)
    return held


@transaction.atomic
def take_from(giver: Need, *, to: Need, quantity: Decimal, reason: str, by: Staff) -> Need:
    """Take another job's goods for a reason; that job waits for them again. Raises NotOnHand, ValueError."""
    if giver.stock_id != to.stock_id or not reason.strip():
        raise ValueError("Another job’s goods are taken for a reason, and only the same goods.")
    give_up(giver, quantity=quantity, by=by, reason=f"Taken for {to.job.number}: {reason.strip()}")
    taken = set_aside(to, quantity=quantity, by=by, reason=f"Taken from {giver.job.number}: {reason.strip()}")
    log_change(
        giver.job, did="gave goods to another job", by=by, after={"goods": giver.stock, "to": to.job, "reason": reason}
    )
    return taken


@transaction.atomic
def issue_to_job(need: Need, *, quantity: Decimal, by: Staff | None) -> Need:
    """The crew takes what was set aside. Raises NotOnHand."""
    stock = hold_stocks([need.stock_id])[need.stock_id]
    held = _hold(need)
    if quantity > held.set_aside:
        raise NotOnHand(f"{said(held.set_aside)} of {stock} are set aside for {held.job.number}.")
    _aside(stock, held, -quantity, "Taken to the job", by)
    why = Why(MovementKind.ISSUED, unit_cost=average_cost(stock), job=held.job, need=held)
    take_off_shelves(stock, quantity, why, by=by)
    held.issued += quantity
    held.save(update_fields=["issued"])
    log_change(held.job, did="took goods", by=by, after={"goods": stock.so_many(quantity)})
    return held


@transaction.atomic
def return_from_job(need: Need, *, quantity: Decimal, shelf: Shelf, by: Staff | None, reason: str = "") -> Need:
    """The crew brings back what was not used; it is free for anybody. Raises NotOnHand."""
    stock = hold_stocks([need.stock_id])[need.stock_id]
    held = _hold(need)
    if quantity > held.issued:
        raise NotOnHand(f"{said(held.issued)} of {stock} were taken to {held.job.number}.")
    held.issued -= quantity
    if held.quantity > quantity:
        held.quantity -= quantity
    else:
        held.cancelled_at, held.cancelled_reason = timezone.now(), reason or "Brought back, not used"
    held.save()
    why = Why(MovementKind.BROUGHT_BACK, reason, unit_cost=average_cost(stock), job=held.job, need=held)
    move(stock, quantity, why, shelf=shelf, by=by)
    log_change(held.job, did="brought goods back", by=by, after={"goods": stock.so_many(quantity), "why": reason})
    return held


def loosen(stock: Stock, *, free: Decimal, by: Staff | None, reason: str) -> None:
    """Give up set-aside goods of a locked stock, latest needed first, until so many are free."""
    holders = Need.objects.select_related("job").filter(stock=stock, set_aside__gt=0).select_for_update(of=("self",))
    for need in reversed(list(holders.first_needed_first())):
        if stock.free >= free:
            return
        _aside(stock, need, -min(need.set_aside, free - stock.free), reason, by)


def _hold(need: Need) -> Need:
    return Need.objects.select_for_update(of=("self",)).select_related("job", "stock__item").get(pk=need.pk)


def _aside(stock: Stock, need: Need, quantity: Decimal, reason: str, by: Staff | None) -> None:
    if quantity == 0:
        return
    stock.set_aside += quantity
    stock.save(update_fields=["set_aside"])
    need.set_aside += quantity
    need.save(update_fields=["set_aside"])
    SetAside.objects.create(
        need=need, quantity=quantity, reason=reason, by=by, by_name=by.name if by else "Wharfwright"
    )
    did = "set aside" if quantity > 0 else "gave up"
    log_change(need.job, did=did, by=by, after={"goods": stock.so_many(abs(quantity)), "why": reason})
