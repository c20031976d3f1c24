"""What the engine says, in the reader's units: sentences, amounts, and where a rule comes from."""

from django import template

from contractor.company.current import units
from contractor.quantities import say
from estimating.engine.reasons import Amount, Sentence
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


@register.filter
def source_title(source_id: str) -> str:
    """The title of a source; an id nobody registered stands for itself."""
    return SOURCES[source_id].title if source_id in SOURCES else source_id
