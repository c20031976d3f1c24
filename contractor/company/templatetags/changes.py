"""The change log in words."""

from dataclasses import dataclass

from django import template
from django.apps import apps
from django.db import models

from contractor.company.models import ChangeLog
from contractor.company.versions import in_words, label_of

register = template.Library()


@dataclass(frozen=True)
class Change:
    label: str
    before: str
    after: str


@register.filter
def kind_in_words(entry: ChangeLog) -> str:
    model = _model(entry)
    return str(model._meta.verbose_name) if model else entry.kind.rpartition(".")[2]


@register.filter
def changes_in_words(entry: ChangeLog) -> list[Change]:
    """What changed, field by field; the version count is the machine's own business."""
    model = _model(entry)
    names = [name for name in {**entry.before, **entry.after} if name != "version" and _worth_saying(entry, name)]
    return [
        Change(
            label=label_of(model, name) if model else name,
            before=_words(model, name, entry.before[name]) if name in entry.before else "",
            after=_words(model, name, entry.after[name]) if name in entry.after else "nothing",
        )
        for name in names
    ]


def _worth_saying(entry: ChangeLog, name: str) -> bool:
    return name in entry.before or entry.after.get(name) not in (None, "")


def _words(model: type[models.Model] | None, name: str, value: object) -> str:
    return in_words(model, name, value) if model else str(value)


def _model(entry: ChangeLog) -> type[models.Model] | None:
    try:
        return apps.get_model(entry.kind)
    except LookupError:
        return None
