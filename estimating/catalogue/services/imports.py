"""Files taken in: kept at upload, looked at as often as wanted, and applied once and whole."""

import hashlib
from datetime import timedelta

from django.db import transaction
from django.db.models import Count, Max
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.models import Import, ImportState, Item, Price, StandingChoices, Stick, Supplier
from estimating.catalogue.services.items import ItemDraft, change_item, make_item, reinstate_item, retire_item
from estimating.catalogue.services.planning import Plan, PlannedItem, plan_import
from estimating.catalogue.services.prices import add_prices
from estimating.catalogue.services.refusals import ImportRefused
from estimating.catalogue.services.suppliers import make_supplier
from estimating.catalogue.sheet.reading import FileNotRead, Table, read_table
from estimating.catalogue.sheet.rows import read_sheet

WAITS_FOR = timedelta(days=14)


@transaction.atomic
def keep_upload(*, file_name: str, content: bytes, by: Staff) -> Import:
    """Read an uploaded file and keep its rows for the preview. Raises ImportRefused for one that is no table."""
    try:
        table = read_table(content, file_name)
    except FileNotRead as trouble:
        raise ImportRefused(str(trouble)) from trouble
    forgotten = Import.objects.filter(state=ImportState.WAITING, uploaded_at__lt=timezone.now() - WAITS_FOR)
    forgotten.update(state=ImportState.DROPPED, decided_at=timezone.now(), sheet={}, outcome="Left waiting too long.")
    return Import.objects.create(file_name=file_name[-120:], sheet=table.as_plain(), uploaded_by=by)


def plan_of(upload: Import) -> Plan:
    """What the file would change in the catalogue as it stands now."""
    return plan_import(read_sheet(Table.from_plain(upload.sheet)))


def catalogue_digest() -> str:
    """A mark of the catalogue’s state: two looks with the same mark saw the same items, prices and suppliers."""
    prices = Price.objects.aggregate(last=Max("pk"), count=Count("pk"), struck=Count("struck_at"))
    state = [
        list(Item.objects.order_by("pk").values_list("pk", "version")),
        list(Supplier.objects.order_by("pk").values_list("pk", "version")),
        sorted(prices.items()),
    ]
    return hashlib.sha256(repr(state).encode()).hexdigest()


@transaction.atomic
def apply_import(upload: Import, *, seen: str, by: Staff) -> Plan:
    """Take the whole file in, once. `seen` is the digest of the catalogue the preview was made from.

    Raises ImportRefused, and changes nothing, when the file was decided already, the catalogue changed since the
    preview, a cell is bad, or nothing in the file is new.
    """
    StandingChoices.objects.get_or_create(pk=1)
    StandingChoices.objects.select_for_update().get(pk=1)
    upload = Import.objects.select_for_update().get(pk=upload.pk)
    _check_waiting(upload)
    if catalogue_digest() != seen:
        raise ImportRefused("Somebody changed the catalogue since you looked. Nothing was taken in; look again below.")
    plan = plan_of(upload)
    if plan.bad_cells:
        raise ImportRefused("Cells in the file are still wrong. Nothing was taken in.")
    if plan.nothing_changes:
        raise ImportRefused("Nothing in the file is new.")
    _write(plan, by)
    _decide(upload, ImportState.APPLIED, outcome_of(plan), by)
    return plan


@transaction.atomic
def drop_import(upload: Import, *, by: Staff) -> None:
    """Put a file aside without taking anything in. Raises ImportRefused when it was decided already."""
    _check_waiting(upload)
    _decide(upload, ImportState.DROPPED, "Put aside; nothing was taken in.", by)


def outcome_of(plan: Plan) -> str:
    """What a file did or would do, in one sentence."""
    counts = (
        (len(plan.new_items), "new item", "new items"),
        (len(plan.changed_items), "item changed", "items changed"),
        (len(plan.prices), "price added", "prices added"),
        (len(plan.new_suppliers), "new supplier", "new suppliers"),
    )
    said = [f"{count} {one if count == 1 else many}" for count, one, many in counts if count]
    return f"{', '.join(said)}." if said else "Nothing changes."


def _check_waiting(upload: Import) -> None:
    if upload.state == ImportState.APPLIED:
        raise ImportRefused(f"This file was taken in already: {upload.outcome}")
    if upload.state == ImportState.DROPPED:
        raise ImportRefused("This file was put aside. Upload it again to take it in.")


def _decide(upload: Import, state: str, outcome: str, by: Staff) -> None:
    decided = Import.objects.filter(pk=upload.pk, state=ImportState.WAITING).update(
        state=state, decided_at=timezone.now(), decided_by=by, outcome=outcome, sheet={}
    )
    if not decided:
        raise ImportRefused("Somebody decided on this file a moment ago.")
    log_change(
        upload, did="took in" if state == ImportState.APPLIED else "put aside", by=by, after={"outcome": outcome}
    )


def _write(plan: Plan, by: Staff) -> None:
    for name in plan.new_suppliers:
        make_supplier(facts={"name": name}, by=by)
    suppliers = {supplier.name.lower(): supplier for supplier in Supplier.objects.all()}
    for planned in plan.new_items:
        draft = ItemDraft(planned.kind, planned.facts, code=planned.code, stick_lengths_in=planned.new_lengths_in)
        make_item(draft, by=by)
    items = {item.code.lower(): item for item in Item.objects.with_parts()}
    linked = [planned for planned in plan.new_items if planned.fixings or planned.substitutes or planned.supplier]
    for planned in [*linked, *plan.changed_items]:
        items[planned.code.lower()] = _change(planned, items, suppliers, by)
    sticks = {(stick.item_id, stick.length_in): stick for stick in Stick.objects.all()}
    prices = []
    for price in plan.prices:
        item = items[price.code.lower()]
        stick = None if price.length_in is None else sticks[item.pk, price.length_in]
        prices.append((item, stick, suppliers[price.supplier.lower()] if price.supplier else None, price.facts))
    add_prices(prices, by=by)
    for planned in [*plan.new_items, *plan.changed_items]:
        _set_active(planned, items[planned.code.lower()], by)


def _change(planned: PlannedItem, items: dict[str, Item], suppliers: dict[str, Supplier], by: Staff) -> Item:
    """Facts and links; the links in a second pass, when every item of the file is there."""
    item = items[planned.code.lower()]
    facts = dict(planned.facts)
    if planned.supplier is not None:
        facts["preferred_supplier"] = suppliers[planned.supplier.lower()] if planned.supplier else None
    stands = [stick.length_in for stick in item.sticks.all() if stick.offered]
    draft = ItemDraft(
        item.kind,
        facts,
        stick_lengths_in=sorted({*stands, *planned.new_lengths_in}) if item.is_wood else None,
        fixings=None
        if planned.fixings is None
        else [(items[code.lower()], quantity) for code, quantity in planned.fixings],
        substitutes=None if planned.substitutes is None else [items[code.lower()] for code in planned.substitutes],
    )
    return change_item(item, draft, seen_version=item.version, by=by)


def _set_active(planned: PlannedItem, item: Item, by: Staff) -> None:
    if planned.active != item.active:
        change = reinstate_item if planned.active else retire_item
        change(item, seen_version=item.version, by=by)
