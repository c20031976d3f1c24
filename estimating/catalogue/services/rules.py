"""Joint rules and standing choices: the firm's own, changed here and nowhere in code."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from contractor.company.current import units
from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged
from contractor.quantities import format_length
from estimating.catalogue.models import Item, JointRule, JointRulePart, Place, StandingChoices
from estimating.catalogue.models.items import GOODS
from estimating.catalogue.values import short

from .choices import CHOICE_LABELS, CHOICES, SHOP_HABITS
from .conflicts import Wording, say_conflict, say_plainly
from .refusals import FactsRefused

RULE_LABELS = {"dock_over_in": "Docks over", "dock_to_in": "Docks up to", "takes": "Takes"}
RULE_FACTS = ("place", "name", "dock_over_in", "dock_to_in", "bolts", "bolt")


@dataclass(frozen=True)
class PartLine:
    """So many of an item for the joint, or for each of its bolts."""

    item: Item
    quantity: Decimal
    per_bolt: bool = False


@transaction.atomic
def make_joint_rule(*, facts: dict[str, Any], parts: Sequence[PartLine], by: Staff | None) -> JointRule:
    """A new rule. Raises FactsRefused when it clashes with another or names what it can't."""
    _check_rule(facts, parts, but=None)
    position = JointRule.objects.count()
    rule = JointRule.objects.create(**{key: facts[key] for key in RULE_FACTS}, position=position)
    _set_parts(rule, parts)
    log_made(rule, by=by, facts={**{key: facts[key] for key in RULE_FACTS}, "takes": _listed(rule)})
    return rule


@transaction.atomic
def change_joint_rule(
    rule: JointRule, *, facts: dict[str, Any], parts: Sequence[PartLine], seen_version: int, by: Staff | None
) -> JointRule:
    """Raises FactsRefused as for a new rule, ChangedMeanwhile when somebody saved first."""
    _check_rule(facts, parts, but=rule)
    changes = {key: facts[key] for key in RULE_FACTS}
    try:
        saved = save_if_unchanged(rule, seen_version, changes, by=by)
        before = _listed(saved)
        _set_parts(saved, parts)
        after = _listed(saved)
        if after != before and saved.version == seen_version:
            _take_next_version(saved, seen_version, changes)
    except ChangedMeanwhile as conflict:
        raise _said(conflict, seen_version, {**changes, "takes": _lines(parts)}) from None
    if after != before:
        log_change(
            saved, did="changed", by=by, before={"takes": before}, after={"takes": after, "version": saved.version}
        )
    return saved


@transaction.atomic
def drop_joint_rule(rule: JointRule, *, seen_version: int, by: Staff | None) -> None:
    """Take a rule away; quotes already sent keep their figures. Raises ChangedMeanwhile for a stale page."""
    current = JointRule.objects.select_for_update().get(pk=rule.pk)
    if current.version != seen_version:
        raise ChangedMeanwhile(current, seen_version, {})
    facts = {key: getattr(current, key) for key in RULE_FACTS}
    log_change(current, did="dropped", by=by, before={**facts, "takes": _listed(current)})
    current.delete()


@transaction.atomic
def save_standing_choices(*, changes: dict[str, Any], seen_version: int, by: Staff | None) -> StandingChoices:
    """Change what a spec that says nothing gets. Raises FactsRefused for an item of the wrong kind or retired."""
    faults = {
        name: f"{item.name} is {'retired' if item.kind in CHOICES[name] else 'of another kind'}. Choose another."
        for name, item in changes.items()
        if name in CHOICES and item is not None and not (item.active and item.kind in CHOICES[name])
    }
    if faults:
        raise FactsRefused(faults)
    try:
        return save_if_unchanged(standing_choices(), seen_version, changes, by=by)
    except ChangedMeanwhile as conflict:
        stands = {name: getattr(conflict.thing, name) for name in (*CHOICES, *SHOP_HABITS)}
        wording = Wording({**SHOP_HABITS, **CHOICE_LABELS}, _say)
        raise say_conflict(conflict, seen_version, typed=changes, stands=stands, wording=wording) from None


def standing_choices() -> StandingChoices:
    """The one row, made with the starting figures when it is first asked for."""
    return StandingChoices.objects.get_or_create(pk=1)[0]


