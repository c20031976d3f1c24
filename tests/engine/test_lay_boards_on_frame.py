from itertools import pairwise

import pytest

from estimating.engine.design import design
from estimating.engine.gaps import better_gap_in, board_count, last_width_in
from estimating.engine.spec import Decking, DockSpec, Joint, Ramp, Section
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM


def lay(*sections: Section, **more: object):
    return design(DockSpec("dock", sections, **({"live_load_psf": 20} | more)), CATALOGUE, FIRM)


def test_it_counts_boards_by_the_trade_rule() -> None:
    # Common practice, no source: boards per run = length / (5.5 + gap), up. 192 / 5.625 = 34.1.
    assert board_count(run_in=192, board_in=5.5, gap_in=0.125) == 35
    assert board_count(run_in=192, board_in=5.5, gap_in=0.25) == 34  # 33.4
    assert board_count(run_in=56.25, board_in=5.5, gap_in=0.125) == 10  # exactly ten boards and ten gaps


def test_it_rips_the_last_board_to_what_is_left() -> None:
    assert last_width_in(run_in=192, board_in=5.5, gap_in=0.125) == 192 - 34 * 5.625
    assert last_width_in(run_in=56.25, board_in=5.5, gap_in=0.125) == 5.5


@pytest.mark.parametrize("direction", ["across", "along"])
def test_it_covers_the_deck_from_end_to_end(direction: str) -> None:
    laid = lay(Section("A", 180, 70, decking=Decking(direction=direction)))
    (boards,) = laid.boards
    run, length = (180, 70) if direction == "across" else (70, 180)
    assert boards.length_in == length
    assert boards.edges_in[0][0] == 0 and run - 0.125 <= boards.edges_in[-1][1] <= run
    gaps = [b[0] - a[1] for a, b in pairwise(boards.edges_in)]
    assert gaps == pytest.approx([0.125] * (boards.count - 1))


def test_it_says_what_cures_a_narrow_last_board() -> None:
    laid = lay(Section("A", 192, 72, decking=Decking(gap_in=0.125)))
    (finding,) = [f for f in laid.findings if f.code == "narrow_rip"]
    assert finding.level == "check"
    cured = better_gap_in(run_in=192, board_in=5.5, gap_in=0.125)
    again = lay(Section("A", 192, 72, decking=Decking(gap_in=cured)))
    assert again.boards[0].last_width_in >= 2
    assert not [f for f in again.findings if f.code == "narrow_rip"]


def test_it_picks_a_gap_without_a_narrow_rip_when_none_is_typed() -> None:
    laid = lay(Section("A", 192, 72))
    assert laid.spec.sections[0].decking.gap_in == better_gap_in(run_in=192, board_in=5.5, gap_in=0.125)
    assert not [f for f in laid.findings if f.code == "narrow_rip"]


def test_it_adds_the_overhang_to_both_ends_of_a_board() -> None:
    (boards,) = lay(Section("A", 96, 72, decking=Decking(overhang_in=1))).boards
    assert boards.length_in == 74
    assert (boards.x0_in, boards.y0_in, boards.x1_in, boards.y1_in) == (0, -1, 96, 73)


def test_it_warns_where_an_overhang_runs_into_the_neighbour() -> None:
    over = Decking(overhang_in=0.5)
    end_to_end = lay(Section("A", 96, 72, decking=over), Section("B", 96, 72, x_in=96))
    side_by_side = lay(Section("A", 96, 72, decking=over), Section("B", 96, 72, y_in=72))
    assert "overhang_at_joint" not in {f.code for f in end_to_end.findings}
    assert "overhang_at_joint" in {f.code for f in side_by_side.findings}


def test_it_lets_boards_along_rest_on_headers_and_cross_members() -> None:
    laid = lay(Section("A", 180, 72, decking=Decking(direction="along")))
    lines = {piece.x0_in for piece in laid.pieces if piece.role == "cross member"}
    assert laid.boards[0].supports_crossed == len(lines) + 2
    assert laid.boards[0].support_spacing_in <= 16


def test_it_boards_the_ramp_on_its_own() -> None:
    laid = lay(Section("A", 180, 72), Section("B", 96, 72, x_in=180), joints=(Joint("A", "B"),), ramp=Ramp(120, 48))
    ramp = laid.boards[-1]
    assert ramp.section == "ramp"
    assert (ramp.length_in, ramp.count) == (48, board_count(run_in=120, board_in=5.5, gap_in=0.125))
    assert ramp.support_spacing_in <= 16
