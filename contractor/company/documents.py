"""What the firm's own page works out beside its boxes."""

from decimal import Decimal

from contractor.company.models import Company, DepositRule
from contractor.money import cap_down, format_money
from contractor.quantities import say

EXAMPLE_PRICE = Decimal(6750)


def deposit_limit_said(company: Company, price: Decimal = EXAMPLE_PRICE) -> str:
    """What the deposit limit comes to on a price, rounded down to the cent; empty where none is set.

    >>> deposit_limit_said(Company(deposit_rule="percent", deposit_percent=Decimal("33.33")))
    'On a price of 6,750.00: 33.33% is 2,249.77. Ask for 2,249.77 at most.'
    """
    share = cap_down(price * company.deposit_percent / 100)
    said = f"On a price of {format_money(price)}: {say(company.deposit_percent, 'percent')} is {format_money(share)}"
    if company.deposit_rule == DepositRule.PERCENT:
        return f"{said}. Ask for {format_money(share)} at most."
    if company.deposit_rule == DepositRule.LESSER:
        least = cap_down(share, company.deposit_cap)
        return f"{said}, the fixed amount {format_money(company.deposit_cap)}. Ask for {format_money(least)} at most."
    if company.deposit_rule == DepositRule.GREATER:
        return f"{said}. Ask for more only where the special orders cost more, and never more than they cost."
    return ""
