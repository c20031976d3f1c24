"""What would fix it: every fix designs cleanly and passes when proved again. Starter floats and prices, invented."""

from decimal import Decimal

import pytest

from estimating.engine.afloat.fixes import fixes, propose_layout
from estimating.engine.afloat.floating import float_proof
from estimating.engine.design import design
from estimating.engine.pipeline import estimate
from estimating.engine.spec import DockSpec, FloatPlace, Flotation, Joint, Section
from estimating.engine.spec_file import dump_spec, load_spec
from tests.afloat.docks import STARTER, STARTER_RULES, asking

SHORT = DockSpec("short of floats", (Section("A", 192.0, 72.0, flotation=Flotation(rows=2, columns=3)),))
PAIR = (FloatPlace(24, 24), FloatPlace(168, 24))
NARROW = Section("B", 192.0, 48.0, x_in=192.0, flotation=Flotation(placed=PAIR))


@pytest.mark.parametrize("kind", ["spread", "edge"])
def test_its_fixes_pass_and_come_cheapest_first(kind):
    laid = design(SHORT, STARTER, STARTER_RULES)
    case = float_proof(laid, STARTER, STARTER_RULES).case(kind)
    assert case.level != "fine"
    found = fixes(laid, STARTER, STARTER_RULES, case)
    assert 1 <= len(found) <= 3
    assert [fix.floats_cost for fix in found] == sorted(fix.floats_cost for fix in found)
    now = 6 * STARTER.floats["float-24x48x16"].price.amount
    for fix in found:
        again = estimate(load_spec(dump_spec(fix.spec)), STARTER, STARTER_RULES)
        after = again.afloat.case(kind)
        assert (after.level, after.outcome) == ("fine", "floats")
        assert after.least_freeboard_in == pytest.approx(fix.least_freeboard_in)
        assert after.most_tilt_deg == pytest.approx(fix.most_tilt_deg)
        assert fix.more_cost == fix.floats_cost - now
        priced = [STARTER.floats[f.item].price.amount for f in again.design.floats]
        assert (len(priced), sum(priced, Decimal(0))) == (fix.count, fix.floats_cost)


def test_a_hinged_section_is_put_right_without_making_its_neighbour_worse():
    spec = DockSpec("pair", (Section("A", 192.0, 72.0), NARROW), (Joint("A", "B"),))
    laid = design(spec, STARTER, STARTER_RULES)
    before = float_proof(laid, STARTER, STARTER_RULES)
    case = before.case("edge")
    assert case.where.startswith("B") and case.level != "fine"
    order = ("fine", "check", "stop")
    for fix in fixes(laid, STARTER, STARTER_RULES, case, best=1):
        assert fix.sections == ("B",)
        for was, now in zip(before.cases, fix.proof.cases, strict=True):
            assert order.index(now.level) <= order.index(was.level)


def test_it_offers_nothing_where_nothing_passes():
    # 400 psf is 38,400 lb on 96 sq ft: more than any floats that fit below it lift.
    heavy = DockSpec("heavy", SHORT.sections, live_load_psf=400.0)
    laid = design(heavy, STARTER, STARTER_RULES)
    assert fixes(laid, STARTER, STARTER_RULES, float_proof(laid, STARTER, STARTER_RULES).case("spread")) == ()


def test_a_proposed_layout_passes_every_case_of_its_section():
    proposed = propose_layout(SHORT, STARTER, STARTER_RULES, sections=("A",))
    proof = estimate(proposed, STARTER, STARTER_RULES).afloat
    assert proof.level == "fine"
    assert proposed.sections[0].flotation.placed


def test_a_proposed_layout_costs_no_more_than_what_a_rule_of_rows_takes_to_pass():
    rules = asking(STARTER_RULES, heavy_lb=0.0)
    cost = {item.code: item.price.amount for item in STARTER.floats.values()}
    proposed = design(propose_layout(SHORT, STARTER, rules), STARTER, rules)
    paid = sum(cost[f.item] for f in proposed.floats)
    for columns in (3, 4):
        grid = Section("A", 192.0, 72.0, flotation=Flotation(rows=2, columns=columns))
        laid = design(DockSpec("grid", (grid,)), STARTER, rules)
        if float_proof(laid, STARTER, rules).level == "fine":
            assert paid <= sum(cost[f.item] for f in laid.floats)


def test_floats_set_close_together_are_put_right_by_setting_them_wider_for_nothing():
    # Two rows a foot from the middle carry the dock and tip it: the second moment goes with the distance squared.
    close = tuple(FloatPlace(u, v) for u in (24.0, 96.0, 168.0) for v in (24.0, 48.0))
    spec = DockSpec("close", (Section("A", 192.0, 72.0, flotation=Flotation(placed=close)),))
    rules = asking(STARTER_RULES, heavy_lb=0.0, edge_people=3)
    laid = design(spec, STARTER, rules)
    case = float_proof(laid, STARTER, rules).case("edge")
    assert case.level == "stop"
    found = fixes(laid, STARTER, rules, case)
    wider = found[0]
    assert (wider.count, wider.item, wider.more_cost) == (6, laid.floats[0].item, 0)
    across = [place.v_in for place in wider.spec.sections[0].flotation.placed]
    assert max(across) - min(across) == 48.0  # from edge to edge: 72 in of dock less a float of 24
    assert str(wider.words).startswith("The same 6 of")
    assert "48 in apart across where they are 24 in now" in str(wider.words).replace("\u00a0", " ")


def test_a_deck_too_narrow_for_any_floats_is_offered_wider():
    # 4 x 10 ft: four people at its edge turn it over on any floats that fit below it.
    spec = DockSpec("narrow", (Section("A", 120.0, 48.0, flotation=Flotation(rows=2, columns=2)),))
    laid = design(spec, STARTER, STARTER_RULES)
    case = float_proof(laid, STARTER, STARTER_RULES).case("edge")
    assert case.level == "stop"
    (wider,) = fixes(laid, STARTER, STARTER_RULES, case)
    again = estimate(load_spec(dump_spec(wider.spec)), STARTER, STARTER_RULES)
    assert again.afloat.level == "fine" and again.design.spec.sections[0].width_in == 48.0 + wider.wider_in > 48.0
    # A foot less is not offered, because no floats under it pass every load.
    less = DockSpec("less", (Section("A", 120.0, 36.0 + wider.wider_in),))
    assert estimate(propose_layout(less, STARTER, STARTER_RULES), STARTER, STARTER_RULES).afloat.level != "fine"
