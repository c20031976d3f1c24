from dataclasses import replace
from itertools import pairwise

import pytest

from estimating.engine.design import design
from estimating.engine.floats import spread_toward
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec, FloatPlace, Flotation, Place, Ramp, Section, Water
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM, float_item


def lay(*sections: Section, catalogue=CATALOGUE, **more: object) -> Design:
    return design(DockSpec("dock", sections, **more), catalogue, FIRM)


def faults(*sections: Section, **more: object) -> dict[str, str]:
    with pytest.raises(SpecFaults) as refused:
        lay(*sections, **more)
    return {fault.field: str(fault.message) for fault in refused.value.faults}


def test_it_sets_rows_to_the_outer_edges_and_a_column_at_each_end() -> None:
    laid = lay(Section("A", 192, 72, flotation=Flotation(rows=2, columns=3)), live_load_psf=20)
    assert [(f.x_in, f.y_in) for f in laid.floats] == [(24, 12), (24, 60), (96, 12), (96, 60), (168, 12), (168, 60)]


@pytest.mark.parametrize("psf", [10, 20, 30, 50])
def test_it_counts_floats_that_carry_the_wet_dock_and_its_load(psf: float) -> None:
    laid = lay(Section("A", 192, 96), live_load_psf=psf)
    (level,) = laid.level
    assert level.net_lift_lb == len(laid.floats) * 600
    assert level.net_lift_lb >= level.dead_wet_lb + psf * 128
    (section,) = laid.spec.sections
    fewer = replace(section, flotation=Flotation(rows=section.flotation.rows, columns=section.flotation.columns - 1))
    with_fewer = lay(fewer, live_load_psf=psf)
    if section.flotation.columns > 2:
        assert {f.code for f in with_fewer.findings} & {"sinks", "low_tops"}
    assert "low_tops" not in {f.code for f in laid.findings}


def test_it_puts_three_rows_under_sections_wider_than_8_ft() -> None:
    assert lay(Section("A", 192, 96), live_load_psf=15).spec.sections[0].flotation.rows == 2
    assert lay(Section("A", 192, 120), live_load_psf=15).spec.sections[0].flotation.rows == 3


def test_it_turns_floats_that_do_not_fit_lengthwise() -> None:
    laid = lay(Section("A", 44, 96), live_load_psf=20)
    assert {(f.size_x_in, f.size_y_in) for f in laid.floats} == {(24, 48)}


def test_it_falls_back_to_one_row_under_a_narrow_section_and_says_it_tips() -> None:
    laid = lay(Section("A", 192, 40), live_load_psf=15)
    assert {f.y_in for f in laid.floats} == {20}
    assert "single_row" in {finding.code for finding in laid.findings}


def test_it_says_how_many_fit_and_how_many_are_needed() -> None:
    told = faults(Section("A", 96, 72), live_load_psf=90)["sections[0].flotation.item"]
    # By hand: 90 psf on 48 sq ft is 4,320 lb. Six floats of 600 lb fit in three rows of two; with a dock of more than
    # 300 lb it takes eight, for seven lift 4,200 lb.
    assert "6 of “Float 24x48x16” fit" in told and "4320 lb" in told and "takes 8 or more" in told


@pytest.mark.parametrize(
    ("flotation", "field"),
    [
        (Flotation(rows=2, columns=5), "columns"),
        (Flotation(columns=9), "columns"),
        (Flotation(rows=4), "rows"),
    ],
)
def test_it_refuses_more_floats_than_fit(flotation: Flotation, field: str) -> None:
    told = faults(Section("A", 192, 72, flotation=flotation))
    assert list(told) == [f"sections[0].flotation.{field}"]
    assert "do not fit under section A" in told[f"sections[0].flotation.{field}"]


def test_it_moves_the_inner_columns_toward_the_ramp() -> None:
    plain = lay(Section("A", 240, 72, flotation=Flotation(rows=2, columns=4)), live_load_psf=15)
    with_ramp = lay(Section("A", 240, 72, flotation=Flotation(rows=2, columns=4)), ramp=Ramp(96), live_load_psf=15)
    before = sorted({f.x_in for f in plain.floats})
    after = sorted({f.x_in for f in with_ramp.floats})
    assert (after[0], after[-1]) == (before[0], before[-1]) == (24, 216)
    assert all(b < a for a, b in zip(before[1:-1], after[1:-1], strict=True))
    assert not [f for f in with_ramp.findings if f.code == "bare_landing"]


