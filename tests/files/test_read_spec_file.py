"""The spec file: what goes out comes back the same, and what is wrong is said at its field."""

import json
from dataclasses import fields
from pathlib import Path
from typing import get_args, get_type_hints

import pytest
from hypothesis import given, settings

from estimating.engine import spec as spec_records
from estimating.engine.json_records import required_fields, schema
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import DockSpec
from estimating.engine.spec_file import dump_spec, load_spec

from .records import SPECS

EXAMPLES = sorted(Path(__file__).parent.glob("*.json"))


def faults(document) -> dict[str, str]:
    with pytest.raises(SpecFaults) as caught:
        load_spec(document)
    return {fault.field: str(fault.message) for fault in caught.value.faults}


def with_section(**changes) -> dict:
    section = {"mark": "A", "length_in": 192, "width_in": 72, **changes}
    return {"wharfwright_spec": 1, "title": "Dock", "sections": [{k: v for k, v in section.items() if v is not ...}]}


@settings(max_examples=60)
@given(SPECS)
def test_any_spec_comes_back_exactly_as_it_went(dock):
    assert load_spec(json.loads(json.dumps(dump_spec(dock)))) == dock


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_shipped_examples_can_be_read(path):
    document = json.loads(path.read_text(encoding="utf-8"))
    dock = load_spec(document)
    assert load_spec(dump_spec(dock)) == dock


def test_only_sizes_and_a_mark_are_needed():
    dock = load_spec(with_section())
    assert (dock.sections[0].length_in, dock.sections[0].width_in) == (192.0, 72.0)
    assert dock.ramp is None and dock.place.water.low_in is None


def test_null_is_unknown_not_zero():
    document = {**with_section(), "place": {"one_way_miles": None, "water": {"low_in": 0}}, "ramp": None}
    dock = load_spec(document)
    assert dock.place.one_way_miles is None and dock.place.water.low_in == 0.0 and dock.ramp is None


@pytest.mark.parametrize(
    ("width", "words"),
    [
        (..., "Width is missing."),
        (None, "Width must be a number above 0."),
        (0, "Width must be a number above 0."),
        (-72, "Width must be a number above 0."),
        ("72", "Width must be a number above 0."),
        (True, "Width must be a number above 0."),
        (float("nan"), "Width must be a number."),
        (float("-inf"), "Width must be a number above 0."),
        (1e9, "Width must be at most 60000 in."),
        (10**400, "Width must be at most 60000 in."),
    ],
)
def test_a_width_that_is_none_is_said_at_its_field(width, words):
    assert faults(with_section(width_in=width)) == {"sections[0].width_in": words}


def test_every_fault_is_said_at_once():
    document = with_section(length_in=0, decking={"direction": "diagonal"})
    document |= {"work": {"crew_size": 0, "equipment": [{"name": "Boat", "days": "-1", "rate_per_day": 10}]}}
    assert faults(document) == {
        "sections[0].length_in": "Length must be a number above 0.",
        "sections[0].decking.direction": "Board direction must be one of: across, along.",
        "work.crew_size": "Crew size must be a whole number of 1 or more.",
        "work.equipment[0].days": "Days must be a number of 0 or more.",
    }


def test_a_misspelled_field_is_named_with_the_one_meant():
    assert faults(with_section(width_inch=72)) == {
        "sections[0].width_inch": "There is no field width_inch here. Did you mean width_in?"
    }


def test_a_field_nobody_knows_is_named():
    assert faults({**with_section(), "zebra": 1}) == {"zebra": "There is no field zebra here."}


def test_braces_in_a_name_are_only_a_name():
    assert faults({**with_section(), "{0}": 1}) == {"{0}": "There is no field {0} here."}


@pytest.mark.parametrize("document", [[], "dock", 3, None])
def test_a_file_that_holds_something_else_is_refused(document):
    assert faults(document) == {"": "The file must be a group of fields { }."}


def test_a_later_version_is_refused_by_its_number():
    assert faults({**with_section(), "wharfwright_spec": 2}) == {
        "wharfwright_spec": "Version must be 1; this file says 2."
    }


def test_a_dock_without_sections_is_refused():
    assert faults({**with_section(), "sections": []}) == {"sections": "Sections: at least 1 needed."}


def test_money_is_read_as_written():
    document = {
        **with_section(),
        "work": {"permit_fees": [{"name": "A", "amount": 0.1}, {"name": "B", "amount": "0.10"}]},
    }
    assert [str(fee.amount) for fee in load_spec(document).work.permit_fees] == ["0.1", "0.10"]


def pairs(kind, node, root):
    """Every dataclass in a record with the schema node that describes it."""
    node = root["$defs"][node["$ref"].rsplit("/", 1)[1]] if "$ref" in node else node
    yield kind, node
    for name, hint in get_type_hints(kind).items():
        inner = next((k for k in (hint, *get_args(hint)) if hasattr(k, "__dataclass_fields__")), None)
        if inner:
            child = node["properties"][name]
            yield from pairs(inner, child.get("items", child), root)


def test_the_schema_has_every_field_of_the_spec_and_no_other():
    root = schema("spec-1")
    seen = set()
    for kind, node in pairs(DockSpec, root, root):
        names = set(node["properties"]) - {"wharfwright_spec"}
        assert names == {field.name for field in fields(kind)}, kind
        assert set(node["required"]) - {"wharfwright_spec"} == required_fields(kind), kind
        assert node["additionalProperties"] is False
        seen.add(kind)
    assert seen == {k for k in vars(spec_records).values() if hasattr(k, "__dataclass_fields__")}
