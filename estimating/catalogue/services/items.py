"""Items: made, changed, retired, brought back. Never deleted: a spec or a sent quote may name them."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.db import transaction

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from estimating.catalogue.facts import FACTS, facts_of, faults_in
from estimating.catalogue.models import Fixing, Item, Kind, Stick
from estimating.catalogue.models.items import GOODS, WOOD

from .choices import CHOICE_LABELS
from .conflicts import item_lists, said_fixings, said_lengths, say_item_conflict
from .refusals import FactsRefused, StillUsed


@dataclass(frozen=True)
class ItemDraft:
    """What an item should be. Facts left out stay as they are, and so does a list that is None.

    `facts` holds the facts of the kind and `preferred_supplier`.
    """

    kind: str
    facts: dict[str, Any]
    stick_lengths_in: Sequence[float] | None = None
    fixings: Sequence[tuple[Item, Decimal]] | None = None
    substitutes: Sequence[Item] | None = None
    code: str = field(default="")  # for a new item only; a code never changes


@transaction.atomic
def make_item(draft: ItemDraft, *, by: Staff | None) -> Item:
    """A new item. Raises FactsRefused for a code that is empty or taken and for facts missing or at odds."""
    code = draft.code.strip()
    faults = draft_faults(draft)
    if not code:
        faults["code"] = "Give it a code: short, without spaces, like 2x8-ground."
    elif Item.objects.filter(code__iexact=code).exists():
        faults["code"] = f"The code {code} is taken. Give this one a code of its own."
    if faults:
        raise FactsRefused(faults)
    facts = {**_whole_facts(draft.kind, draft.facts), "preferred_supplier": draft.facts.get("preferred_supplier")}
    item = Item(code=code, kind=draft.kind, **facts)
    item.clean_fields()
    item.save()
    lists = _set_lists(item, draft)
    log_made(item, by=by, facts={"code": code, "kind": draft.kind, **facts, **lists, "version": item.version})
    return item


@transaction.atomic
def change_item(item: Item, draft: ItemDraft, *, seen_version: int, by: Staff | None) -> Item:
    """Write the draft into the item. Facts left out of the draft stay.

    Raises FactsRefused for facts missing or at odds, ChangedMeanwhile when somebody saved first.
    """
    faults = draft_faults(draft, item=item)
    if faults:
        raise FactsRefused(faults)
    changes = {key: value for key, value in draft.facts.items() if key in FACTS or key == "preferred_supplier"}
    try:
        saved = save_if_unchanged(item, seen_version, changes, by=by)
        before = item_lists(saved)
        after = _set_lists(saved, draft)
        changed = [name for name in after if after[name] != before[name]]
        if changed and saved.version == seen_version:
            _take_next_version(saved, seen_version, changes)
    except ChangedMeanwhile as conflict:
        raise say_item_conflict(conflict, seen_version, {**changes, **_wanted_lists(draft)}) from None
    if changed:
        log_change(
            saved,
            did="changed",
            by=by,
            before={name: before[name] for name in changed},
            after={**{name: after[name] for name in changed}, "version": saved.version},
        )
    return saved


@transaction.atomic
def retire_item(item: Item, *, seen_version: int, by: Staff | None) -> Item:
    """Stop offering an item. Raises StillUsed while a joint rule, a fixing or a standing choice names it."""
    uses = uses_of(item)
    if uses:
        raise StillUsed(item.name, uses)
    return save_if_unchanged(item, seen_version, {"active": False}, by=by, did="retired")


@transaction.atomic
def reinstate_item(item: Item, *, seen_version: int, by: Staff | None) -> Item:
    """Offer a retired item again."""
    return save_if_unchanged(item, seen_version, {"active": True}, by=by, did="brought back")


def uses_of(item: Item) -> list[str]:
    """Where the firm’s own rules name an item, in words."""
    uses = [f"joint rule “{rule}”" for rule in item.bolts_joints.all()]
    uses += [f"joint rule “{part.rule}”" for part in item.joint_parts.select_related("rule")]
    uses += [f"fixings of {fixing.item}" for fixing in item.fixes.select_related("item")]
    for relation in item._meta.related_objects:
        name = relation.get_accessor_name()
        if name.startswith("standing_") and getattr(item, name).exists():
            uses.append(f"the usual {CHOICE_LABELS[name.removeprefix('standing_')].lower()}")
    return list(dict.fromkeys(uses))


def draft_faults(draft: ItemDraft, *, item: Item | None = None) -> dict[str, str]:
    """What is wrong with a draft, by field; facts left out are taken from the item."""
    if draft.kind not in Kind.values:
        return {"kind": "Choose what kind of thing it is."}
    stands = {fact.key: getattr(item, fact.key) for fact in facts_of(draft.kind)} if item else {}
    faults = faults_in(draft.kind, {**stands, **_whole_facts(draft.kind, {**stands, **draft.facts})})
    if draft.stick_lengths_in and draft.kind not in WOOD:
        faults["sticks"] = "Only lumber and decking come in stock lengths."
    if draft.kind in WOOD and not draft.stick_lengths_in and (item is None or draft.stick_lengths_in is not None):
        faults["sticks"] = "Say in which lengths the yard sells it: 8, 10, 12, 16."
    faults |= _fixing_faults(draft, item)
    return faults


def _fixing_faults(draft: ItemDraft, item: Item | None) -> dict[str, str]:
    parts = [part for part, _ in draft.fixings or ()]
    if parts and draft.kind in WOOD:
        return {"fixings": "Lumber is fixed by the joint rules, not by fixings of its own."}
    for part in parts:
        if part.kind not in GOODS:
            return {"fixings": f"{part.name} is no hardware. Fixings are plates, bolts, screws and the like."}
        if not part.active:
            return {"fixings": f"{part.name} is retired. Choose another part."}
        if item is not None and part.pk == item.pk:
            return {"fixings": "A thing is not fixed with itself."}
    if len({part.pk for part in parts}) < len(parts):
        return {"fixings": "The same part is there twice. Add the counts up."}
    return {}


def _whole_facts(kind: str, facts: dict[str, Any]) -> dict[str, Any]:
    """Every fact of the kind: the one given, or what empty means."""
    return {fact.key: fact.empty if facts.get(fact.key) in (None, "") else facts[fact.key] for fact in facts_of(kind)}


def _wanted_lists(draft: ItemDraft) -> dict[str, str]:
    """The draft's lists as the log keeps them; a list that stays as it is has none."""
    wanted = {}
    if draft.stick_lengths_in is not None:
        wanted["stock_lengths"] = said_lengths(draft.stick_lengths_in)
    if draft.fixings is not None:
        wanted["fitted_with"] = said_fixings(draft.fixings)
    if draft.substitutes is not None:
        wanted["replaced_by"] = ", ".join(sorted(other.code for other in draft.substitutes))
    return wanted


