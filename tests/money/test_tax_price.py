"""Tax modes, each worked out by hand for one job: materials 1,000.00, direct cost 2,000.00, no profit, no rounding."""

from dataclasses import replace
from decimal import Decimal

import pytest

from estimating.engine.parts import TaxMode
from estimating.engine.price import price
from estimating.engine.result import PriceBuildUp
from estimating.engine.spec import Allowance, Work
from estimating.engine.taxes import purchase_tax

from .designs import bare_design, hours, materials, spec
from .test_price_job import CATALOGUE, RULES

D = Decimal
PLAIN = replace(RULES, margin_percent=D(0), floor_margin_percent=D(0), rounding_step=D(0), contingency_percent=D(0))
NO_OVERHEAD = replace(PLAIN, overhead_per_hour=D(0))
STATE_AND_TOWN = (("State", D("6.25")), ("Town", D("0.75")))


def taxed(tax: TaxMode) -> PriceBuildUp:
    work = Work(subcontracts=(Allowance("Crane", D(1000)),))
    design = bare_design(spec(work=work))
    return price(design, materials("1000.00"), hours("0"), replace(NO_OVERHEAD, tax=tax), CATALOGUE)


def test_a_shop_that_is_the_end_user_bears_the_tax_as_a_cost():
    build_up = taxed(TaxMode("shop_is_end_user", STATE_AND_TOWN, D(6)))
    assert (build_up.price, build_up.sales_taxes, build_up.total) == (D("2060.00"), (), D("2060.00"))


def test_a_separated_contract_taxes_the_materials_part_only():
    build_up = taxed(TaxMode("separated_materials", STATE_AND_TOWN, D(6)))
    assert build_up.price == D("2000.00")
    assert build_up.sales_taxes == (
        ("State", D("6.25"), D("1000.00"), D("62.50")),
        ("Town", D("0.75"), D("1000.00"), D("7.50")),
    )
    assert build_up.total == D("2070.00")


def test_profit_and_overhead_are_spread_over_the_materials_part():
    tax = TaxMode("separated_materials", (("State", D(10)),))
    rules = replace(NO_OVERHEAD, margin_percent=D(20), tax=tax)
    design = bare_design(spec(work=Work(subcontracts=(Allowance("Crane", D(1000)),))))
    build_up = price(design, materials("1000.00"), hours("0"), rules, CATALOGUE)
    # 2000 / 0.8 = 2500.00, half of it for materials
    assert build_up.sales_taxes == (("State", D(10), D("1250.00"), D("125.00")),)


def test_the_whole_price_can_be_taxed():
    build_up = taxed(TaxMode("whole_price", (("GST", D(5)), ("PST", D(7))), D(6)))
    assert build_up.price == D("2000.00")
    assert [tax[3] for tax in build_up.sales_taxes] == [D("100.00"), D("140.00")]
    assert build_up.total == D("2240.00")


def test_the_end_user_mode_and_the_whole_price_can_come_together():
    build_up = taxed(TaxMode("end_user_and_whole_price", (("Receipts", D(4)),), D(6)))
    assert build_up.price == D("2060.00")
    assert build_up.sales_taxes == (("Receipts", D(4), D("2060.00"), D("82.40")),)
    assert build_up.total == D("2142.40")


def test_an_exempt_customer_with_a_certificate_pays_none():
    build_up = taxed(TaxMode("exempt", STATE_AND_TOWN, D(6), exemption="Certificate 4471, to 31 December 2027"))
    assert (build_up.price, build_up.total, build_up.findings) == (D("2000.00"), D("2000.00"), ())


@pytest.mark.parametrize("certificate", ["", "   "])
def test_an_exempt_customer_without_a_certificate_stops_the_quote(certificate):
    [finding] = taxed(TaxMode("exempt", exemption=certificate)).findings
    assert (finding.level, finding.code) == ("stop", "no_certificate")


def test_a_taxed_price_without_a_rate_is_said():
    [finding] = taxed(TaxMode("whole_price")).findings
    assert (finding.level, finding.code) == ("check", "no_tax_rate")


def test_tax_is_worked_out_once_on_the_subtotal_not_by_the_line():
    # 3 x 0.07 at 7 % is 0.0147: one cent once, but no cents if each line were taxed and rounded.
    assert purchase_tax(D("0.21"), TaxMode("shop_is_end_user", purchase_tax_percent=D(7))) == D("0.01")


def test_half_a_cent_of_tax_goes_up():
    assert purchase_tax(D("0.50"), TaxMode("shop_is_end_user", purchase_tax_percent=D(5))) == D("0.03")
