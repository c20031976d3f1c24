"""How lumber is sawn is the firm's choice, and reaches the takeoff."""

from datetime import date

import pytest

from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.parts import SawRules
from tests.people import browser_of
from tests.quotes.making import the_shop

ON = date(2026, 4, 6)
CHOSEN = {
    "kerf_in": "3/16",
    "end_trim_in": "1/2",
    "stick_over_in": "1/4",
    "keep_offcut_in": "2'",
    "offcuts_first": "",
    "version": 1,
}


def test_a_new_firm_starts_from_common_practice_for_its_saw(firm):
    assert firm_rules(on=ON).saw == SawRules(kerf_in=0.125, end_trim_in=0)


def test_the_engine_gets_the_kerf_and_the_trust_the_office_chose(firm, office):
    assert browser_of(office).post("/company/block/sawing/", CHOSEN).status_code == 303
    assert firm_rules(on=ON).saw == SawRules(kerf_in=0.1875, end_trim_in=0.5)
    the_shop()
    assert {item.trusted_over_in for item in engine_catalogue(on=ON).lumber.values()} == {0.25}


@pytest.mark.parametrize(("box", "typed"), [("kerf_in", "2"), ("stick_over_in", "-1"), ("keep_offcut_in", "0")])
def test_it_refuses_at_the_field_what_no_saw_does(at_desk, box, typed):
    answer = at_desk.post("/company/block/sawing/", {**CHOSEN, box: typed})
    assert answer.status_code == 422
