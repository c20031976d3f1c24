"""PS 20 as tabulated in the NDS Supplement, Tables 1A and 1B; board feet from estimating textbooks."""

import pytest

from estimating.engine.lumber import board_feet, dressed_size_in


@pytest.mark.parametrize(
    ("nominal", "dressed"),
    [
        ("2x4", (1.5, 3.5)),
        ("2x6", (1.5, 5.5)),
        ("2x8", (1.5, 7.25)),
        ("2x10", (1.5, 9.25)),
        ("2x12", (1.5, 11.25)),
        ("3x8", (2.5, 7.25)),
        ("4x4", (3.5, 3.5)),
        ("6x6", (5.5, 5.5)),
    ],
)
def test_it_dresses_lumber_to_the_published_sizes(nominal: str, dressed: tuple[float, float]) -> None:
    assert dressed_size_in(nominal) == dressed


def test_it_keeps_timbers_and_dimension_lumber_apart() -> None:
    # NDS Supplement: a 6x8 timber is 5.5 x 7.5, while a 2x8 is 7.25 wide.
    assert dressed_size_in("6x8") == (5.5, 7.5)


def test_it_dresses_five_quarter_boards_from_memory() -> None:
    # From memory: 5/4 decking is 1 in thick. Its 5.5 in width is published.
    assert dressed_size_in("5/4x6") == (1.0, 5.5)


@pytest.mark.parametrize("nonsense", ["", "2x", "2x7", "7", "1.5x3.5", "8x6", "-2x4"])
def test_it_refuses_sizes_nobody_sells(nonsense: str) -> None:
    with pytest.raises(ValueError):
        dressed_size_in(nonsense)


@pytest.mark.parametrize(
    ("thickness", "width", "feet", "pieces", "published"),
    [
        (2, 4, 8, 1, 5.33),  # construction estimating lecture slides, CON 4003
        (2, 10, 20, 100, 3333.33),  # Fundamentals of Construction Estimating, 4th ed., p. 225 (prints 3,333)
        (2, 12, 2000, 1, 4000),  # rough carpentry estimating notes
    ],
)
def test_it_counts_board_feet_as_published(
    thickness: float, width: float, feet: float, pieces: int, published: float
) -> None:
    counted = board_feet(thickness_in=thickness, width_in=width, length_ft=feet, pieces=pieces)
    assert counted == pytest.approx(published, abs=0.005)


def test_it_refuses_lumber_below_zero() -> None:
    with pytest.raises(ValueError):
        board_feet(thickness_in=2, width_in=4, length_ft=-1)
