"""Cutting plans against instances whose optimum is known, and the saw's own arithmetic."""

from collections import Counter
from decimal import Decimal
from fractions import Fraction

import pytest

from estimating.engine.cutting import Piece, ShopRules, StockLength, exact_in, plan_cuts, yard_offcut
from tests.cutting.brute import BARE, pieces, sticks

ONE = Decimal(1)

# Fourer, Gay, Kernighan, AMPL: the instance "cut"; LP bound 46.25.
AMPL = (110, BARE, ((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)), 47)
# Encyclopedia article "Cutting stock problem": 5600 mm; LP bound 72.917, first fit decreasing takes 82.
PAPER = (
    5600,
    BARE,
    (
        *((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20)),
        *((2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)),
    ),
    73,
)
# Furniture lumber textbook exercise, from memory; optimum computed by full enumeration: LP bound 18.333.
FURNITURE = (17, BARE, ((3, 25), (5, 20), (9, 15)), 19)
# Computed by full enumeration and integer programming: 192 in, kerf 1/8.
HALVES = (192, ShopRules(), ((95.75, 10),), 5)
# As above: LP bound 13.70; first fit decreasing takes 15.
MIXED = (192, ShopRules(), ((93, 12), (57, 9), (45, 14), (29, 10)), 14)


@pytest.mark.parametrize(
    ("length", "rules", "counts", "optimum"),
    [AMPL, PAPER, FURNITURE, HALVES, MIXED],
    ids=["ampl", "paper", "furniture", "halves", "mixed"],
)
def test_it_takes_the_known_fewest_sticks_and_proves_it(length, rules, counts, optimum) -> None:
    plan = plan_cuts(pieces(*counts), sticks((length, "1")), rules)
    assert len(plan.sticks) == plan.cost == plan.least_cost == optimum
    assert plan.proven
    assert plan.words == "the least possible"


def test_it_wastes_as_little_of_the_paper_as_is_published() -> None:
    # The same article gives the waste of its optimum as 0.401 %.
    length, rules, counts, _ = PAPER
    plan = plan_cuts(pieces(*counts), sticks((length, "1")), rules)
    cut = sum(piece.length_in for stick in plan.sticks for piece in stick.pieces)
    assert float(1 - cut / (length * len(plan.sticks))) == pytest.approx(0.00401, abs=5e-6)


@pytest.mark.parametrize(
    ("length", "count", "bought"),
    [
        ("95.9375", 2, 1),  # 2 x 95 15/16 + one kerf of 1/8 = 192: one cut, and it fills the stick
        ("95 31/32", 2, 2),  # a thirty-second longer and it does not
        ("191.9", 1, 1),
        ("63 11/12", 3, 1),  # thirds of an inch are exact too: 3 x 63 11/12 + 2/8 = 192
        ("63 59/64", 3, 2),
    ],
)
def test_it_counts_the_kerf_to_the_last_hair(length: str, count: int, bought: int) -> None:
    exact = sum(Fraction(part) for part in length.split())
    plan = plan_cuts([Piece(str(n), exact) for n in range(count)], sticks((192, "1")))
    assert len(plan.sticks) == bought


def test_it_reads_floats_as_the_ruler_marks_they_stand_for() -> None:
    assert exact_in(0.1 + 0.2 + 0.2) == Fraction(1, 2)
    assert exact_in(2438.5 / 25.4) == Fraction(24385, 254)
    assert exact_in(10 + 1 / 3) == Fraction(662, 64)  # on no ruler: the next 64th up, never down


def test_it_buys_the_cheapest_lengths_not_the_fewest() -> None:
    # By hand: six of 6 ft. Three 12s at 9 cost 27; two 18s at 12 cost 24; one 36 does not exist.
    plan = plan_cuts(pieces((72, 6)), sticks((144, "9"), (216.25, "12")))
    assert plan.to_buy == ((Fraction(865, 4), 2),)
    assert plan.cost == plan.least_cost == 24
    # Dearer long sticks: the short ones win, and the last stick is no longer than it must be.
    plan = plan_cuts(pieces((72, 5)), sticks((72, "5"), (145, "9"), (216.25, "15")))
    assert plan.to_buy == ((Fraction(145), 2), (Fraction(72), 1))
    assert plan.cost == 23


def test_it_cuts_limited_stock_no_further_than_it_goes() -> None:
    stock = [StockLength(Fraction(100), Decimal(1), limit=2), StockLength(Fraction(100), Decimal(5))]
    plan = plan_cuts(pieces((60, 4)), stock)
    assert plan.cost == 1 + 1 + 5 + 5
    assert plan.proven


def test_it_names_the_pieces_limited_stock_runs_out_for() -> None:
    plan = plan_cuts(pieces((60, 3), (30, 1)), [StockLength(Fraction(100), ONE, limit=2)])
    assert [piece.length_in for piece in plan.short] == [60]
    assert sorted(p.length_in for stick in plan.sticks for p in stick.pieces) == [30, 60, 60]
    assert plan.cost == 2


