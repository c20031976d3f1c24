"""Everything the customer reads besides the drawing: for the paper, for the page, and to compare with later."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from . import promises, words
from .speech import trade_name
from .worked import OptionGroup, WorkedQuote


@dataclass(frozen=True, slots=True)
class Offered:
    """An option as the customer reads it; `then` is the price with it alone, where it takes the place of something."""

    name: str
    words: str
    amount: Decimal
    then: Decimal | None


def paper_words(worked: WorkedQuote) -> dict[str, Any]:
    return {
        "scope": words.scope(worked),
        "inclusions": words.inclusions(worked),
        "exclusions": words.exclusion_lines(worked),
        "assumptions": words.assumptions(worked),
        "people": promises.people_words(worked),
        "tax_line": promises.tax_line(worked),
    }


def offered_groups(worked: WorkedQuote) -> list[tuple[str, list[Offered]]]:
    """The options in groups; only a group of alternatives carries the name of what they take the place of."""
    return [_offered(group, worked.total) for group in worked.groups]


def _offered(group: OptionGroup, total: Decimal) -> tuple[str, list[Offered]]:
    rows = [
        Offered(one.option.name, one.option.words, one.amount, total + one.amount if group.instead_of else None)
        for one in group.options
    ]
    return trade_name(group.instead_of) if len(group.options) > 1 else "", rows
