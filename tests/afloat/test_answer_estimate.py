"""The proof in the estimate: in its findings, in its JSON, and left out where only the price is wanted."""

import json
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command

from estimating.engine import pipeline
from estimating.engine.catalogue_file import dump_catalogue, load_catalogue
from estimating.engine.flotation.criteria import FIRM_START, RULE_SETS
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.json_records import schema
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import DockSpec, Flotation, Joint, Ramp, Section
from tests.afloat.docks import STARTER, STARTER_RULES, asking

SPEC = DockSpec("one", (Section("A", 192.0, 72.0, flotation=Flotation(rows=2, columns=3)),), ramp=Ramp(144.0))
PAIR = DockSpec("two", (SPEC.sections[0], Section("B", 192.0, 72.0, x_in=192.0)), (Joint("A", "B"),), Ramp(144.0))
DOCUMENT = {
    "wharfwright_spec": 1,
    "title": "6 x 16",
    "sections": [
        {
            "mark": "A",
            "length_in": 192,
            "width_in": 72,
            "flotation": {
                "placed": [
                    {"u_in": u, "v_in": v, "length_in": 48, "width_in": 24, "height_in": 16, "weight_lb": 46}
                    for u in (24, 96, 168)
                    for v in (12, 60)
                ]
            },
        }
    ],
    "live_load_psf": 20,
}


def test_it_says_nothing_of_the_level_case_that_the_proof_says():
    answer = estimate(PAIR, STARTER, asking(STARTER_RULES, hinge_step_in=0.0))
    codes = [finding.code for finding in answer.findings]
    assert codes.count("hinge_step") == 1 and codes.count("sinks") <= 1
    assert set(answer.afloat.findings) <= set(answer.findings)
    assert [f.level for f in answer.design.findings] == sorted(
        (f.level for f in answer.design.findings), key=("stop", "check", "note").index
    )


def test_it_only_prices_where_no_proof_is_asked_for():
    proved, priced = estimate(SPEC, STARTER, STARTER_RULES), estimate(SPEC, STARTER, STARTER_RULES, proof=False)
    assert priced.afloat is None and proved.afloat is not None
    assert priced.price == proved.price


def test_it_says_so_when_the_solver_finds_no_equilibrium(monkeypatch):
    def stuck(*_):
        raise DidNotSettle([0], [1.0])

    monkeypatch.setattr(pipeline, "float_proof", stuck)
    answer = estimate(SPEC, STARTER, STARTER_RULES)
    assert answer.afloat is None
    assert (answer.findings[0].level, answer.findings[0].code) == ("stop", "unsettled")


def test_the_command_prints_the_equilibrium_of_every_case(tmp_path: Path):
    path, out = tmp_path / "spec.json", StringIO()
    path.write_text(json.dumps(DOCUMENT), encoding="utf-8")
    call_command("estimate", str(path), stdout=out)
    afloat = json.loads(out.getvalue())["afloat"]
    assert afloat["caution"] == "Check on site. Not a substitute for an engineer where one is required."
    kinds = [case["kind"] for case in afloat["cases"]]
    assert kinds == ["dead_wet", "dead_seasoned", "spread", "half", "edge", "end", "point"]
    dead = afloat["cases"][0]
    assert (dead["outcome"], dead["verdict"]) == ("floats", "fine")
    assert [c["corner"] for c in dead["sections"][0]["corners"]] == [
        "shore-right", "lake-right", "lake-left", "shore-left",
    ]  # fmt: skip
    assert len(dead["floats"]) == 6 and dead["gm_across_in"] > 0
    assert sum(f["buoyancy_lb"] for f in dead["floats"]) == pytest.approx(dead["weight_lb"])
    assert {v["criterion"] for v in dead["verdicts"]} == {"firm-afloat", "firm-float-tops"}
    # Lift from the volume: 48 x 24 x 16 in of fresh water, six times.
    assert afloat["groups"][0]["lift_lb"] == pytest.approx(6 * 48 * 24 * 16 / 1728 * 62.4)
    assert {(r["kind"], r["side"]) for r in afloat["righting"]} >= {("dead_wet", "left"), ("spread", "lake")}


def test_a_catalogue_file_carries_the_firms_choices_and_an_old_one_gets_the_starters():
    rules = asking(STARTER_RULES, rule_sets=("lake-town",), heavy_lb=500.0, posted_share="1/2", frame_buoyancy=True)
    document = dump_catalogue(STARTER, rules)
    assert load_catalogue(json.loads(json.dumps(document)))[1] == rules
    del document["rules"]["flotation"]
    assert load_catalogue(document)[1].flotation.rule_sets == ("firm",)
    document["rules"]["flotation"] = {"rule_sets": ["town"], "posted_share": "3/2"}
    with pytest.raises(SpecFaults) as refused:
        load_catalogue(document)
    assert {fault.field for fault in refused.value.faults} == {
        "rules.flotation.rule_sets[0]",
        "rules.flotation.posted_share",
    }


def test_the_file_knows_every_rule_set_there_is():
    known = schema("catalogue-1")["$defs"]["flotation_rules"]["properties"]["rule_sets"]["items"]["enum"]
    assert set(known) == set(RULE_SETS) and FIRM_START.id == "firm"
