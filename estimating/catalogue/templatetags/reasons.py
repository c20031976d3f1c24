"""What the engine says, in the reader's units: sentences, amounts, and where a rule comes from."""

from collections.abc import Sequence
from functools import cache

from django import template
from django.template.loader import render_to_string
from django.utils.html import escape
from django.utils.safestring import mark_safe

from contractor.company.current import units
from contractor.quantities import say
from estimating.engine.reasons import Amount, Reason, Sentence, Step
from estimating.engine.sources import SOURCES

register = template.Library()


@register.filter
def said(sentence: Sentence | str) -> str:
    """A sentence with its figures in the firm's units; the spaces inside a figure do not break."""
    return sentence.say(spoken) if isinstance(sentence, Sentence) else str(sentence)


@register.filter
def spoken(amount: Amount | None) -> str:
    if amount is None:
        return ""
    return say(amount.value, amount.unit, units()).replace(" ", "\u00a0")


@register.simple_tag
@cache
def mark(level: str) -> str:
    """A level as a shape: fine, check, stop or note. Read from its template once."""
    return render_to_string("components/level_mark.html", {"level": level})


@register.simple_tag
def why(reason: Reason, of: str = "", question: str = "", word: str = "", opened: object = None) -> str:
    """The reason behind a figure, folded away: "Why so many bolts", the question in bold, the steps, rule and source.

    Written here, as its ledger is: a page has a hundred of them, and a template is slow at that.
    """
    head = f"<p><b>{escape(question)}</b></p>" if question else ""
    source = f'<p class="src">{escape(said(reason.rule))} {escape(source_title(reason.source))}</p>'
    return mark_safe(
        f'<details class="why"{" open" if opened else ""}><summary aria-label="Why {escape(of)}">'
        f'{escape(word or "why")}</summary><div class="whynote">{head}\n{ledger(reason.steps)}\n{source}'
        "</div></details>"
    )


@register.filter
def ledger(steps: Sequence[Step]) -> str:
    """Steps as a table, sums under a line."""
    rows = "".join(map(_row, steps))
    return mark_safe(f"<table>{rows}</table>") if rows else ""


def _row(step: Step) -> str:
    start = '<tr class="sum">' if step.total else "<tr>"
    return f'{start}<td>{escape(said(step.label))}</td><td class="r">{escape(spoken(step.amount))}</td></tr>'


@register.filter
def source_title(source_id: str) -> str:
    """The title of a source; an id nobody registered stands for itself."""
    return SOURCES[source_id].title if source_id in SOURCES else source_id
