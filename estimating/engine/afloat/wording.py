"""Sentences put together from sentences."""

from estimating.engine.proof import CaseProof
from estimating.engine.reasons import Amount, Sentence


def appended(first: Sentence, text: str, *values: Amount | str) -> Sentence:
    """The first sentence with more text, whose {0}, {1} are the further values.

    >>> appended(Sentence("{0} boats", ("Two",)), ": {0} sink", "both").say()
    'Two boats: both sink'
    """
    shifted = text
    for place in reversed(range(len(values))):
        shifted = shifted.replace(f"{{{place}}}", f"{{{place + len(first.values)}}}")
    return Sentence(first.text + shifted, (*first.values, *values))


def case_words(case: CaseProof) -> Sentence:
    """The case with the place where it is worst."""
    return appended(case.name, ", {0}", case.where) if case.where else case.name
