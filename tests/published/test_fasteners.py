"""Fasteners in wood: NDS 2018 Table 12.2A (lags), Eq. 12.2-2 (wood screws), Table 12.3.1A (yield modes), and a solved
example of the American Wood Council."""

import pytest

from estimating.engine.structure.fasteners import (
    BOLT_YIELD_PSI,
    WET_CONNECTION,
    Lag,
    Lapped,
    bearing_along_psi,
    bolt_shear_lb,
    lag_withdrawal_lb,
    lag_withdrawal_lb_per_in,
    screw_withdrawal_lb_per_in,
    single_shear,
    size_in_name,
)

# NDS 2018, Table 12.2A, p. 77: pounds per inch of thread.
TABLE_12_2A = {
    0.55: {0.25: 260, 0.375: 352, 0.5: 437, 0.625: 516},
    0.50: {0.25: 225, 0.375: 305, 0.5: 378, 0.625: 447},
    0.43: {0.25: 179, 0.375: 243, 0.5: 302, 0.625: 357},
    0.42: {0.25: 173, 0.375: 235, 0.5: 291, 0.625: 344},
}


@pytest.mark.parametrize(
    ("gravity", "diameter", "printed"), [(g, d, lb) for g, row in TABLE_12_2A.items() for d, lb in row.items()]
)
def test_it_holds_lags_as_the_published_table(gravity: float, diameter: float, printed: int) -> None:
    assert round(lag_withdrawal_lb_per_in(gravity=gravity, diameter_in=diameter)) == printed


def test_it_holds_the_lag_of_the_solved_example() -> None:
    # AWC, Structural Wood Design Solved Example Problems, E2.3: 1/2 x 4 in, 1-1/2 in side member, Southern Pine.
    lag = Lag(0.5, 4)
    assert (lag.tip_in, lag.grip_in(1.5)) == (0.3125, 2.1875)
    assert lag_withdrawal_lb_per_in(gravity=0.55, diameter_in=0.5) == pytest.approx(436.6, abs=0.05)
    assert lag_withdrawal_lb(lag, gravity=0.55, through_in=1.5, wet=False) == pytest.approx(955, abs=0.5)


def test_it_holds_seven_tenths_of_it_in_wet_wood() -> None:
    # From memory: NDS Table 11.3.3.
    wet, dry = (lag_withdrawal_lb(Lag(0.5, 4), gravity=0.55, through_in=1.5, wet=wet) for wet in (True, False))
    assert wet / dry == pytest.approx(0.7) == WET_CONNECTION


@pytest.mark.parametrize(
    ("gravity", "diameter", "by_hand"),
    [
        (0.55, 0.164, 141),
        (0.55, 0.190, 164),
        (0.55, 0.216, 186),
        (0.42, 0.164, 82),
        (0.42, 0.190, 96),
        (0.42, 0.216, 109),
    ],
)
def test_it_holds_wood_screws_by_the_published_equation(gravity: float, diameter: float, by_hand: int) -> None:
    # The equation is published (Eq. 12.2-2); the figures were worked from it by calculator.
    withdrawn = screw_withdrawal_lb_per_in(gravity=gravity, diameter_in=diameter)
    assert withdrawn == pytest.approx(by_hand, abs=0.5)


@pytest.mark.parametrize(
    ("gravity", "diameter", "worked", "cells"),
    [
        (0.55, 0.50, (531, 335, 252), (530, 330, 250)),
        (0.55, 0.75, (796, 462, 305), (800, 460, 310)),
        (0.50, 0.50, (483, 298, 217), (480, 300, 220)),
        (0.50, 0.75, (725, 415, 269), (720, 420, 270)),
        (0.42, 0.50, (406, 243, 169), (410, 240, 170)),
    ],
)
def test_it_shears_bolts_as_table_12a_recalled_from_memory(gravity, diameter, worked, cells) -> None:
    # 1-1/2 in main and side member; the table prints to 10 lb, its cells are from memory.
    for across, lb, cell in zip(("none", "one", "both"), worked, cells, strict=True):
        shear = bolt_shear_lb(gravity=gravity, diameter_in=diameter, across=across)
        assert shear == pytest.approx(lb, abs=0.5)
        assert shear == pytest.approx(cell, abs=5.5)


def test_mode_two_governs_bolts_in_thin_members() -> None:
    along = bearing_along_psi(0.55)
    assert single_shear(Lapped(1.5, 1.5, along, along), diameter_in=0.5).mode == "II"


def test_thick_members_yield_the_bolt_itself() -> None:
    # Mode IV does not know how thick the members are: D^2 / Rd sqrt(2 Fem Fyb / 3 (1 + Re)), Re 1, Rd 3.2.
    along = bearing_along_psi(0.55)
    shear = single_shear(Lapped(9, 9, along, along), diameter_in=0.5)
    assert shear.mode == "IV"
    assert shear.lb == pytest.approx(0.25 / 3.2 * (along * BOLT_YIELD_PSI / 3) ** 0.5)


def test_changing_sides_changes_nothing() -> None:
    there = single_shear(Lapped(1.5, 3.5, 6160, 3626), diameter_in=0.5)
    back = single_shear(Lapped(3.5, 1.5, 3626, 6160), diameter_in=0.5)
    assert there.lb == pytest.approx(back.lb)


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("Carriage bolt 1/2 x 2-1/2 in, hot-dip galvanized", (0.5, 2.5)),
        ("Lag 3/8 x 4 in", (0.375, 4.0)),
        ("Machine bolt 3/4 × 12", (0.75, 12.0)),
        ("Structural screw 3 in", None),
        ("bolt", None),
        ("Plate 8 x 8", None),
    ],
)
def test_it_reads_a_fastener_by_its_name(name: str, size: tuple[float, float] | None) -> None:
    assert size_in_name(name) == size


@pytest.mark.parametrize("values", [(0, 0.5), (0.5, 0), (-0.5, 0.5)])
def test_it_refuses_fasteners_that_cannot_be(values: tuple[float, float]) -> None:
    gravity, diameter = values
    with pytest.raises(ValueError):
        lag_withdrawal_lb_per_in(gravity=gravity, diameter_in=diameter)