def _set_lists(item: Item, draft: ItemDraft) -> dict[str, str]:
    if draft.stick_lengths_in is not None:
        _set_sticks(item, draft.stick_lengths_in)
    if draft.fixings is not None:
        _set_fixings(item, draft.fixings)
    if draft.substitutes is not None:
        item.substitutes.set([other for other in draft.substitutes if other.pk != item.pk])
    return item_lists(item)


def _set_sticks(item: Item, lengths_in: Sequence[float]) -> None:
    wanted = set(lengths_in)
    for stick in item.sticks.all():
        offered = stick.length_in in wanted
        if not offered and not stick.prices.exists():
            stick.delete()
        elif stick.offered != offered:
            Stick.objects.filter(pk=stick.pk).update(offered=offered)
        wanted.discard(stick.length_in)
    Stick.objects.bulk_create(Stick(item=item, length_in=length_in) for length_in in sorted(wanted))


def _set_fixings(item: Item, fixings: Sequence[tuple[Item, Decimal]]) -> None:
    stands = [(fixing.part_id, fixing.quantity) for fixing in item.fixings.all()]
    if stands == [(part.pk, quantity) for part, quantity in fixings]:
        return
    item.fixings.all().delete()
    Fixing.objects.bulk_create(
        Fixing(item=item, part=part, quantity=quantity, position=place)
        for place, (part, quantity) in enumerate(fixings)
    )


def _take_next_version(item: Item, seen_version: int, changes: dict[str, Any]) -> None:
    if not Item.objects.filter(pk=item.pk, version=seen_version).update(version=seen_version + 1):
        raise ChangedMeanwhile(Item.objects.get(pk=item.pk), seen_version, changes)
    item.version = seen_version + 1
