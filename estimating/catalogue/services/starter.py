"""The first catalogue of a firm: trade sizes, invented round prices marked as starter figures, starter hours."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_change
from contractor.company.models import Staff
from estimating.catalogue.facts import facts_of
from estimating.catalogue.models import (
    Fixing,
    Item,
    JointRule,
    JointRulePart,
    Kind,
    LabourFactor,
    LabourRate,
    LiftBasis,
    Price,
    StandingChoices,
    Stick,
)
from estimating.catalogue.services.choices import CHOICES
from estimating.catalogue.services.prices import firm_currency
from estimating.engine import parts
from estimating.engine.catalogue_file import starter_catalogue

Entry = parts.Lumber | parts.FloatItem | parts.Good


@dataclass(frozen=True)
class Started:
    """How much was added."""

    items: int
    joint_rules: int
    labour_rates: int


@transaction.atomic
def load_starter(*, by: Staff | None) -> Started:
    """Fill the catalogue from the starter file; whatever is there already stays as it is.

    Starter prices are invented, so they are taken in the firm's currency and never dated later than today.
    """
    standing = _only_one_at_a_time()
    catalogue, _ = starter_catalogue()
    before = Item.objects.count()
    made = _add_items(catalogue, by)
    rules = 0 if JointRule.objects.exists() else _add_joint_rules(catalogue.joint_rules)
    rates = load_starter_hours()
    if before == 0:
        _set_standing(standing, catalogue)
    log_change(standing, did="took in the starter catalogue", by=by, after={"items": len(made), "joint_rules": rules})
    return Started(len(made), rules, rates)


@transaction.atomic
def load_starter_hours() -> int:
    """Labour rates and factors alone, for a firm that begins with an import or an empty catalogue."""
    rules = starter_catalogue()[1]
    known = set(LabourRate.objects.values_list("code", flat=True))
    rates = [
        LabourRate(position=place, **{name: getattr(rate, name) for name in rate.__slots__})
        for place, rate in enumerate(rules.labour_rates)
        if rate.code not in known
    ]
    LabourRate.objects.bulk_create(rates)
    known = set(LabourFactor.objects.values_list("when", flat=True))
    LabourFactor.objects.bulk_create(
        LabourFactor(position=place, when=factor.when, name=factor.name, factor=factor.factor)
        for place, factor in enumerate(rules.labour_factors)
        if factor.when not in known
    )
    return len(rates)


def _only_one_at_a_time() -> StandingChoices:
    """Locks the one row, so that a double click finds the first click's work done."""
    StandingChoices.objects.get_or_create(pk=1)
    return StandingChoices.objects.select_for_update().get(pk=1)


def _add_items(catalogue: parts.Catalogue, by: Staff | None) -> list[Entry]:
    known = set(Item.objects.values_list("code", flat=True))
    wanted: Iterable[Entry] = [*catalogue.lumber.values(), *catalogue.floats.values(), *catalogue.goods.values()]
    entries = [entry for entry in wanted if entry.code not in known]
    Item.objects.bulk_create([_item(entry) for entry in entries])
    items = _items_by_code()
    Stick.objects.bulk_create(
        Stick(item=items[entry.code], length_in=stick.length_in)
        for entry in entries
        for stick in getattr(entry, "sticks", ())
    )
    Fixing.objects.bulk_create(
        Fixing(item=items[entry.code], part=items[use.code], quantity=use.quantity, position=place)
        for entry in entries
        for place, use in enumerate(getattr(entry, "fixings", ()))
    )
    sticks = {(stick.item_id, stick.length_in): stick for stick in Stick.objects.all()}
    taken_in = {"currency": firm_currency(), "entered_by": by, "starter": True}
    Price.objects.bulk_create(
        _starter_price(items[entry.code], sticks.get((items[entry.code].pk, length_in)), price, taken_in)
        for entry in entries
        for length_in, price in _prices_of(entry)
        if price is not None
    )
    return entries


def _item(entry: Entry) -> Item:
    """The engine's facts carry the same names as ours."""
    kind = _kind_of(entry)
    facts = {name: getattr(entry, name) for name in entry.__slots__}
    if kind == Kind.FLOAT:
        facts["lift_basis"] = LiftBasis.NET if facts["lift_is_net"] else LiftBasis.GROSS
    return Item(
        code=entry.code, kind=kind, **{fact.key: facts[fact.key] for fact in facts_of(kind) if fact.key in facts}
    )


def _kind_of(entry: Entry) -> str:
    if isinstance(entry, parts.Lumber):
        return Kind.DECKING if entry.decking else Kind.LUMBER
    return Kind.FLOAT if isinstance(entry, parts.FloatItem) else entry.kind


def _prices_of(entry: Entry) -> list[tuple[float | None, parts.Price | None]]:
    if isinstance(entry, parts.Lumber):
        return [(stick.length_in, stick.price) for stick in entry.sticks]
    return [(None, entry.price)]


def _starter_price(item: Item, stick: Stick | None, price: parts.Price, taken_in: dict[str, Any]) -> Price:
    return Price(
        item=item,
        stick=stick,
        amount=price.amount,
        dated=min(price.dated, timezone.localdate()),
        valid_until=price.valid_until,
        **taken_in,
    )


def _add_joint_rules(rules: tuple[parts.JointRule, ...]) -> int:
    items = _items_by_code()
    made = JointRule.objects.bulk_create(
        JointRule(
            place=rule.place,
            name=rule.name,
            dock_over_in=rule.dock_over_in,
            dock_to_in=None if rule.dock_to_in == float("inf") else rule.dock_to_in,
            bolts=rule.bolts,
            bolt=items[rule.bolt] if rule.bolt else None,
            position=position,
        )
        for position, rule in enumerate(rules)
    )
    JointRulePart.objects.bulk_create(
        JointRulePart(rule=row, item=items[use.code], quantity=use.quantity, per_bolt=per_bolt, position=place)
        for row, rule in zip(made, rules, strict=True)
        for place, (use, per_bolt) in enumerate(_uses(rule))
    )
    return len(made)


def _uses(rule: parts.JointRule) -> list[tuple[parts.Use, bool]]:
    return [*((use, False) for use in rule.parts), *((use, True) for use in rule.per_bolt)]


def _items_by_code() -> dict[str, Item]:
    return {item.code: item for item in Item.objects.all()}


def _set_standing(row: StandingChoices, catalogue: parts.Catalogue) -> None:
    standing = catalogue.standing
    items = _items_by_code()
    for name in CHOICES:
        setattr(row, name, items[getattr(standing, name)])
    for name in ("gap_in", "stringer_spacing_in", "cross_spacing_in", "anchor_offset_in"):
        setattr(row, name, getattr(standing, name))
    row.stale_after_days = catalogue.stale_after_days
    row.version += 1
    row.save()
