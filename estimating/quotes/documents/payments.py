"""What the customer pays and when: as sent, and again for what was accepted, by the rule that held when it was sent."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from estimating.engine.parts import DepositRule, Instalment
from estimating.engine.payments import plan
from estimating.engine.result import Payment
from estimating.quotes.models import Quote, QuoteOption

from .worked import WorkedQuote


def rule_as_dict(worked: WorkedQuote) -> dict[str, Any]:
    """The firm's payment rule as a sent quote keeps it: later rules are not this customer's."""
    deposit = worked.rules.deposit
    return {
        "deposit": {
            "kind": deposit.kind,
            "percent": str(deposit.percent),
            "cap": str(deposit.cap),
            "source": deposit.source,
            "checked": deposit.checked.isoformat() if deposit.checked else "",
        },
        "instalments": [
            {"trigger": one.trigger, "percent_of_rest": str(one.percent_of_rest)} for one in worked.rules.instalments
        ],
        "special_order": str(worked.special_order),
    }


def total_with(quote: Quote, taken: Iterable[QuoteOption]) -> Decimal:
    """What a sent quote comes to with these options taken."""
    return (quote.total or Decimal(0)) + sum((option.amount or Decimal(0) for option in taken), Decimal(0))


def payments_with(quote: Quote, taken: Iterable[QuoteOption]) -> list[dict[str, str]]:
    """The payments of a sent quote with these options taken.

    The deposit keeps its limit, rounded down to the cent; the rest is shared as before and adds up to the cent.
    """
    rule, options = quote.payment_rule, list(taken)
    special = Decimal(rule["special_order"]) + sum((option.special_order for option in options), Decimal(0))
    instalments = [Instalment(one["trigger"], Decimal(one["percent_of_rest"])) for one in rule["instalments"]]
    return said_payments(plan(total_with(quote, options), _deposit(rule["deposit"]), instalments, special).payments)


def said_payments(payments: Sequence[Payment]) -> list[dict[str, str]]:
    """Payments as a quote keeps them."""
    return [{"trigger": payment.trigger, "amount": str(payment.amount)} for payment in payments]


def kept_payments(quote: Quote) -> tuple[Payment, ...]:
    """The payments a sent quote carries: of the price, or of what was accepted once it was."""
    return tuple(Payment(one["trigger"], Decimal(one["amount"])) for one in quote.payments)


def _deposit(kept: dict[str, str]) -> DepositRule:
    checked = date.fromisoformat(kept["checked"]) if kept["checked"] else None
    return DepositRule(kept["kind"], Decimal(kept["percent"]), Decimal(kept["cap"]), kept["source"], checked)
