"""How many boards cover a run, how wide the last one is, and which gap saves a narrow rip."""

from math import ceil

NARROW_RIP_IN = 2.0
GAPS_TRIED_IN = tuple(k / 16 for k in range(1, 7))  # what a spacer can be planed to
SLIM = 1e-6


def board_count(*, run_in: float, board_in: float, gap_in: float) -> int:
    """Boards to cover a run: run / (board + gap), up. Source: COMMON_PRACTICE.

    >>> board_count(run_in=192, board_in=5.5, gap_in=0.125)
    35
    """
    return max(1, ceil(run_in / (board_in + gap_in) - SLIM))


def last_width_in(*, run_in: float, board_in: float, gap_in: float) -> float:
    """Width to which the last board is ripped; the full width when it need not be. Source: GEOMETRY.

    >>> last_width_in(run_in=192, board_in=5.5, gap_in=0.125)
    0.75
    """
    before = board_count(run_in=run_in, board_in=board_in, gap_in=gap_in) - 1
    return min(board_in, run_in - before * (board_in + gap_in))


def better_gap_in(*, run_in: float, board_in: float, gap_in: float) -> float | None:
    """The gap nearest to the present one, in 1/16 in, that leaves a last board of 2 in or more; None if none does.

    >>> better_gap_in(run_in=192, board_in=5.5, gap_in=0.125)
    0.0625
    """
    for gap in sorted(GAPS_TRIED_IN, key=lambda tried: abs(tried - gap_in)):
        if last_width_in(run_in=run_in, board_in=board_in, gap_in=gap) >= NARROW_RIP_IN:
            return gap
    return None
