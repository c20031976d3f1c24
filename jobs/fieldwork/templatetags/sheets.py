"""What was keyed in, in words."""

from collections.abc import Mapping

from django import template

from contractor.company.templatetags.quantities import moment
from jobs.fieldwork.documents.facts import cut, level, small
from jobs.fieldwork.forms.keying import Block
from jobs.fieldwork.models import Entry
from jobs.fieldwork.services.keying import Standing

register = template.Library()


@register.filter
def value_said(entry: Entry) -> str:
    """The value as it was meant: 10′ 0 1/16″, 19.5 in, 6.5 h, done."""
    if entry.number is None:
        return entry.words
    say = {"length": cut, "small": small, "level": level}.get(entry.kind)
    if say is not None:
        return say(entry.number)
    if entry.kind == "tick":
        return "done"
    return f"{entry.number:.2f} h" if entry.kind == "hours" else f"{entry.number:g}"


@register.filter
def later_said(letter: str) -> str:
    return (
        f"Revision {letter} has taken this one’s place. Keep here only what was built to this paper; get the new one."
    )


@register.simple_tag
def so_far(standing: Mapping[str, Standing], block: Block) -> list[str]:
    """What stands under a block: who wrote it when, and the last word on each box."""
    by_press: dict[str, list[str]] = {}
    for box in block.blank.boxes:
        for slot, one in standing.items():
            if slot == box.key or slot.startswith(f"{box.key} "):
                last = one.last
                who = last.person_name or box.label
                told = value_said(last) if block.blank.kind in ("words", "sign") else f"{who} {value_said(last)}"
                by_press.setdefault(f"{last.by_name}, {moment(last.at)}", []).append(told)
    return [f"{who}: {', '.join(told)}" for who, told in by_press.items()]
