"""Two people, one record: the later save changes nothing and is told what the other one changed."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from django.core.exceptions import FieldDoesNotExist
from django.db import models, transaction

from contractor.company import current
from contractor.company.journal import kept_values, log_change
from contractor.company.models import ChangeLog, Staff
from contractor.quantities import say

UNITS_BY_ENDING = {
    "level_in": "ft_level",
    "depth_in": "ft_level",
    "_in": "in",
    "_lb": "lb",
    "_psf": "psf",
    "_sqft": "sqft",
    "_mi": "mi",
    "_percent": "percent",
}

Record = TypeVar("Record", bound=models.Model)


@dataclass(frozen=True)
class Difference:
    """A field the other person changed, in words: what it was, what they made it, what you typed.

    It is a clash only if you changed it too, and to something else.
    """

    field: str
    label: str
    before: str
    theirs: str
    yours: str
    clash: bool


class ChangedMeanwhile(Exception):
    """The record was changed since it was read; nothing was saved.

    `thing` is the record as it stands, `version` the one to send with the next try, `by_name` and `at` say who and
    when (from the change log), `differences` what they changed beside what you typed.
    """

    def __init__(self, thing: models.Model, seen_version: int, changes: Mapping[str, Any]) -> None:
        super().__init__(f"{thing} was changed meanwhile")
        entries = _entries_since(thing, seen_version)
        last = entries[0] if entries else None
        self.thing = thing
        self.version: int = thing.version
        self.by_name: str = last.by_name if last else "Somebody"
        self.at: datetime.datetime | None = last.at if last else None
        self.differences = _differences(thing, entries, changes)

    @property
    def clashes(self) -> bool:
        """Whether both changed the same thing; if not, yours can be saved beside theirs."""
        return any(difference.clash for difference in self.differences)

    @property
    def theirs(self) -> str:
        """The fields that keep their value if theirs stands; posted by the settling form."""
        return ",".join(difference.field for difference in self.differences)

    @property
    def left(self) -> str:
        """The fields that keep their value even if yours stands: you had not touched them."""
        return ",".join(difference.field for difference in self.differences if not difference.clash)


@transaction.atomic
def save_if_unchanged(
    thing: Record, seen_version: int, changes: Mapping[str, Any], *, by: Staff | None, did: str = "changed"
) -> Record:
    """Write the changes into the record if it still has the version that was seen; log them; return it fresh.

    Values equal to what stands are left out; if nothing is left, nothing happens. Raises ChangedMeanwhile when
    somebody else saved first, ValidationError when the record would break one of its own rules.
    """
    model = type(thing)
    current = model._base_manager.select_for_update().get(pk=thing.pk)
    if current.version != seen_version:
        raise ChangedMeanwhile(current, seen_version, changes)
    before = {name: getattr(current, name) for name in changes}
    new = {name: value for name, value in changes.items() if value != before[name]}
    if not new:
        return current
    for name, value in new.items():
        setattr(current, name, value)
    _check_rules(current, new)
    # SQLite has no row locks: there the count of this update says who was first.
    if not model._base_manager.filter(pk=thing.pk, version=seen_version).update(version=seen_version + 1):
        raise ChangedMeanwhile(model._base_manager.get(pk=thing.pk), seen_version, changes)
    current.version = seen_version + 1
    current.save()
    log_change(
        current,
        did=did,
        by=by,
        before={name: before[name] for name in new},
        after={**{name: getattr(current, name) for name in new}, "version": current.version},
    )
    return current


def settled(changes: Mapping[str, Any], posted: Mapping[str, Any]) -> dict[str, Any]:
    """The changes that remain after the person pressed "keep theirs" or "save mine" under a conflict.

    >>> settled({"name": "a", "phone": "b"}, {"stands": "theirs", "theirs": "name"})
    {'phone': 'b'}
    """
    dropped = posted.get({"theirs": "theirs", "mine": "left"}.get(posted.get("stands", ""), ""), "").split(",")
    return {name: value for name, value in changes.items() if name not in dropped}


def in_words(model: type[models.Model], name: str, value: Any) -> str:
    """A field's value as a colleague would say it; also takes values as the change log keeps them."""
    try:
        field = model._meta.get_field(name)
    except FieldDoesNotExist:
        return str(value)
    if value is None or value == "":
        return "nothing"
    if getattr(field, "choices", None):
        return str(dict(field.flatchoices).get(value, value))
    if isinstance(field, models.BooleanField):
        return "yes" if value else "no"
    if isinstance(field, models.DecimalField | models.FloatField):
        unit = next((unit for ending, unit in UNITS_BY_ENDING.items() if name.endswith(ending)), None)
        figure = value if isinstance(field, models.FloatField) else Decimal(str(value))
        return say(figure, unit, current.units()) if unit else f"{Decimal(str(value)):f}"
    return str(value)


def label_of(model: type[models.Model], name: str) -> str:
    try:
        field = model._meta.get_field(name)
    except FieldDoesNotExist:
        return name.replace("_", " ")
    # A key of the log may be named like what points here, which has no words of its own.
    return str(getattr(field, "verbose_name", name.replace("_", " ")))


def _check_rules(thing: models.Model, new: Mapping[str, Any]) -> None:
    untouched = {field.name for field in thing._meta.fields} - set(new)
    thing.clean_fields(exclude=untouched)
    thing.clean()
    thing.validate_unique(exclude=untouched)
    thing.validate_constraints()


def _entries_since(thing: models.Model, seen_version: int) -> list[ChangeLog]:
    entries = ChangeLog.objects.about(thing).newest_first()[:50]
    return [entry for entry in entries if (entry.after.get("version") or 0) > seen_version]


def _differences(thing: models.Model, entries: list[ChangeLog], changes: Mapping[str, Any]) -> list[Difference]:
    model = type(thing)
    was = {name: value for entry in entries for name, value in entry.before.items()}
    touched = list(was) or [name for name, value in changes.items() if value != getattr(thing, name)]
    return [
        _difference(model, name, was.get(name), getattr(thing, name, None), kept_values(changes)) for name in touched
    ]


def _difference(model: type[models.Model], name: str, before: Any, theirs: Any, typed: Mapping[str, Any]) -> Difference:
    said_before, said_theirs = in_words(model, name, before), in_words(model, name, theirs)
    said_yours = in_words(model, name, typed[name]) if name in typed else said_before
    clash = said_yours not in (said_before, said_theirs)
    return Difference(
        field=name,
        label=label_of(model, name),
        before=said_before,
        theirs=said_theirs,
        yours=said_yours if clash else "the same" if said_yours == said_theirs else "left as it was",
        clash=clash,
    )
