"""How the customer pays: a deposit no greater than its rule allows, then shares of the rest that add up to the cent."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from .cents import ZERO, cents, cents_down, share
from .parts import DepositRule, Instalment
from .price_findings import day_words
from .reasons import Amount, Finding, Sentence
from .result import Payment

LOOK_AGAIN_AFTER_DAYS = 365
ON_SIGNING = "On signing"
ON_COMPLETION = "On completion"


@dataclass(frozen=True, slots=True)
class Plan:
    """Payments in order, and what should be looked at before it is signed."""

    payments: tuple[Payment, ...]
    findings: tuple[Finding, ...] = ()


def deposit(total: Decimal, rule: DepositRule, special_order: Decimal = ZERO) -> Decimal:
    """What may be asked for on signing, rounded down to the cent, never more than the total.

    `special_order` is the cost of goods ordered for this job alone; only one kind of rule looks at it. Local law
    decides which rule holds. Raises ValueError for a kind of rule nobody knows. Source: the rule's own.

    >>> deposit(Decimal("6750"), DepositRule("lesser_of_percent_and_cap", Decimal(10), Decimal(1000)))
    Decimal('675.00')
    """
    part = share(total, rule.percent)
    amounts = {
        "none": ZERO,
        "percent": part,
        "lesser_of_percent_and_cap": min(part, rule.cap),
        "greater_of_percent_and_special_order": max(part, special_order),
    }
    if rule.kind not in amounts:
        raise ValueError(f"no deposit rule is called {rule.kind!r}")
    return cents_down(min(amounts[rule.kind], total))


def plan(total: Decimal, rule: DepositRule, instalments: Sequence[Instalment], special_order: Decimal = ZERO) -> Plan:
    """Deposit first, then each instalment's share of the rest; the last takes what is left, odd cents and all.

    >>> rule = DepositRule("percent", Decimal(10))
    >>> [p.amount for p in plan(Decimal("100.01"), rule, [Instalment("Framed", Decimal(50))] * 2).payments]
    [Decimal('10.00'), Decimal('45.01'), Decimal('45.00')]
    """
    first = deposit(total, rule, special_order)
    payments = [Payment(ON_SIGNING, first)] if first else []
    payments += _rest(total - first, instalments)
    return Plan(tuple(payments), tuple(_findings(total, first, rule)))


def old_limit(rule: DepositRule, on: date) -> Iterator[Finding]:
    """A deposit rule that was looked up more than a year ago: laws change. Source: common practice, no source."""
    if rule.checked and (on - rule.checked).days > LOOK_AGAIN_AFTER_DAYS:
        headline = Sentence("The rule for deposits was last looked up on {0}.", (day_words(rule.checked),))
        cure = Sentence("See whether it still holds where the dock is built, and write down the day.")
        yield Finding("check", headline, cure, "", "FIRM", "deposit_rule_old")


def _rest(rest: Decimal, instalments: Sequence[Instalment]) -> Iterator[Payment]:
    if not instalments:
        instalments = (Instalment(ON_COMPLETION, Decimal(100)),)
    left = rest
    for instalment in instalments[:-1]:
        amount = min(left, cents(share(rest, instalment.percent_of_rest)))
        left -= amount
        yield Payment(instalment.trigger, amount)
    if left or rest:
        yield Payment(instalments[-1].trigger, left)


def _findings(total: Decimal, first: Decimal, rule: DepositRule) -> Iterator[Finding]:
    if rule.kind == "greater_of_percent_and_special_order" and first > cents_down(share(total, rule.percent)):
        headline = Sentence("The deposit of {0} rests on floats and a bought ramp.", (Amount(first, "money"),))
        cure = Sentence("Ask for it only if they are ordered for this job alone; otherwise {0} is the most.")
        cure = Sentence(cure.text, (Amount(cents_down(share(total, rule.percent)), "money"),))
        yield Finding("check", headline, cure, "", "FIRM", "special_order_deposit")
