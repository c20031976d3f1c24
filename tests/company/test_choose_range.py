"""How steep a ramp may get, and how much water floats keep under them, is the firm's choice."""

from datetime import date

import pytest

from estimating.catalogue.services import firm_rules
from estimating.engine.parts import RangeRules
from tests.people import browser_of

ON = date(2026, 4, 6)
CHOSEN = {"ramp_comfortable": "8", "ramp_steep": "5.5", "ramp_refuse": "3", "float_clearance_in": "18", "version": 1}


def test_a_new_firm_starts_from_common_practice_for_its_ramps(firm):
    assert firm_rules(on=ON).range == RangeRules(comfortable=4, steep=3, refuse=2, clearance_in=12)


def test_the_engine_gets_the_slopes_the_office_chose(firm, office):
    browser_of(office).post("/company/block/range/", CHOSEN)
    assert firm_rules(on=ON).range == RangeRules(comfortable=8, steep=5.5, refuse=3, clearance_in=18)


@pytest.mark.parametrize(
    ("box", "typed"), [("ramp_refuse", "6"), ("ramp_comfortable", "200"), ("float_clearance_in", "-1")]
)
def test_it_refuses_slopes_out_of_order(firm, office, box, typed):
    answer = browser_of(office).post("/company/block/range/", {**CHOSEN, box: typed})
    assert answer.status_code == 422 and firm_rules(on=ON).range == RangeRules()
