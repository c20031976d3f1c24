"""What anchors and chain have to hold is the firm's choice, each rule shown with its source."""

from datetime import date

import pytest

from contractor.company.models import ChangeLog, Company
from estimating.catalogue.services import firm_rules
from estimating.engine.parts import MooringRules
from tests.people import browser_of

ON = date(2026, 4, 6)
CHOSEN = {
    "chain_waves_in": "18",
    "chain_tie_off_in": "2'",
    "chain_scope": "2.5",
    "chain_wander_in": "4",
    "wind_mph": "60",
    "wave_wind_mph": "35",
    "wind_drag": "1.4",
    "current_drag": "1.2",
    "boat_profile_in": "48",
    "chain_share_percent": "80",
    "anchor_factor": "2",
    "version": 1,
}


def test_a_new_firm_starts_from_the_engines_own_figures(firm):
    assert firm_rules(on=ON).mooring == MooringRules()


def test_the_engine_gets_what_the_office_chose(firm, office):
    answer = browser_of(office).post("/company/block/mooring/", CHOSEN)
    assert answer["Location"] == "/company/#mooring"
    assert firm_rules(on=ON).mooring == MooringRules(
        waves_in=18.0,
        tie_off_in=24.0,
        least_scope=2.5,
        wander_in=48.0,
        wind_mph=60.0,
        wave_wind_mph=35.0,
        wind_drag=1.4,
        current_drag=1.2,
        boat_profile_in=48.0,
        chain_share_percent=80.0,
        holding_factor=2.0,
    )
    assert "wind_mph" in ChangeLog.objects.about(Company.objects.get()).get().after


@pytest.mark.parametrize(
    ("box", "typed"),
    [
        ("wind_mph", "-5"),
        ("anchor_factor", "0.5"),
        ("chain_share_percent", "120"),
        ("wind_drag", "0"),
        ("wind_mph", "nan"),
    ],
)
def test_it_refuses_at_the_page_what_holds_no_dock(at_desk, box, typed):
    answer = at_desk.post("/company/block/mooring/", {**CHOSEN, box: typed})
    assert answer.status_code == 422
    assert Company.objects.get().version == 1


def test_each_rule_stands_with_its_source(at_desk):
    page = at_desk.get("/company/").content.decode()
    for said in ("49 CFR 393.108", "NAVFAC DM 7.02", "UFC 4-159-03", "EM 1110-2-1100", "Falmouth"):
        assert said in page