def test_it_names_a_piece_longer_than_every_stick_with_the_longest() -> None:
    long = Piece("A rim 1", Fraction(193), job="1042")
    plan = plan_cuts([long, *pieces((90, 1))], sticks((120, "1"), (192, "2")))
    [told] = plan.too_long
    assert (told.piece, told.longest_in) == (long, 192)
    assert plan.cost == 1
    assert plan_cuts([long], []).too_long[0].longest_in is None


def test_it_cuts_yard_offcuts_first_when_the_firm_says_so() -> None:
    stock = [*sticks((96, "8")), yard_offcut(Fraction(50), 3)]
    plan = plan_cuts(pieces((45, 4)), stock)
    assert plan.from_yard == ((Fraction(50), 3),) or plan.cost == 8
    assert plan.cost == 8  # two from one stick, two from offcuts
    assert plan_cuts(pieces((45, 4)), stock, ShopRules(offcuts_first=False)).cost == 16


def test_it_trusts_over_length_of_new_sticks_only_as_far_as_the_firm_does() -> None:
    two_of_six_feet = pieces((72, 2))
    assert plan_cuts(two_of_six_feet, sticks((144, "1"))).cost == 2
    trusting = ShopRules(over_in=Fraction(1, 4))
    assert plan_cuts(two_of_six_feet, sticks((144, "1")), trusting).cost == 1
    # An offcut was measured when it was put away.
    plan = plan_cuts(two_of_six_feet, [yard_offcut(Fraction(144)), *sticks((72, "7"))], trusting)
    assert plan.cost == 7


def test_it_squares_the_end_of_every_new_stick() -> None:
    trimming = ShopRules(end_trim_in=Fraction(1, 2))
    assert plan_cuts(pieces((191.5, 1)), sticks((192, "1")), trimming).cost == 1
    assert plan_cuts(pieces((191.625, 1)), sticks((192, "1")), trimming).too_long


def test_it_takes_an_unquoted_length_only_where_no_quoted_one_is_long_enough() -> None:
    stock = [*sticks((96, "8")), StockLength(Fraction(192), None), StockLength(Fraction(240), None)]
    plan = plan_cuts(pieces((150, 1), (40, 2)), stock)
    assert plan.to_buy == ((Fraction(192), 1), (Fraction(96), 1))
    assert plan.unpriced
    assert plan.cost == 8


def test_it_keeps_offcuts_from_the_length_the_firm_keeps() -> None:
    plan = plan_cuts(pieces((155.875, 1), (156, 1)), sticks((192, "1")))
    # 192 - 155 7/8 - 1/8 = 36 goes back; 192 - 156 - 1/8 is under 3 ft.
    assert plan.to_yard == ((Fraction(36), 1),)
    assert [stick.kept for stick in plan.sticks].count(True) == 1
    assert plan_cuts(pieces((100, 1)), sticks((192, "1")), ShopRules(keep_from_in=Fraction(93))).to_yard == ()


def test_it_groups_identical_sticks_longest_piece_first_and_hands_marks_out_once() -> None:
    wanted = [Piece(f"S{n}", Fraction(100), job="1042", section="A") for n in range(8)]
    wanted += [Piece(f"C{n}", Fraction(90), job="1043", section="B") for n in range(8)]
    plan = plan_cuts(reversed(wanted), sticks((192, "1")))
    [group] = plan.groups
    assert group.times == 8
    assert group.lengths == (100, 90)
    assert [stick.pieces[0].mark for stick in group.sticks] == [f"S{n}" for n in range(8)]
    assert Counter(piece for stick in plan.sticks for piece in stick.pieces) == Counter(wanted)


def test_it_does_not_care_in_which_order_it_is_told() -> None:
    wanted = pieces((93, 5), (57, 4), (45, 7), (29, 3))
    stock = sticks((120, "7"), (192, "11"), (240, "15"))
    assert plan_cuts(wanted, stock) == plan_cuts(wanted[::-1], stock[::-1])


def test_it_refuses_a_piece_of_no_length() -> None:
    with pytest.raises(ValueError, match="longer than zero"):
        Piece("x", Fraction(0))


def test_it_says_what_it_rests_on() -> None:
    reason = plan_cuts(pieces((93, 4)), sticks((192, "1"))).reason
    assert reason.rule.say() == "Cheapest sticks for the pieces, 0.125 in lost per cut; then fewest different sticks."
    assert [(step.label.say(), str(step.amount)) for step in reason.steps] == [
        ("sticks of 192 in", "2"),
        ("pieces", "4"),
        ("length cut", "372 in"),
        ("length of the sticks", "384 in"),
    ]
