"""What a floating dock is tried under and judged by is the firm's choice, each rule shown with its source."""

from datetime import date

import pytest

from contractor.company.models import ChangeLog, Company
from estimating.catalogue.services import firm_rules
from estimating.engine.flotation.criteria import RULE_SETS
from estimating.engine.parts import FlotationRules, OwnCase
from tests.people import browser_of

ON = date(2026, 4, 6)
CHOSEN = {
    "half_load_psf": "25",
    "edge_people": "6",
    "end_people": "0",
    "crowd_inset_in": "1'",
    "heavy_load_lb": "500",
    "heavy_inset_in": "24",
    "ramp_load_psf": "40",
    "asks_lake_town": "on",
    "asks_landing_float": "on",
    "tilt_limit_deg": "8",
    "posted_share": "1/2",
    "hinge_step_in": "0.75",
    "hand_lift_lb": "55",
    "version": 1,
}


def test_a_new_firm_starts_from_common_practice(firm):
    assert firm_rules(on=ON).flotation == FlotationRules()


def test_the_engine_gets_what_the_office_chose(firm, office):
    answer = browser_of(office).post("/company/block/flotation/", CHOSEN)
    assert answer["Location"] == "/company/#flotation"
    rules = firm_rules(on=ON).flotation
    assert rules == FlotationRules(
        rule_sets=("landing-float", "lake-town"),
        half_psf=25.0,
        edge_people=6,
        end_people=0,
        crowd_inset_in=12.0,
        heavy_lb=500.0,
        heavy_inset_in=24.0,
        ramp_psf=40.0,
        tilt_deg=8.0,
        posted_share="1/2",
        hinge_step_in=0.75,
        hand_lift_lb=55.0,
        frame_buoyancy=False,
    )
    assert "tilt_limit_deg" in ChangeLog.objects.about(Company.objects.get()).get().after


@pytest.mark.parametrize(
    ("box", "typed"),
    [("tilt_limit_deg", "0"), ("tilt_limit_deg", "60"), ("posted_share", "9/8"), ("edge_people", "200")],
)
def test_it_refuses_at_the_box_what_no_dock_is_judged_by(at_desk, box, typed):
    answer = at_desk.post("/company/block/flotation/", {**CHOSEN, box: typed})
    assert answer.status_code == 422
    assert Company.objects.get().version == 1


def test_each_rule_stands_with_its_source(at_desk):
    page = at_desk.get("/company/").content.decode()
    for said in ("UFC 4-152-01", "federal reservoir licensee", "Lake St. Croix Beach", "Common practice, no source"):
        assert said in page


def test_every_rule_set_of_the_engine_can_be_chosen(firm):
    Company.objects.update(asks_firm=True, asks_landing_float=True, asks_reservoir=True, asks_lake_town=True)
    assert set(firm_rules(on=ON).flotation.rule_sets) == set(RULE_SETS)


def test_an_empty_box_loads_the_ramp_like_the_deck_and_none_leaves_it_out(firm, at_desk):
    for typed, kept in (("", None), ("0", 0.0)):
        version = Company.objects.get().version
        at_desk.post("/company/block/flotation/", {**CHOSEN, "ramp_load_psf": typed, "version": version})
        assert firm_rules(on=ON).flotation.ramp_psf == kept


def test_the_crew_does_not_choose(firm, crew):
    assert browser_of(crew).post("/company/block/flotation/", CHOSEN).status_code in (302, 303, 403, 404)
    assert Company.objects.get().version == 1


def _cases(**more):
    kinds = ("dead_wet", "dead_seasoned", "spread", "half", "edge", "end", "point", "ramp")
    return {**{f"{kind}-tried": "on" for kind in kinds}, "version": Company.objects.get().version, **more}


def test_it_takes_the_firms_names_leaves_cases_out_and_adds_its_own(firm, at_desk):
    typed = _cases(**{"edge-name": "Anglers at the rail", "own-2-name": "Wedding", "own-2-stands": "spread"})
    del typed["half-tried"]
    refused = at_desk.post("/company/load-cases/", typed)
    assert refused.status_code == 422 and "Say how many people, or how heavy a load." in refused.content.decode()
    assert "Anglers at the rail" in refused.content.decode()
    assert at_desk.post("/company/load-cases/", {**typed, "own-2-people": "25"}).status_code == 303
    rules = firm_rules(on=ON).flotation
    assert rules == FlotationRules(
        names={"edge": "Anglers at the rail"},
        left_out=("half",),
        own_cases=(OwnCase("own-2", "Wedding", "spread", people=25),),
    )
    assert at_desk.post("/company/load-cases/", {**typed, "own-2-people": "9"}).status_code == 409
    page = at_desk.get("/company/").content.decode()
    assert 'value="Wedding"' in page and 'name="half-tried"' in page
