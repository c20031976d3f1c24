"""Two people at one item, rule or row of choices: what the other one changed, said in the firm's units."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from contractor.company.current import units
from contractor.company.models import ChangeLog
from contractor.company.versions import ChangedMeanwhile, Difference
from contractor.quantities import format_length
from estimating.catalogue.facts import FACTS, label_of
from estimating.catalogue.models import Item
from estimating.catalogue.values import Day, Exact, short

Say = Callable[[str, Any], str]
LISTS = {"stock_lengths": "Stock lengths", "fitted_with": "Fitted with", "replaced_by": "May be replaced by"}


def item_lists(item: Item) -> dict[str, str]:
    """The item's lists as the log keeps them."""
    return {
        "stock_lengths": said_lengths(stick.length_in for stick in item.sticks.filter(offered=True)),
        "fitted_with": said_fixings((each.part, each.quantity) for each in item.fixings.select_related("part")),
        "replaced_by": ", ".join(sorted(item.substitutes.values_list("code", flat=True))),
    }


def said_lengths(lengths_in: Iterable[float]) -> str:
    return ", ".join(f"{short(length_in)} in" for length_in in sorted(set(lengths_in)))


def said_fixings(fixings: Iterable[tuple[Item, Decimal]]) -> str:
    return ", ".join(f"{part.code} x {short(quantity)}" for part, quantity in fixings)


@dataclass(frozen=True)
class Wording:
    """How a record's fields are called and its values said."""

    labels: Mapping[str, str]
    say: Say


def say_item_conflict(conflict: ChangedMeanwhile, seen_version: int, typed: Mapping[str, Any]) -> ChangedMeanwhile:
    """The conflict with its differences in words; `typed` holds facts and lists as they were to be saved."""
    item = conflict.thing
    stands = {**{name: getattr(item, name) for name in (*FACTS, "preferred_supplier", "active")}, **item_lists(item)}
    labels = {name: label_of(item.kind, name) for name in FACTS}
    labels |= {"preferred_supplier": "Usual supplier", "active": "In use", **LISTS}
    return say_conflict(conflict, seen_version, typed=typed, stands=stands, wording=Wording(labels, _say_fact))


def say_conflict(
    conflict: ChangedMeanwhile,
    seen_version: int,
    *,
    typed: Mapping[str, Any],
    stands: Mapping[str, Any],
    wording: Wording,
) -> ChangedMeanwhile:
    """Words for every difference: what it was when the page was opened, what it is now, what was typed."""
    was: dict[str, Any] = {}
    for entry in ChangeLog.objects.about(conflict.thing).newest_first()[:50]:
        if (entry.after.get("version") or 0) > seen_version:
            was |= entry.before
    touched = [name for name in was if name in stands] or [
        name for name in typed if name in stands and typed[name] != stands[name]
    ]
    conflict.differences = [
        _difference(name, [values.get(name) for values in (was, stands)], typed, wording) for name in touched
    ]
    return conflict


def _difference(name: str, was_and_is: list[Any], typed: Mapping[str, Any], wording: Wording) -> Difference:
    before, theirs = (wording.say(name, value) for value in was_and_is)
    yours = wording.say(name, typed[name]) if name in typed else before
    clash = yours not in (before, theirs)
    words = yours if clash else "the same" if yours == theirs else "nothing new"
    return Difference(name, wording.labels.get(name, name.replace("_", " ")), before, theirs, words, clash)


def say_plainly(value: Any) -> str:
    """A value of a record or of the change log: yes or no, a name, a figure; nothing if it is empty."""
    if value in (None, ""):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return short(value) if isinstance(value, int | float | Decimal) else str(value)


def _say_fact(name: str, value: Any) -> str:
    if name == "stock_lengths" and value:
        inches = (float(length.removesuffix(" in")) for length in value.split(", "))
        return ", ".join(format_length(length_in, units()) for length_in in inches)
    if name not in FACTS or value in (None, ""):
        return say_plainly(value)
    kind = FACTS[name].value
    if isinstance(value, str) and isinstance(kind, Exact | Day):
        value = Decimal(value) if isinstance(kind, Exact) else date.fromisoformat(value)
    return kind.say(value, units())
