"""Which taxes a job bears: tax the shop pays on materials, and tax the customer pays on the price, in five modes.

Which mode holds is a matter of local law; a dock held only by chains may not count as real property. Ask an accountant.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from .cents import ZERO, cents, share
from .parts import TaxMode
from .reasons import Finding, Sentence

SHOP_PAYS = ("shop_is_end_user", "end_user_and_whole_price")
WHOLE_PRICE = ("whole_price", "end_user_and_whole_price")
MODE_WORDS = {
    "shop_is_end_user": "The shop is the end user: tax on materials is a cost, none on the price.",
    "separated_materials": "Separated contract: tax on the materials' part of the price only.",
    "whole_price": "The whole price is taxed.",
    "end_user_and_whole_price": "Tax on materials is a cost, and the whole price is taxed.",
    "exempt": "Exempt customer.",
}


@dataclass(frozen=True, slots=True)
class SalesTax:
    """One tax at one rate, worked out once on what it is due on."""

    name: str
    percent: Decimal
    taxable: Decimal
    amount: Decimal


def purchase_tax(materials: Decimal, tax: TaxMode) -> Decimal:
    """Tax the shop pays on what it buys and cannot get back, to the cent. Source: FIRM."""
    return cents(share(materials, tax.purchase_tax_percent)) if tax.mode in SHOP_PAYS else ZERO


def sales_taxes(price: Decimal, materials_part: Decimal, tax: TaxMode) -> Iterator[SalesTax]:
    """Each tax once on its taxable subtotal, to the cent. Source: FIRM."""
    if tax.mode in WHOLE_PRICE:
        taxable = price
    elif tax.mode == "separated_materials":
        taxable = materials_part
    else:
        return
    for name, percent in tax.sales_taxes:
        yield SalesTax(name, percent, taxable, cents(share(taxable, percent)))


def tax_findings(tax: TaxMode) -> Iterator[Finding]:
    """An exempt customer without a certificate, and a mode that taxes the price at no rate at all."""
    if tax.mode == "exempt" and not tax.exemption.strip():
        headline = Sentence("This customer is exempt from tax, but no certificate is on record.")
        cure = Sentence("Write down its number and expiry, or choose another tax mode.")
        yield Finding("stop", headline, cure, "", "FIRM", "no_certificate")
    if tax.mode not in ("shop_is_end_user", "exempt") and not tax.sales_taxes:
        headline = Sentence("The price should be taxed, but no rate is set.")
        yield Finding("check", headline, Sentence("Set the rate in the firm's rules."), "", "FIRM", "no_tax_rate")
