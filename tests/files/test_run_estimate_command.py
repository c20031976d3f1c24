"""`manage.py estimate`: the whole answer as JSON, or 2 with the wrong field named."""

import json
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from estimating.engine.catalogue_file import STARTER
from estimating.engine.spec_file import load_spec

FILES = Path(__file__).parent
ROOT = FILES.parents[1]


def run(*arguments: object) -> dict:
    out = StringIO()
    call_command("estimate", *map(str, arguments), stdout=out)
    return json.loads(out.getvalue())


def refusal(*arguments: object) -> str:
    with pytest.raises(CommandError) as caught:
        call_command("estimate", *map(str, arguments))
    assert caught.value.returncode == 2
    return str(caught.value)


@pytest.fixture
def spec_file(tmp_path):
    def write(content: object) -> Path:
        path = tmp_path / "spec.json"
        path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
        return path

    return write


def test_it_answers_with_every_part_of_the_estimate():
    answer = run(FILES / "straight_with_ramp.json")
    parts = (
        "spec design pieces boards joints bolts floats ramp anchors weights level takeoff hours price warnings sources"
    )
    assert set(parts.split()) <= set(answer)
    assert answer["caution"] == "Check on site. Not a substitute for an engineer where one is required."
    assert answer["design"]["deck_area_sqft"] == 96
    assert answer["bolts"]["ramp"] == 32  # two hinge kits, common practice


def test_a_bare_6_by_16_dock_with_four_stringers_counts_48_bolts(spec_file):
    # Common practice, no source: 4 corners x 8 shared and 4 tees x 4.
    floats = {"item": "float-24x48x16", "rows": 2, "columns": 3}
    section = {"mark": "A", "length_in": 192, "width_in": 72, "framing": {"stringer_count": 4}, "flotation": floats}
    answer = run(spec_file({"wharfwright_spec": 1, "title": "6 x 16", "sections": [section]}))
    [bolts] = [line for line in answer["takeoff"]["lines"] if line["code"] == "bolt-2-1/2"]
    assert (answer["bolts"]["dock"], bolts["net"], bolts["packs"]) == (48, "48", "2")
    assert [step["amount"]["value"] for step in bolts["reason"]["steps"]] == ["32", "16", "48"]
    assert len(answer["floats"]) == 6


def test_the_money_in_the_answer_adds_up():
    answer = run(FILES / "l_shape.json")
    cents = {line["code"]: round(float(line["amount"]) * 100) for line in answer["price"]["lines"]}
    lines = answer["takeoff"]["lines"]
    assert cents["materials"] == sum(round(float(line["cost"]) * 100) for line in lines)
    assert cents["break_even"] == cents["direct"] + cents["contingency"] + cents["overhead"]
    assert cents["price"] == cents["break_even"] + cents["profit"] + cents["rounding"]
    assert cents["total"] == sum(round(float(p["amount"]) * 100) for p in answer["price"]["payments"])


def test_every_reason_names_a_known_source():
    def sources(value):
        if isinstance(value, dict):
            if isinstance(value.get("source"), str) and "steps" in value:
                yield value["source"]
            for inner in value.values():
                yield from sources(inner)
        elif isinstance(value, list):
            for inner in value:
                yield from sources(inner)

    answer = run(FILES / "l_shape.json")
    assert set(sources(answer)) <= set(answer["sources"])


def test_the_spec_inside_the_answer_can_be_read_back():
    answer = run(FILES / "l_shape.json")
    assert [s.mark for s in load_spec(answer["spec"]).sections] == ["A", "B", "C"]


def test_another_catalogue_changes_the_price(tmp_path):
    document = json.loads(STARTER.read_text(encoding="utf-8"))
    for item in document["floats"]:
        item["price"]["amount"] = "1.00"
    cheap = tmp_path / "cheap.json"
    cheap.write_text(json.dumps(document), encoding="utf-8")
    spec = FILES / "straight_with_ramp.json"
    assert float(run(spec, "--catalogue", cheap)["price"]["total"]) < float(run(spec)["price"]["total"])


def test_prices_are_as_of_the_day_named(tmp_path):
    document = json.loads(STARTER.read_text(encoding="utf-8"))
    document["goods"][0]["price"] |= {"starter": False}
    catalogue = tmp_path / "catalogue.json"
    catalogue.write_text(json.dumps(document), encoding="utf-8")

    def stale(day: str) -> list[str]:
        answer = run(FILES / "l_shape.json", "--catalogue", catalogue, "--on", day)
        return [w["headline"] for w in answer["warnings"] if w["code"] == "stale_price"]

    assert stale("2026-11-03") == []
    assert stale("2027-11-02") == ["The price of Inside corner plate is 365 days old."]


def test_a_wrong_field_is_named(spec_file):
    path = spec_file({"wharfwright_spec": 1, "title": "Dock", "sections": [{"mark": "A", "length_in": 192}]})
    assert refusal(path) == f"{path}: sections[0].width_in: Width is missing."


def test_a_fault_found_by_the_design_is_named_too(spec_file):
    sections = [{"mark": "A", "length_in": 192, "width_in": 72, "framing": {"stringer": "9x99"}}]
    path = spec_file({"wharfwright_spec": 1, "title": "Dock", "sections": sections})
    assert "sections[0].framing.stringer" in refusal(path)


def test_broken_json_is_said_with_line_and_column(spec_file):
    assert "not JSON at line 2, column 1" in refusal(spec_file('{"title": "Dock",\n}'))


def test_a_file_that_is_not_there_is_said(tmp_path):
    assert (
        refusal(tmp_path / "nothing.json") == f"{tmp_path / 'nothing.json'}: cannot be read: No such file or directory."
    )


def test_a_file_that_is_not_text_is_said(tmp_path):
    path = tmp_path / "dock.json"
    path.write_bytes(b"\xff\xfe\x00dock")
    assert "not text in UTF-8" in refusal(path)


def test_a_wrong_catalogue_is_named_by_its_own_file(tmp_path):
    path = tmp_path / "catalogue.json"
    path.write_text('{"wharfwright_catalogue": 1}', encoding="utf-8")
    message = refusal(FILES / "l_shape.json", "--catalogue", path)
    assert f"{path}: currency: Currency is missing." in message


def test_it_ends_with_2_and_needs_no_database(spec_file, tmp_path):
    path = spec_file(
        {"wharfwright_spec": 1, "title": "Dock", "sections": [{"mark": "A", "length_in": 0, "width_in": 72}]}
    )
    nowhere = {**os.environ, "WHARFWRIGHT_DATA": str(tmp_path), "DJANGO_SETTINGS_MODULE": "tests.settings"}
    command = [sys.executable, "-m", "django", "estimate", str(path)]
    done = subprocess.run(command, cwd=ROOT, env=nowhere, capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stdout) == (2, "")
    assert "sections[0].length_in: Length must be a number above 0." in done.stderr
