"""The options of a sent quote in groups: alternatives to one material together."""

from estimating.quotes.models import Quote, QuoteOption

from .speech import trade_name


def groups_offered(quote: Quote) -> list[tuple[str, list[QuoteOption]]]:
    """(what they take the place of, the options); the name as it was when the quote was sent."""
    names = {line["code"]: line["name"] for line in quote.figures["takeoff"]["lines"]}
    together: dict[str, list[QuoteOption]] = {}
    for option in quote.options.all():
        together.setdefault(option.instead_of or f"#{option.pk}", []).append(option)
    return [(trade_name(names.get(code, "")), options) for code, options in together.items()]
