"""Two specs differ in facts a colleague can read."""

from dataclasses import replace
from decimal import Decimal

import pytest

from contractor.quantities import say
from estimating.engine.spec import (
    Accessory,
    Allowance,
    Anchor,
    Decking,
    DockSpec,
    FloatPlace,
    Flotation,
    Framing,
    Joint,
    Place,
    Ramp,
    Section,
    Water,
    Work,
)
from jobs.records.services import compare_specs

A = Section("A", 192.0, 72.0)
B = Section("B", 96.0, 72.0, x_in=192.0)
DOCK = DockSpec("Dock", (A, B), (Joint("A", "B"),))


def differences(after: DockSpec, before: DockSpec = DOCK, system: str = "imperial", **names: str) -> list[str]:
    found = compare_specs(before, after, names=names)
    return [sentence.say(lambda amount: say(amount.value, amount.unit, system)) for sentence in found]


def test_it_says_nothing_of_two_that_are_the_same() -> None:
    assert differences(replace(DOCK)) == []


@pytest.mark.parametrize(
    ("after", "said"),
    [
        (replace(DOCK, sections=(replace(A, width_in=96.0), B)), ["Section A: width 6′ 0″ to 8′ 0″"]),
        (replace(DOCK, sections=(A,), joints=()), ["Section B: taken away", "Joint A to B: taken away"]),
        (replace(DOCK, joints=(Joint("B", "A", "rigid"),)), ["Joint A to B: kind hinged to rigid"]),
        (replace(DOCK, ramp=Ramp(144.0)), ["Ramp: added"]),
        (
            replace(DOCK, sections=(replace(A, framing=Framing(stringer_count=4)), B)),
            ["Section A: number of stringers left to the firm’s choice to 4"],
        ),
        (
            replace(DOCK, sections=(replace(A, flotation=Flotation(placed=(FloatPlace(12.0, 12.0),))), B)),
            ["Section A: floats placed by hand 0 to 1"],
        ),
        (replace(DOCK, sections=(replace(A, turned=True), B)), ["Section A: turned no to yes"]),
        (
            replace(DOCK, accessories=(Accessory("ladder", section="A"),)),
            ["ladder on section A, lake edge: added"],
        ),
        (replace(DOCK, place=Place(Water(normal_in=42.0))), ["Site: normal water unknown to 3.5 ft"]),
        (
            replace(DOCK, work=Work(permit_fees=(Allowance("Town", Decimal("125.00")),))),
            ["Permit fee Town: added"],
        ),
        (replace(DOCK, anchors=(Anchor("1", "A", "lake-left"),)), ["Anchor 1: added"]),
    ],
)
def test_it_says_each_change_once(after: DockSpec, said: list[str]) -> None:
    assert differences(after) == said


def test_it_speaks_the_reader_s_units_and_the_shop_s_names() -> None:
    after = replace(DOCK, sections=(replace(A, width_in=96.0, decking=Decking(board="cedar-54x6")), B))
    assert differences(after, system="metric", **{"cedar-54x6": "cedar 5/4 × 6"}) == [
        "Section A: width 1.83 m to 2.44 m",
        "Section A: deck boards left to the firm’s choice to cedar 5/4 × 6",
    ]


def test_it_keeps_two_like_accessories_apart() -> None:
    cleat = Accessory("cleat", section="A")
    before = replace(DOCK, accessories=(cleat, cleat))
    assert differences(replace(DOCK, accessories=(cleat,)), before) == ["cleat on section A, lake edge (2): taken away"]


def test_it_finds_a_change_in_every_fact_of_a_section() -> None:
    from dataclasses import fields

    touched = {
        "length_in": 100.0,
        "width_in": 60.0,
        "x_in": 5.0,
        "y_in": 5.0,
        "turned": True,
        "framing": Framing("x", 5, "y", "z", 40.0),
        "decking": Decking("x", "along", 0.25, 1.0),
        "flotation": Flotation("x", 2, 3, (FloatPlace(1.0, 1.0),)),
    }
    assert {field.name for field in fields(Section)} - {"mark"} == set(touched)
    for name, value in touched.items():
        changed = len(fields(value)) if hasattr(value, "__dataclass_fields__") else 1
        assert len(differences(replace(DOCK, sections=(replace(A, **{name: value}), B)))) == changed, name
