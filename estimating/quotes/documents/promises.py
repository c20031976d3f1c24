"""What the quote promises in figures: what the price covers, the tax it says, how many people."""

from estimating.engine.reasons import Amount
from estimating.quotes.models import TaxMode

from .speech import capital, day_said, listed, speak
from .worked import WorkedQuote


def price_rows(worked: WorkedQuote) -> list[tuple[str, object]]:
    """The rows that make the price before tax: one, or materials apart from work where only they are taxed."""
    price, covers = worked.estimate.price, _covers(worked)
    if worked.quote.tax_mode == TaxMode.MATERIALS and price.sales_taxes:
        materials = price.sales_taxes[0][2]
        return [(f"Materials for {covers}", materials), ("Delivery and all work", price.price - materials)]
    return [(f"{capital(covers)}, delivery and all work", price.price)]


def _covers(worked: WorkedQuote) -> str:
    design = worked.estimate.design
    parts = ["dock"]
    parts += ["ramp"] if design.ramp else []
    parts += ["anchors"] if design.anchors else []
    parts += ["fittings"] if design.accessories else []
    parts += ["permit"] if design.spec.work.permit_fees else []
    return listed(parts)


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


def people_words(worked: WorkedQuote) -> str:
    """How many people, spread out; the posted figure is two thirds of what puts float tops under, rounded down."""
    posted = [level.awash_people * 2 // 3 for level in worked.estimate.design.level]
    if min(posted) < 1:
        return "The floats carry the dock, and nobody on it. Do not step on it before more floats are under it."
    weight = speak(Amount(worked.rules.person_lb, "lb"))
    together = f"Up to {sum(posted)} adults of {weight} at once, spread out"
    each = f", and not more than {min(posted)} on any one section" if len(posted) > 1 else ""
    return (
        f"{together}{each}. A crowd at one edge can tip a floating dock: keep people apart, "
        "and children in life jackets."
    )
