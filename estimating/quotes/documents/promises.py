"""What the quote promises in figures: what the price covers, the tax it says, how many people."""

from decimal import Decimal

from contractor.money import format_money
from estimating.engine.proof import FloatProof
from estimating.engine.reasons import Amount
from estimating.quotes.models import TaxMode

from .speech import capital, day_said, listed, speak
from .worked import WorkedQuote


def price_rows(worked: WorkedQuote) -> list[tuple[str, Decimal]]:
    """The rows that make the price before tax: one, or materials apart from work where only they are taxed."""
    price, goods = worked.estimate.price, _goods(worked)
    permit = ["permit"] if worked.estimate.design.spec.work.permit_fees else []
    if worked.quote.tax_mode == TaxMode.MATERIALS and price.sales_taxes:
        materials = price.sales_taxes[0][2]
        work = capital(listed(["delivery", *permit, "all work"]))
        return [(f"Materials for {listed(goods)}", materials), (work, price.price - materials)]
    return [(f"{capital(', '.join([*goods, *permit]))}, delivery and all work", price.price)]


def _goods(worked: WorkedQuote) -> list[str]:
    design = worked.estimate.design
    goods = {"dock": True, "ramp": design.ramp, "anchors": design.anchors, "fittings": design.accessories}
    return [name for name, there in goods.items() if there]


def tax_rows(worked: WorkedQuote) -> list[tuple[str, Decimal]]:
    """Each sales tax with its whole rate and what it is due on, so that it can be worked out again."""
    return [
        (f"{name}, {rate.normalize():f}% of {format_money(taxable)}", tax)
        for name, rate, taxable, tax in worked.estimate.price.sales_taxes
    ]


def tax_line(worked: WorkedQuote) -> str:
    """What the quote says of sales tax when no tax is added; empty when one is."""
    if worked.estimate.price.sales_taxes:
        return ""
    if worked.quote.tax_mode == TaxMode.EXEMPT:
        return f"Sales tax: exempt, {_certificate(worked)}"
    pays = worked.quote.tax_mode in (TaxMode.SHOP_PAYS, TaxMode.BOTH) and worked.rules.tax.purchase_tax_percent
    return f"Sales tax: none on this quote{'; tax on materials is in the price' if pays else ''}"


def _certificate(worked: WorkedQuote) -> str:
    until, said = worked.facts.tax_exempt_until, f"certificate {worked.facts.tax_exempt_certificate}"
    return f"{said}, which holds until {day_said(until)}" if until else said


PLACES = {"section": "on any one section", "edge": "along one edge", "end": "at one end", "ramp": "on the ramp"}


def people_words(worked: WorkedQuote) -> str:
    """How many people to post, spread out and crowded, by the firm's share of what puts float tops under."""
    limit = people_limit(worked.estimate.afloat)
    if not limit:
        return "The floats carry the dock, and nobody on it. Do not step on it before more floats are under it."
    return (
        f"{limit} A crowd at one edge can tip a floating dock: keep people apart, and children in life jackets."
        f"{_named(worked)}"
    )


def people_limit(proof: FloatProof | None) -> str:
    """The limit to post, in a sentence or two; empty where nobody may be on the dock, or nobody has counted."""
    spread = proof.crowd("spread") if proof else None
    if spread is None or spread.posted < 1:
        return ""
    each = f"{'adult' if spread.posted == 1 else 'adults'} of {speak(Amount(proof.person_lb, 'lb'))}"
    fewer = [count for count in proof.people if count is not spread and count.posted < spread.posted]
    some = [f"{count.posted} {PLACES[count.crowd]}" for count in fewer if count.posted]
    none = [PLACES[count.crowd] for count in fewer if not count.posted]
    limits = f", and not more than {listed(some, 'or')}" if some else ""
    nobody = f" Nobody may stand {listed(none, 'or')}." if none else ""
    return f"Up to {spread.posted} {each} at once, spread out{limits}.{nobody}"


def _named(worked: WorkedQuote) -> str:
    """What becomes of the loads the firm has put in its own words."""
    asked = worked.rules.flotation
    named = {*asked.names, *(own.key for own in asked.own_cases)}
    cases = [case for case in worked.estimate.afloat.cases if case.kind in named and case.rule_set == "firm"]
    fine, others = ([case.name.say(speak) for case in cases if (case.level == "fine") is so] for so in (True, False))
    tried = f" Tried, and fine: {'; '.join(fine)}." if fine else ""
    return f"{tried} Not for: {'; '.join(others)}." if others else tried
