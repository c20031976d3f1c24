"""Why a dock lies askew: a cause put on the dock by the flotation solver must be the one that is named."""

import pytest

from estimating.engine.afloat.model import CORNER_NAMES, model_of
from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import PointLoad
from estimating.engine.flotation.loads import LoadCase
from jobs.fieldwork.causes import Measured, likely_causes
from tests.quotes.making import l_shape, straight, with_ramp

CATALOGUE, RULES = starter_catalogue()
FRESH_LB_PER_CUFT = 62.4  # fresh water at about 60 F, published in every hydraulics table


def read_to_an_eighth(dock, loads=(), *, seasoned: bool = False) -> list[Measured]:
    """What a tape would read at every corner of a dock with these loads: to the eighth of an inch."""
    model = model_of(dock, CATALOGUE, RULES)
    frames = model.seasoned if seasoned else model.wet
    placed = tuple(PointLoad(model.deck(mark).body, lb, x, y, z) for mark, lb, x, y, z in loads)
    [level] = DockAfloat(model.assembly).solve([LoadCase("as built", placed, (), frames, model.water)])
    corners = {body: list(own.corners) for body, own in enumerate(level.bodies)}
    found = []
    for deck in model.decks:
        for name in CORNER_NAMES:
            corner = corners[deck.body].pop(0)
            found.append(Measured(deck.mark, name, round(corner.freeboard_in * 8) / 8))
    return found


def water_in(dock, number: int, cuft: float):
    placed = dock.floats[number - 1]
    return placed.section, cuft * FRESH_LB_PER_CUFT, placed.x_in, placed.y_in, -7.25 - placed.height_in * 0.9


@pytest.mark.parametrize("spec", [straight, with_ramp, l_shape])
def test_it_names_the_float_that_takes_water(spec):
    """Two cubic feet in one float, read to an eighth: that float is named, first unless another fits as well."""
    dock = design(spec(), CATALOGUE, RULES)
    sound, told, first = read_to_an_eighth(dock), 0, 0
    for number in range(1, len(dock.floats) + 1):
        leaking = read_to_an_eighth(dock, [water_in(dock, number, 2.0)])
        causes = likely_causes(dock, CATALOGUE, RULES, leaking)
        if all(abs(a.freeboard_in - b.freeboard_in) <= 0.25 for a, b in zip(sound, leaking, strict=True)):
            assert causes[0].kind == "as_reckoned"  # no tape can tell
            continue
        [named] = [cause for cause in causes if cause.float_number == number]
        assert named.weight_lb == pytest.approx(2 * FRESH_LB_PER_CUFT, rel=0.2)
        assert f"Float {number} on section {dock.floats[number - 1].section} takes water" in named.words.say()
        assert causes[0] is named or causes[0].left_in <= named.left_in + 0.05
        told, first = told + 1, first + (causes[0] is named)
    assert told >= 0.8 * len(dock.floats) and first >= 0.8 * told


def test_it_says_the_lumber_is_heavier_or_lighter_than_reckoned():
    dock = design(straight(), CATALOGUE, RULES)
    model = model_of(dock, CATALOGUE, RULES)
    wet = model.wet[0]
    soaked = likely_causes(
        dock, CATALOGUE, RULES, read_to_an_eighth(dock, [("A", 200.0, wet.x_in, wet.y_in, wet.z_in)])
    )
    assert soaked[0].kind == "lumber_wet" and soaked[0].weight_lb == pytest.approx(200, abs=20)
    dried = likely_causes(dock, CATALOGUE, RULES, read_to_an_eighth(dock, seasoned=True))
    assert dried[0].kind == "lumber_dry"
    assert dried[0].weight_lb == pytest.approx(model.seasoned[0].weight_lb - wet.weight_lb, rel=0.1)


def test_it_says_which_side_the_load_lies_on():
    dock = design(straight(), CATALOGUE, RULES)
    causes = likely_causes(dock, CATALOGUE, RULES, read_to_an_eighth(dock, [("A", 250.0, 96.0, 60.0, 1.0)]))
    assert (causes[0].kind, causes[0].where) == ("side_load", "A, left edge")
    assert causes[0].weight_lb == pytest.approx(250, abs=15)


def test_it_finds_nothing_where_there_is_nothing():
    dock = design(straight(), CATALOGUE, RULES)
    [cause] = likely_causes(dock, CATALOGUE, RULES, read_to_an_eighth(dock))
    assert cause.kind == "as_reckoned"


def test_it_does_not_guess_from_two_corners_or_from_nonsense():
    dock = design(straight(), CATALOGUE, RULES)
    level = read_to_an_eighth(dock)
    two = [Measured(m.section, m.corner, m.freeboard_in - 3) for m in level[:2]]
    assert likely_causes(dock, CATALOGUE, RULES, two)[0].kind == "unclear"
    bent = [
        Measured(m.section, m.corner, m.freeboard_in + shift) for m, shift in zip(level, (3, -3, 3, -3), strict=True)
    ]
    assert likely_causes(dock, CATALOGUE, RULES, bent)[0].kind == "unclear"
