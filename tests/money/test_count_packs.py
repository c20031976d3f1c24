"""From a design put together by hand to lines to order. Counts are common practice, added up in the tests."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.parts import Catalogue
from estimating.engine.result import Takeoff, TakeoffLine
from estimating.engine.takeoff import takeoff

from .designs import accessories, anchors, bare_design, boards, floats, joints, piece, with_parts

D = Decimal
CATALOGUE, _ = starter_catalogue()
CORNER = "Corner of a dock over 12 ft: inside and outside plate on the same bolts"
TEE = "Stringer into a header: tee plate with backer"
CORNERS = joints("outer_corner", 4, CORNER, (("inside-corner", 1), ("outside-corner", 1)), bolts=8)
TEES = joints("tee", 4, TEE, (("tee-plate", 1), ("backer", 1)), bolts=4)


def line(bought: Takeoff, code: str, pack: str | None = None) -> TakeoffLine:
    [found] = [one for one in bought.lines if one.code == code and pack in (None, one.pack)]
    return found


def with_lumber(catalogue: Catalogue, code: str, **changes: object) -> Catalogue:
    item = replace(catalogue.lumber[code], **changes)
    return replace(catalogue, lumber={**catalogue.lumber, code: item})


def steps(one: TakeoffLine) -> list[str]:
    return [f"{step.label}: {step.amount}" for step in one.reason.steps]


def test_four_corners_and_four_tees_take_48_bolts_and_say_why():
    # 6 x 16 ft, four stringers: 4 corners x 8 shared + 4 tees x 4. Common practice, no source.
    bolts = line(takeoff(with_parts(joints=(*CORNERS, *TEES)), CATALOGUE), "bolt-2-1/2")
    assert bolts.net == 48
    assert (bolts.pack, bolts.packs, bolts.bought, bolts.left_over) == ("box of 25", 2, 50, 2)
    assert steps(bolts) == ["4 × outer corner, 8 each: 32", "4 × tee, 4 each: 16", "Net need: 48"]


def test_every_bolt_takes_a_lock_washer_and_a_nut():
    bought = takeoff(with_parts(joints=(*CORNERS, *TEES)), CATALOGUE)
    assert [line(bought, code).net for code in ("lock-washer", "nut")] == [48, 48]


def test_mated_plates_are_counted_by_joint():
    bought = takeoff(with_parts(joints=(*CORNERS, *TEES)), CATALOGUE)
    counts = {code: line(bought, code).net for code in ("inside-corner", "outside-corner", "tee-plate", "backer")}
    assert counts == {"inside-corner": 4, "outside-corner": 4, "tee-plate": 4, "backer": 4}


def test_a_ramp_on_two_hinge_kits_takes_32_bolts():
    # Common practice, no source.
    rule = "Ramp on the dock: two hinge kits with backers"
    hinge = joints("ramp_dock_end", 1, rule, (("hinge-kit", 2), ("backer", 4)), bolts=32)
    bought = takeoff(with_parts(joints=tuple(hinge)), CATALOGUE)
    assert (line(bought, "bolt-2-1/2").net, line(bought, "hinge-kit").net) == (32, 2)


def test_deck_screws_are_counted_by_crossing_with_waste_on_top():
    run = boards(35, 72.0)
    screws = joints("board_crossing", 1, "Deck board over a support: two screws", (("deck-screw-2-1/2", 280),))
    one = line(takeoff(with_parts(boards=(run,), joints=tuple(screws)), CATALOGUE), "deck-screw-2-1/2")
    # 35 boards x 4 supports x 2 screws = 280, and 10 % more
    assert (one.net, one.with_waste, one.packs) == (280, 308, 1)
    assert steps(one) == ["140 × board over a support, 2 each: 280", "Net need: 280"]


def test_every_float_brings_its_lags_and_large_washers():
    bought = takeoff(with_parts(floats=floats(6)), CATALOGUE)
    assert line(bought, "float-24x48x16").packs == 6
    assert [line(bought, code).net for code in ("lag-4", "washer-large")] == [48, 48]


def test_chain_is_bought_by_the_drum_and_used_by_the_foot():
    bought = takeoff(with_parts(anchors=anchors(4, chain_in=318.0)), CATALOGUE)
    chain = line(bought, "chain-5/16")
    assert (chain.net, chain.unit, chain.pack, chain.packs) == (106, "ft", "drum of 100 ft", 2)
    assert chain.left_over == 94
    assert line(bought, "shackle").net == 4


def test_an_accessory_brings_its_fixings():
    bought = takeoff(with_parts(accessories=accessories("cleat", 3)), CATALOGUE)
    counts = {code: line(bought, code).net for code in ("cleat", "bolt-6", "nut", "backer")}
    assert counts == {"cleat": 3, "bolt-6": 6, "nut": 6, "backer": 3}


def test_lumber_comes_as_whole_sticks_by_length():
    frame = tuple(piece(192.0) for _ in range(4)) + tuple(piece(69.0, role="header") for _ in range(2))
    bought = takeoff(with_parts(pieces=frame), with_lumber(CATALOGUE, "2x8", waste_percent=D(0)))
    sixteen, twelve = line(bought, "2x8", "16 ft stick"), line(bought, "2x8", "12 ft stick")
    assert (sixteen.net, sixteen.packs, sixteen.cost) == (64, 4, D("104.00"))
    # two headers of 69 in and a cut fit one 12 ft stick
    assert (twelve.net, twelve.packs, twelve.left_over) == (D("11.5"), 1, D("0.5"))
    assert "2 × header, 69 in: 11.5 ft" in steps(sixteen)


def test_waste_buys_spare_sticks_only_where_the_drop_does_not_cover_it():
    frame = tuple(piece(192.0) for _ in range(4))
    # 64 ft and 10 % more is 70.4 ft: four sticks of 16 ft are not enough
    bought = takeoff(with_parts(pieces=frame), with_lumber(CATALOGUE, "2x8", waste_percent=D(10)))
    assert line(bought, "2x8", "16 ft stick").packs == 5
    assert [stick.cuts for _, stick in bought.sticks if not stick.cuts] == [()]
    # two pieces of 100 in leave 92 in on each 16 ft stick: far more than a tenth
    roomy = takeoff(with_parts(pieces=(piece(100.0),) * 2), with_lumber(CATALOGUE, "2x8", waste_percent=D(10)))
    assert all(stick.cuts for _, stick in roomy.sticks)


def test_the_materials_cost_is_the_sum_of_its_lines():
    bought = takeoff(with_parts(joints=(*CORNERS, *TEES), floats=floats(6), pieces=(piece(192.0),)), CATALOGUE)
    assert bought.materials_cost == sum(one.cost for one in bought.lines)
    assert all(one.cost == one.packs * one.unit_cost for one in bought.lines)


def test_lines_are_grouped_and_staged():
    design = with_parts(
        pieces=(piece(192.0),), boards=(boards(3, 72.0),), floats=floats(2), joints=tuple(CORNERS), anchors=anchors(2)
    )
    order = [(one.group, one.stage) for one in takeoff(design, CATALOGUE).lines]
    groups = ["framing lumber", "decking", "floats", "hardware", "fasteners", "anchors and chain"]
    assert list(dict.fromkeys(group for group, _ in order)) == groups
    assert dict(order)["decking"] == "decking" and dict(order)["floats"] == "flotation"


def test_an_item_used_in_two_stages_is_needed_at_the_first():
    retainer = joints(
        "chain_retainer", 2, "Chain retainer with backer", (("chain-retainer", 1), ("backer", 1)), bolts=4
    )
    alone = takeoff(with_parts(joints=tuple(retainer)), CATALOGUE)
    with_frame = takeoff(with_parts(joints=(*retainer, *CORNERS)), CATALOGUE)
    assert line(alone, "bolt-2-1/2").stage == "anchoring"
    assert line(with_frame, "bolt-2-1/2").stage == "framing"
    assert line(with_frame, "bolt-2-1/2").net == 40


def test_nothing_to_buy_costs_nothing():
    assert takeoff(bare_design(), CATALOGUE) == Takeoff((), (), D("0.00"), ())


QUANTITIES = st.tuples(st.integers(0, 30), st.integers(0, 60), st.integers(0, 40), st.integers(0, 12))


@settings(max_examples=60)
@given(QUANTITIES, st.integers(0, 3))
def test_one_more_of_anything_never_costs_less(counts, which):
    def cost(numbers: tuple[int, ...]) -> Decimal:
        float_count, board_count, cleat_count, anchor_count = numbers
        design = with_parts(
            floats=floats(float_count),
            boards=(boards(board_count, 72.0),) if board_count else (),
            accessories=accessories("cleat", cleat_count) if cleat_count else (),
            anchors=anchors(anchor_count),
        )
        return takeoff(design, CATALOGUE).materials_cost

    more = tuple(count + (place == which) for place, count in enumerate(counts))
    assert cost(counts) <= cost(more)


@given(st.lists(st.integers(1, 400), min_size=1, max_size=5))
def test_what_is_bought_covers_the_need_by_less_than_one_pack(bolt_counts):
    found = [j for n, bolts in enumerate(bolt_counts) for j in joints("tee", 1, TEE, (("backer", n + 1),), bolts=bolts)]
    for one in takeoff(with_parts(joints=tuple(found)), CATALOGUE).lines:
        assert one.net <= one.with_waste <= one.bought
        assert one.bought - one.with_waste < one.bought / one.packs


@pytest.mark.parametrize("length_in", [240.25, 300.0])
def test_a_piece_longer_than_any_stick_stops_the_quote(length_in):
    [finding] = [f for f in takeoff(with_parts(pieces=(piece(length_in),)), CATALOGUE).findings if f.level == "stop"]
    assert finding.code == "no_stick_long_enough"
    assert f"{length_in:g} in" in str(finding.headline) and "240 in" in str(finding.headline)
