"""The price build-up. The 6 x 16 job is a worked example, common practice; its figures were added up by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.parts import TaxMode
from estimating.engine.price import margin_of_markup, price, with_margin
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import PriceBuildUp, TakeoffLine
from estimating.engine.spec import Allowance, Hire, Place, Work

from .designs import WHY, bare_design, hours, materials, spec

D = Decimal
CATALOGUE, STARTER = starter_catalogue()
WORK = Work(
    trips=2,
    travel_hours=D(6),
    equipment=(Hire("Workboat", D(1), D(240)),),
    permit_fees=(Allowance("Town permit", D(125)),),
)
RULES = replace(
    STARTER,
    wage_per_hour=D(26),
    burden_percent=D(38),
    mileage_rate=D("0.70"),
    overhead_per_hour=D(16),
    overhead_percent=None,
    margin_percent=D(12),
    floor_margin_percent=D(8),
    contingency_percent=D(5),
    rounding_step=D(50),
    tax=TaxMode("shop_is_end_user", purchase_tax_percent=D(6)),
)


def worked_example(rules=RULES, work=WORK, miles=23) -> PriceBuildUp:
    design = bare_design(spec(place=Place(bottom="sand", one_way_miles=miles), work=work))
    return price(design, materials("3004.34"), hours("34", "6"), rules, CATALOGUE)


def amounts(build_up: PriceBuildUp) -> dict[str, Decimal]:
    return {line.code: line.amount for line in build_up.lines}


def test_the_worked_example_comes_out_to_the_cent():
    assert amounts(worked_example()) == {
        "materials": D("3004.34"),
        "purchase_tax": D("180.26"),
        "freight": D("0.00"),
        "labour": D("1219.92"),
        "equipment": D("240.00"),
        "subcontract": D("0.00"),
        "mobilization": D("279.68"),
        "permit": D("125.00"),
        "direct": D("5049.20"),
        "contingency": D("246.21"),
        "overhead": D("640.00"),
        "break_even": D("5935.41"),
        "profit": D("809.37"),
        "before_rounding": D("6744.78"),
        "rounding": D("5.22"),
        "price": D("6750.00"),
        "total": D("6750.00"),
    }


def test_the_slip_of_adding_the_margin_is_shown_beside_it():
    build_up = worked_example()
    assert build_up.add_percent_slip == D("6647.66")
    assert build_up.before_rounding - build_up.add_percent_slip == D("97.12")


def test_margin_and_markup_are_both_of_the_price_as_asked():
    build_up = worked_example()
    # by hand: 814.59 / 6750.00 and 814.59 / 5935.41
    assert build_up.profit == D("814.59")
    assert build_up.margin_percent == D("12.07")
    assert build_up.markup_percent == D("13.72")


@pytest.mark.parametrize(
    ("markup", "margin"),
    # Markup and margin side by side, common practice.
    [(10, "9.1"), (20, "16.7"), (25, "20.0"), ("33.3", "25.0"), (50, "33.3"), (67, "40.1"), (100, "50.0")],
)
def test_a_markup_is_not_a_margin(markup, margin):
    assert round(margin_of_markup(D(markup)), 1) == D(margin)


def test_it_keeps_the_order_of_the_trade():
    costs = "materials leftovers purchase_tax freight labour equipment subcontract mobilization permit direct"
    order = f"{costs} contingency overhead break_even profit before_rounding rounding price total"
    assert " ".join(line.code for line in worked_example(replace(RULES, leftovers_to_stock=True)).lines) == order


def test_it_takes_the_greater_contingency_where_the_bottom_is_unknown():
    design = bare_design(spec(place=Place(bottom="unknown", one_way_miles=0), work=WORK))
    build_up = price(design, materials("1000.00"), hours("10"), RULES, CATALOGUE)
    # Direct less permit: 1000 + 60 tax + 358.80 labour + 240 boat; no hours on the road in this Labour.
    assert amounts(build_up)["contingency"] == D("248.82")  # 15 % of 1658.80


def test_contingency_on_the_spec_wins():
    work = replace(WORK, contingency_percent=D(0))
    assert amounts(worked_example(work=work))["contingency"] == D("0.00")


def test_overhead_can_be_a_percent_of_direct_cost():
    rules = replace(RULES, overhead_per_hour=None, overhead_percent=D(10))
    assert amounts(worked_example(rules))["overhead"] == D("504.92")


def test_a_price_below_the_floor_is_said_with_both_figures():
    rules = replace(RULES, margin_percent=D(5))
    [finding] = [f for f in worked_example(rules).findings if f.code == "below_floor"]
    # by hand: 5935.41 / 0.95 = 6247.80, to the nearest 50 is 6250; 5935.41 / 0.92 = 6451.53
    assert (finding.level, str(finding.headline)) == ("check", "6,250.00 is below the floor of 6,451.53.")


def test_a_price_at_the_floor_is_not_below_it():
    rules = replace(RULES, margin_percent=D(8), rounding_step=D(0))
    build_up = worked_example(rules)
    assert build_up.price == build_up.floor_price
    assert not [f for f in build_up.findings if f.code == "below_floor"]


def test_an_unknown_way_to_the_site_is_said():
    build_up = worked_example(work=replace(WORK, travel_hours=None), miles=None)
    assert [(f.code, f.field) for f in build_up.findings] == [("distance_unknown", "place.one_way_miles")]


def test_leftovers_go_to_stock_at_cost_when_the_shop_says_so():
    line = TakeoffLine(
        *("bolt", "Bolt", "fasteners", "framing"),
        *(D(48), "each", D(0), D(48), "box of 25", D(2), D(50), D(2), D("30.00"), D("60.00")),
        *("2026-11-02", "", WHY),
    )
    takeoff = replace(materials("60.00"), lines=(line,))
    rules = replace(RULES, leftovers_to_stock=True)
    lines = amounts(price(bare_design(), takeoff, hours("1"), rules, CATALOGUE))
    assert lines["leftovers"] == D("-2.40")  # two of fifty
    assert lines["purchase_tax"] == D("3.46")  # 6 % of 57.60


@pytest.mark.parametrize("name", ["margin_percent", "floor_margin_percent"])
def test_a_margin_of_the_whole_price_is_refused(name):
    with pytest.raises(SpecFaults, match=name):
        worked_example(replace(RULES, **{name: D(100)}))


def test_overhead_given_both_ways_is_refused():
    with pytest.raises(SpecFaults, match="overhead"):
        worked_example(replace(RULES, overhead_percent=D(10)))


def test_a_margin_price_leaves_that_much_of_itself():
    assert with_margin(D("5935.41"), D(12)) == D("6744.78")


def test_every_line_says_why():
    for line in worked_example().lines:
        assert str(line.reason.rule)


money = st.decimals(0, 50_000, places=2)
percent = st.decimals(0, 60, places=2)


JOBS = st.fixed_dictionaries(
    {
        "goods": money,
        "worked": st.decimals(0, 400, places=2),
        "boat": money,
        "fee": money,
        "margin": percent,
        "contingency": percent,
        "step": st.sampled_from([D(0), D(5), D(10), D(50)]),
    }
)


@given(JOBS)
def test_every_build_up_can_be_added_with_a_pencil(job):
    work = replace(
        WORK,
        equipment=(Hire("Boat", D("1.5"), job["boat"]),),
        permit_fees=(Allowance("Fee", job["fee"]),),
        contingency_percent=job["contingency"],
    )
    tax = TaxMode("end_user_and_whole_price", (("State", D("7.25")), ("Town", D("1.125"))), D(6))
    rules = replace(RULES, margin_percent=job["margin"], rounding_step=job["step"], tax=tax)
    design = bare_design(spec(place=Place(bottom="sand", one_way_miles=11.5), work=work))
    build_up = price(design, materials(str(job["goods"])), hours(str(job["worked"]), "3.25"), rules, CATALOGUE)
    running = D(0)
    for line in build_up.lines:
        if line.kind == "cost":
            running += line.amount
        assert line.kind == "cost" or line.amount == running, line.code
        assert line.amount == line.amount.quantize(D("0.01"))
    assert build_up.total == running == build_up.price + sum(t[3] for t in build_up.sales_taxes)
    assert sum(p.amount for p in build_up.payments) == build_up.total
    assert job["step"] == 0 or build_up.price % job["step"] == 0


@given(
    goods=st.lists(money, min_size=2, max_size=2),
    worked=st.lists(st.decimals(0, 400, places=2), min_size=2, max_size=2),
)
def test_the_price_never_falls_when_a_cost_rises(goods, worked):
    def asked(more: str, longer: str) -> Decimal:
        return price(bare_design(), materials(more), hours(longer), RULES, CATALOGUE).total

    low = asked(str(min(goods)), str(min(worked)))
    assert low <= asked(str(max(goods)), str(min(worked))) <= asked(str(max(goods)), str(max(worked)))
