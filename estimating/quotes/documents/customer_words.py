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
    """The options in groups, each under a line that says what they take the place of; empty for the rest."""
    return [_offered(group, worked.total) for group in worked.groups]


def _offered(group: OptionGroup, total: Decimal) -> tuple[str, list[Offered]]:
    rows = [
        Offered(one.option.name, one.option.words, one.amount, total + one.amount if group.instead_of else None)
        for one in group.options
    ]
    return _instead(group), rows


def _instead(group: OptionGroup) -> str:
    several = len(group.options) > 1
    if not group.instead_of or (not several and "instead of" in group.options[0].option.name):
        return ""
    return f"Instead of {trade_name(group.instead_of)}{', one of these' if several else ''}:"
