"""What the customer answered, and what they then pay."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from contractor.company.models import ChangeLog, Company, PaymentStep, Staff
from estimating.quotes import services
from estimating.quotes.documents.payments import kept_payments
from estimating.quotes.models import Quote
from tests.quotes.making import COMPOSITE, OLD_DOCK, THIN_BOARDS, option_named, revised, sent, the_shop, today

pytestmark = pytest.mark.usefixtures("no_press")
FLOATS = {"name": "Wider floats", "kind": "swap", "change": {"from": "float-24x48x16", "to": "float-36x48x16"}}


def accept(quote: Quote, by: Staff, *names: str) -> Quote:
    taken = frozenset(option_named(quote, name).pk for name in names)
    return services.accept_quote(quote, services.Acceptance(" Ilse Quarrington ", today(), "paper", taken), by=by)


def amounts(quote: Quote) -> list[Decimal]:
    return [payment.amount for payment in kept_payments(quote)]


def test_it_enters_who_when_how_and_what_they_took(owner):
    quote = sent(owner, options=[COMPOSITE, OLD_DOCK])
    accepted = accept(quote, owner, "Take the old dock away")
    assert (accepted.state, accepted.accepted_by_name, accepted.accepted_how) == (
        "accepted",
        "Ilse Quarrington",
        "paper",
    )
    assert accepted.accepted_total == quote.total + Decimal("380.00")
    assert [(o.name, o.taken) for o in accepted.options.all()] == [
        ("Composite boards", False),
        ("Take the old dock away", True),
    ]
    assert accepted.job.stage == "accepted"
    entry = ChangeLog.objects.about(quote).get(did="accepted")
    assert (entry.after["options"], entry.after["total"]) == (["Take the old dock away"], str(accepted.accepted_total))


def test_it_shares_the_accepted_price_in_the_same_parts(owner):
    quote = sent(owner, options=[OLD_DOCK])
    before = amounts(quote)
    assert before == [quote.total * part / 10 for part in (3, 4, 3)]
    accepted = accept(quote, owner, "Take the old dock away")
    assert amounts(accepted) == [accepted.accepted_total * part / 10 for part in (3, 4, 3)]


def test_it_adds_up_to_the_cent_when_thirds_do_not(db):
    owner = the_shop()
    PaymentStep.objects.filter(trigger="signing").update(percent=Decimal("33.34"))
    PaymentStep.objects.exclude(trigger="signing").update(percent=Decimal("33.33"))
    odd = {"name": "Odd sum", "kind": "sum", "typed_amount": Decimal("0.01")}
    accepted = accept(sent(owner, options=[odd], rounding_step=Decimal(0)), owner, "Odd sum")
    assert sum(amounts(accepted)) == accepted.accepted_total
    deposit = accepted.accepted_total * Decimal("0.3334")
    assert Decimal(0) <= deposit - amounts(accepted)[0] < Decimal("0.01")


def test_it_holds_the_deposit_under_the_cap_also_with_options(db):
    """California's rule as the-lesser-of: 10 % or 1,000, rounded down (Business and Professions Code 7159.5)."""
    owner = the_shop(deposit_rule="lesser", deposit_percent=Decimal(10), deposit_cap=Decimal(1000))
    dear = {"name": "Boathouse", "kind": "sum", "typed_amount": Decimal("40000.00")}
    quote = sent(owner, options=[dear], rounding_step=Decimal(0))
    tenth = quote.total / 10
    assert amounts(quote)[0] <= tenth < amounts(quote)[0] + Decimal("0.01")
    assert amounts(accept(quote, owner, "Boathouse"))[0] == Decimal("1000.00")


def test_it_lets_a_deposit_grow_with_the_goods_ordered_for_the_job(db):
    """Massachusetts: the greater of one third and the special order (General Laws c. 142A s. 2)."""
    owner = the_shop(deposit_rule="greater", deposit_percent=Decimal("1"))
    quote = sent(owner, options=[FLOATS])
    count = len(quote.figures["floats"])
    assert amounts(quote)[0] == 140 * count
    assert amounts(accept(quote, owner, "Wider floats"))[0] == 190 * count


def test_it_keeps_the_rule_of_the_day_it_was_sent(owner):
    quote = sent(owner, options=[OLD_DOCK])
    Company.objects.update(deposit_rule="lesser", deposit_cap=Decimal(1), deposit_percent=Decimal(1))
    PaymentStep.objects.filter(trigger="signing").update(percent=Decimal(90))
    accepted = accept(quote, owner)
    assert (accepted.accepted_total, amounts(accepted)) == (quote.total, amounts(quote))


def test_it_takes_one_of_two_alternatives_only(owner):
    quote = sent(owner, options=[COMPOSITE, THIN_BOARDS])
    with pytest.raises(ValidationError, match=r"Only one of these can be taken: Composite boards and Thinner boards\."):
        accept(quote, owner, "Composite boards", "Thinner boards")
    quote.refresh_from_db()
    assert (quote.state, {option.taken for option in quote.options.all()}) == ("sent", {None})
    assert accept(quote, owner, "Thinner boards").accepted_total < quote.total


def test_it_takes_no_options_of_another_quote(owner):
    other = sent(owner, options=[OLD_DOCK])
    quote = sent(owner)
    stranger = frozenset(other.options.values_list("pk", flat=True))
    accepted = services.accept_quote(quote, services.Acceptance("Ilse", today(), "email", stranger), by=owner)
    assert accepted.accepted_total == quote.total
    assert other.options.get().taken is None


@pytest.mark.parametrize("name", ["", "   "])
def test_it_wants_a_name(owner, name):
    quote = sent(owner)
    with pytest.raises(ValidationError):
        services.accept_quote(quote, services.Acceptance(name, today(), "paper"), by=owner)
    quote.refresh_from_db()
    assert quote.state == "sent"


def test_it_enters_a_no_with_its_reason(owner):
    quote = services.refuse_quote(sent(owner), reason=" Too dear. ", on=today(), by=owner)
    assert (quote.state, quote.refused_reason, quote.refused_on) == ("refused", "Too dear.", today())
    with pytest.raises(ValidationError):
        services.refuse_quote(sent(owner), reason="  ", on=today(), by=owner)


def test_it_is_answered_once(owner):
    quote = accept(sent(owner), owner)
    with pytest.raises(services.AlreadyAnswered):
        services.refuse_quote(quote, reason="Changed their mind", on=today(), by=owner)
    with pytest.raises(services.AlreadyAnswered):
        accept(quote, owner)


def test_it_takes_no_answer_for_a_draft_or_a_quote_that_was_replaced(owner):
    first = sent(owner)
    second = revised(first, by=owner)
    with pytest.raises(services.AlreadyAnswered):
        accept(second, owner)
    services.send_quote(second, seen_version=second.version, by=owner, on=today())
    with pytest.raises(services.AlreadyAnswered):
        accept(first, owner)
