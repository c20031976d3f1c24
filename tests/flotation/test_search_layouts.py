"""The cheapest float layout. Invented floats and prices; every layout it gives is solved again, and some it beats."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from estimating.engine.flotation.cases import CaseChoices, Frames, standard_cases
from estimating.engine.flotation.criteria import FIRM_START, LANDING_FLOAT, Dimensions, Level, judge, worst_level
from estimating.engine.flotation.crowds import RampLanding
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import Assembly, FlotationInputError
from estimating.engine.flotation.layout_search import Bay, FloatChoice, LayoutTask, find_layouts
from tests.flotation.docks import DECK_IN, SEASONED, WET, check_dock

BODY = check_dock()
CHOICES = (
    FloatChoice("low", 48, 24, 12, 38, 440, Decimal(150)),
    FloatChoice("usual", 48, 24, 16, 46, 600, Decimal(180)),
    FloatChoice("wide", 48, 36, 16, 60, 900, Decimal(240)),
)
RAMP = RampLanding(0, 0, 0, DECK_IN, 100, 300)


def task(**changes) -> LayoutTask:
    rules = changes.pop("rules", FIRM_START)
    cases = standard_cases(Assembly((BODY,)), Frames((WET,), (SEASONED,)), rules.choices, RAMP)
    plain = LayoutTask(BODY, (Bay(0, -36, 192, 36),), CHOICES, cases, rules.criteria, Dimensions(8.25), 16.0, gap_in=0)
    return replace(plain, **changes)


def judged(floats, given):
    results = DockAfloat(Assembly((replace(BODY, floats=floats),))).solve(given.cases)
    return results, worst_level(judge(given.criteria, results, given.dimensions))


@pytest.mark.parametrize("allowed", [Level.CHECK, Level.FINE])
def test_every_layout_it_gives_passes_when_solved_again(allowed):
    given = task(allowed=allowed)
    options = find_layouts(given)
    assert options
    for option in options:
        results, level = judged(option.floats, given)
        assert list(Level).index(level) <= list(Level).index(allowed)
        assert option.least_freeboard_in == pytest.approx(min(r.least_freeboard_in for r in results))
        assert option.most_tilt_deg == pytest.approx(max(r.most_tilt_deg for r in results))


def test_it_lists_the_cheapest_first_with_its_price():
    options = find_layouts(task(), best=4)
    prices = {c.code: c.price for c in CHOICES}
    assert [option.price for option in options] == sorted(option.price for option in options)
    assert all(option.price == prices[option.code] * len(option.floats) for option in options)
    assert len({(option.code, len(option.floats)) for option in options}) == len(options)


def test_no_even_layout_of_two_rows_that_passes_is_cheaper():
    given = task()
    cheapest = find_layouts(given, best=1)[0].price
    for choice in CHOICES:
        for columns in (1, 2, 3):
            xs = [24 + i * 144 / max(columns - 1, 1) for i in range(columns)]
            y = 36 - choice.width_in / 2
            floats = tuple(choice.placed(x, side * y, 16.0, turned=False) for x in xs for side in (-1, 1))
            if choice.price * len(floats) < cheapest:
                assert judged(floats, given)[1] is Level.STOP


def test_it_keeps_floats_inside_their_bays_and_apart():
    bays = (Bay(4, -36, 92, 36), Bay(100, -36, 188, 36))
    for option in find_layouts(task(bays=bays, gap_in=1.0), best=5):
        boxes = []
        for f in option.floats:
            size_x, size_y = (f.width_in, f.length_in) if f.turn_deg else (f.length_in, f.width_in)
            boxes.append((f.x_in - size_x / 2, f.y_in - size_y / 2, f.x_in + size_x / 2, f.y_in + size_y / 2))
            assert any(
                bay.x0_in <= boxes[-1][0] + 1e-3
                and bay.y0_in <= boxes[-1][1] + 1e-3
                and boxes[-1][2] <= bay.x1_in + 1e-3
                and boxes[-1][3] <= bay.y1_in + 1e-3
                for bay in bays
            )
        for one, other in ((a, b) for i, a in enumerate(boxes) for b in boxes[:i]):
            apart_x = max(one[0], other[0]) - min(one[2], other[2])
            apart_y = max(one[1], other[1]) - min(one[3], other[3])
            assert max(apart_x, apart_y) >= 1.0 - 2e-3


def test_it_crowds_floats_to_the_ramp_end_when_that_helps():
    heavy = RampLanding(0, 0, 0, DECK_IN, 300, 0)
    cases = standard_cases(Assembly((BODY,)), Frames((WET,), (SEASONED,)), CaseChoices(half_psf=0), heavy)
    options = find_layouts(task(cases=cases, choices=CHOICES[1:2]), best=1)
    assert sum(f.x_in - 96 for f in options[0].floats) < 0


def test_it_gives_nothing_when_nothing_passes():
    assert find_layouts(task(rules=LANDING_FLOAT, choices=CHOICES[:1])) == ()
    assert find_layouts(task(bays=(Bay(0, -10, 40, 10),))) == ()


def test_wider_places_for_floats_let_more_pass():
    narrow = task(bays=(Bay(0, -26, 192, 26),), allowed=Level.FINE)
    wide = task(bays=(Bay(0, -48, 192, 48),), allowed=Level.FINE)
    tilts = [min((o.most_tilt_deg for o in find_layouts(t, best=9)), default=90.0) for t in (narrow, wide)]
    assert tilts[1] < tilts[0]


def test_it_refuses_a_search_without_cases_and_a_place_without_size():
    with pytest.raises(FlotationInputError, match="load case"):
        find_layouts(task(cases=()))
    with pytest.raises(FlotationInputError, match="length and width"):
        Bay(0, 0, 0, 10)
    with pytest.raises(FlotationInputError, match="net_lift_lb"):
        FloatChoice("none", 48, 24, 16, 46, 0, Decimal(1))


def test_it_spreads_columns_with_room_between_all():
    for option in find_layouts(task(gap_in=1.0), best=3):
        xs = sorted({f.x_in for f in option.floats})
        size = option.floats[0].width_in if option.floats[0].turn_deg else option.floats[0].length_in
        assert all(b - a >= size + 1 - 1e-3 for a, b in pairwise(xs))
