"""Packing cuts into stock lengths, against instances whose optimum and first-fit-decreasing answers are known."""

from collections import Counter
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.packing import KERF_IN, Stock, pack

CATALOGUE, _ = starter_catalogue()
STARTER = [Stock(s.length_in, s.price.amount) for s in CATALOGUE.lumber["2x8"].sticks]


def pieces(*counts: tuple[float, int]) -> list[tuple[str, float]]:
    return [(f"{length}", length) for length, count in counts for _ in range(count)]


def sticks(cuts, stock) -> Counter:
    return Counter(s.stock_length_in for s in pack(cuts, stock).sticks)


def test_two_pieces_take_one_cut_and_fill_the_stick():
    # 95.75 + 1/8 + 95.75 = 191.625: ten pieces from five 16 ft sticks; computed optimum 5.
    assert sticks(pieces((95.75, 10)), [Stock(192, Decimal(1))]) == {192: 5}


def test_it_never_beats_the_optimum_and_meets_first_fit_decreasing():
    # 192 in, kerf 1/8: 93 x 12, 57 x 9, 45 x 14, 29 x 10. Computed: optimum 14, first fit decreasing 15.
    bought = sticks(pieces((93, 12), (57, 9), (45, 14), (29, 10)), [Stock(192, Decimal(1))])
    assert 14 <= bought[192] <= 15


# The instance "cut" of Fourer, Gay and Kernighan, AMPL: stock 110; optimum 47, first fit decreasing 47.
AMPL = (110, ((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)))
# The instance of the encyclopedia article "Cutting stock problem": stock 5600; optimum 73, first fit decreasing 82.
PAPER = (
    5600,
    (
        *((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20)),
        *((2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)),
    ),
)


@pytest.mark.parametrize(("instance", "optimum", "first_fit"), [(AMPL, 47, 47), (PAPER, 73, 82)])
def test_it_lies_between_the_optimum_and_first_fit_decreasing(instance, optimum, first_fit):
    stock_in, counts = instance
    # These have no kerf: taking it off stock and pieces alike leaves their sums as published.
    cuts = pieces(*((length - KERF_IN, count) for length, count in counts))
    bought = sticks(cuts, [Stock(stock_in - KERF_IN, Decimal(1))])
    assert optimum <= bought.total() <= first_fit


def test_half_a_stick_is_lost_to_the_kerf():
    assert sticks(pieces((72, 2)), [Stock(144, Decimal(1))]) == {144: 2}


def test_a_shop_may_trust_sticks_to_run_long():
    assert sticks(pieces((72, 2)), [Stock(144, Decimal(1), over_in=0.25)]) == {144: 1}


def test_it_takes_the_stock_that_costs_least_for_what_it_holds():
    stock = [Stock(96, Decimal(12)), Stock(192, Decimal(26)), Stock(240, Decimal(38))]
    assert sticks(pieces((90, 3)), stock) == {96: 3}  # 36, against 12 + 26
    cheaper = [Stock(96, Decimal(12)), Stock(192, Decimal(20)), Stock(240, Decimal(38))]
    assert sticks(pieces((90, 3)), cheaper) == {96: 1, 192: 1}  # 32, against 36


def test_a_piece_as_long_as_the_stick_fits_and_a_longer_one_is_handed_back():
    packing = pack([("rim", 192.0), ("long rim", 192.25)], [Stock(192, Decimal(1))])
    assert [s.cuts for s in packing.sticks] == [(("rim", 192.0),)]
    assert packing.too_long == (("long rim", 192.25),)


def test_no_stock_at_all_hands_everything_back():
    assert pack([("rim", 96.0)], []).too_long == (("rim", 96.0),)


def test_a_piece_of_no_length_is_refused():
    with pytest.raises(ValueError):
        pack([("rim", 0.0)], STARTER)


LENGTHS = st.lists(st.integers(16, 240 * 16).map(lambda sixteenths: sixteenths / 16), min_size=1, max_size=40)


@given(LENGTHS)
def test_every_piece_is_sawn_once_and_every_stick_can_give_what_it_is_asked(lengths):
    cuts = [(f"{n}", length) for n, length in enumerate(lengths)]
    packing = pack(cuts, STARTER)
    sawn = [cut for stick in packing.sticks for cut in stick.cuts]
    assert sorted(sawn) == sorted(cuts)
    for stick in packing.sticks:
        used = sum(length for _, length in stick.cuts) + KERF_IN * (len(stick.cuts) - 1)
        assert used <= stick.stock_length_in + 1e-6
        assert stick.left_in == pytest.approx(stick.stock_length_in - used, abs=1e-5)


@given(st.integers(1, 60), st.integers(10 * 16, 240 * 16).map(lambda sixteenths: sixteenths / 16))
def test_one_board_more_never_costs_less(count, length):
    def cost(n: int) -> Decimal:
        prices = {stock.length_in: stock.cost for stock in STARTER}
        return sum(prices[stick.stock_length_in] for stick in pack(pieces((length, n)), STARTER).sticks)

    assert cost(count) <= cost(count + 1)