def uncovered_places() -> list[str]:
    """Joints, or lengths of dock, that no rule covers, in words."""
    missing = []
    for place in Place:
        covered = 0.0
        for rule in JointRule.objects.filter(place=place).order_by("dock_over_in"):
            if covered is not None and rule.dock_over_in > covered:
                missing.append(
                    f"{place.label}, docks over {short(covered / 12)} and up to {short(rule.dock_over_in / 12)} ft"
                )
            covered = rule.dock_to_in
            if covered is None:
                break
        if covered is not None:
            missing.append(str(place.label) if not covered else f"{place.label}, docks over {short(covered / 12)} ft")
    return missing


def _check_rule(facts: dict[str, Any], parts: Sequence[PartLine], *, but: JointRule | None) -> None:
    _one_at_a_time()
    faults = {}
    over, to = facts["dock_over_in"], facts["dock_to_in"]
    if to is not None and to <= over:
        faults["dock_to_in"] = "The rule ends at a shorter dock than it starts with."
    elif clash := _clash(facts, but):
        faults["dock_over_in"] = f"“{clash}” already covers some of these docks. Change its lengths first."
    if facts["bolts"] and facts["bolt"] is None:
        faults["bolt"] = "Say which bolt, or make it no bolts."
    if not facts["bolts"] and any(line.per_bolt for line in parts):
        faults["bolts"] = "There are parts for each bolt, but no bolts."
    faults |= _part_faults(facts["bolt"], parts)
    if not parts and not facts["bolts"]:
        faults["parts"] = "Name at least one part, or bolts. A joint that takes nothing needs no rule."
    if faults:
        raise FactsRefused(faults)


def _one_at_a_time() -> None:
    """Two rules saved at once could each miss that they clash with the other."""
    standing_choices()
    StandingChoices.objects.select_for_update().get(pk=1)


def _clash(facts: dict[str, Any], but: JointRule | None) -> JointRule | None:
    to = facts["dock_to_in"]
    for other in JointRule.objects.filter(place=facts["place"]).exclude(pk=but.pk if but else None):
        starts_before_other_ends = other.dock_to_in is None or facts["dock_over_in"] < other.dock_to_in
        if starts_before_other_ends and (to is None or other.dock_over_in < to):
            return other
    return None


def _part_faults(bolt: Item | None, parts: Sequence[PartLine]) -> dict[str, str]:
    seen = set()
    for item in [line.item for line in parts] + ([bolt] if bolt else []):
        field = "bolt" if item is bolt else "parts"
        if item.kind not in GOODS:
            return {field: f"{item.name} is no hardware. Joints take plates, kits, bolts, screws and the like."}
        if not item.active:
            return {field: f"{item.name} is retired. Choose another."}
    for line in parts:
        if (line.item.pk, line.per_bolt) in seen:
            return {"parts": f"{line.item.name} is there twice. Add the counts up."}
        seen.add((line.item.pk, line.per_bolt))
    return {}


def _listed(rule: JointRule) -> str:
    return _lines(rule.parts.select_related("item"))


def _lines(parts: Iterable[JointRulePart | PartLine]) -> str:
    return ", ".join(_line(part) for part in parts)


def _line(part: JointRulePart | PartLine) -> str:
    return f"{short(part.quantity)} {part.item.code}{' a bolt' if part.per_bolt else ''}"


def _said(conflict: ChangedMeanwhile, seen_version: int, typed: dict[str, Any]) -> ChangedMeanwhile:
    rule = conflict.thing
    stands = {**{key: getattr(rule, key) for key in RULE_FACTS}, "takes": _listed(rule)}
    return say_conflict(conflict, seen_version, typed=typed, stands=stands, wording=Wording(RULE_LABELS, _say))


def _say(name: str, value: Any) -> str:
    if name == "place" and value:
        return str(Place(value).label)
    if name.endswith("_in") and value is not None:
        return format_length(float(value), units())
    if name == "dock_to_in" and value is None:
        return "any length"
    return say_plainly(value)


def _set_parts(rule: JointRule, lines: Sequence[PartLine]) -> None:
    stands = [(part.item_id, part.quantity, part.per_bolt) for part in rule.parts.all()]
    if stands == [(line.item.pk, line.quantity, line.per_bolt) for line in lines]:
        return
    rule.parts.all().delete()
    JointRulePart.objects.bulk_create(
        JointRulePart(rule=rule, item=line.item, quantity=line.quantity, per_bolt=line.per_bolt, position=place)
        for place, line in enumerate(lines)
    )


def _take_next_version(rule: JointRule, seen_version: int, changes: dict[str, Any]) -> None:
    if not JointRule.objects.filter(pk=rule.pk, version=seen_version).update(version=seen_version + 1):
        raise ChangedMeanwhile(JointRule.objects.get(pk=rule.pk), seen_version, changes)
    rule.version = seen_version + 1