@pytest.mark.parametrize("weight_at", [0, 60, 88, 95, 96, 97, 130, 192])
@pytest.mark.parametrize("count", [2, 3, 4])
def test_it_never_overlaps_columns_it_moves(weight_at: float, count: int) -> None:
    columns = spread_toward(192, 48, count, weight_at)
    steps = [b - a for a, b in pairwise(columns)]
    assert min(steps) >= 48 - 1e-9
    assert columns[0] >= 24 - 1e-9 and columns[-1] <= 168 + 1e-9


def test_it_slides_a_column_under_a_ramp_that_lands_on_the_side() -> None:
    section = Section("A", 240, 72, flotation=Flotation(rows=2, columns=2))
    laid = lay(section, ramp=Ramp(96, edge="left", offset_in=90), live_load_psf=10)
    assert any(abs(f.x_in - 90) <= f.size_x_in / 2 for f in laid.floats)


def test_it_says_when_no_float_is_under_the_landing() -> None:
    spots = tuple(FloatPlace(u, v) for u in (96, 160) for v in (12, 60))
    laid = lay(Section("A", 192, 72, flotation=Flotation(placed=spots)), ramp=Ramp(48), live_load_psf=10)
    assert "bare_landing" in {finding.code for finding in laid.findings}


def by_hand(*spots: FloatPlace) -> Section:
    return Section("A", 192, 72, flotation=Flotation(placed=spots))


@pytest.mark.parametrize(
    ("spot", "field", "says"),
    [
        (FloatPlace(20, 12), "u_in", "Float 3 sticks out 4 in past the shore edge of section A."),
        (FloatPlace(171, 12), "u_in", "Float 3 sticks out 3 in past the lake edge of section A."),
        (FloatPlace(168, 8), "v_in", "Float 3 sticks out 4 in past the right edge of section A."),
        (FloatPlace(168, 50, turned=True), "v_in", "Float 3 sticks out 2 in past the left edge of section A."),
        (FloatPlace(96, 30), "u_in", "Floats 1 and 3 of section A lie over each other by 6 in."),
    ],
)
def test_it_names_the_float_that_does_not_fit(spot: FloatPlace, field: str, says: str) -> None:
    told = faults(by_hand(FloatPlace(96, 12), FloatPlace(60, 60), spot))
    assert told == {f"sections[0].flotation.placed[2].{field}": says}


def test_it_takes_floats_side_by_side() -> None:
    laid = lay(by_hand(FloatPlace(24, 12), FloatPlace(72, 12), FloatPlace(24, 60), FloatPlace(72, 60)), live_load_psf=5)
    assert len(laid.floats) == 4


def test_it_allows_for_salt_water_lifting_more() -> None:
    # Common practice, no source: salt water carries about 2.5 % more. 64.0 against 62.4 lb/cu ft is 2.56 %.
    grid = Section("A", 192, 72, flotation=Flotation(rows=2, columns=3))
    fresh = lay(grid, live_load_psf=10).level[0]
    salt = lay(grid, live_load_psf=10, place=Place(water=Water("salt"))).level[0]
    gross = 6 * 646
    assert salt.net_lift_lb - fresh.net_lift_lb == pytest.approx(gross * (64.0 / 62.4 - 1), abs=1)
    assert salt.draft_wet_in == pytest.approx(fresh.draft_wet_in * 62.4 / 64.0, abs=0.01)


def test_it_takes_the_float_s_own_weight_off_a_gross_rating() -> None:
    gross = replace(float_item("gross", (48, 24, 16), 46, 646), lift_is_net=False)
    shop = replace(CATALOGUE, floats=CATALOGUE.floats | {"gross": gross})
    of = {
        code: lay(
            Section("A", 192, 72, flotation=Flotation(item=code, rows=2, columns=3)), catalogue=shop, live_load_psf=9
        )
        for code in ("gross", "24x48x16")
    }
    assert of["gross"].level[0].draft_wet_in == of["24x48x16"].level[0].draft_wet_in


def test_it_refuses_a_float_that_cannot_lift_itself() -> None:
    stone = replace(float_item("stone", (48, 24, 16), 700, 600), lift_is_net=False)
    shop = replace(CATALOGUE, floats={"24x48x16": stone})
    with pytest.raises(SpecFaults, match="does not lift its own weight"):
        lay(Section("A", 192, 72), catalogue=shop)
