"""What lies on the stringers and between them: deck boards, cross members, and stringers that no float holds up.

A stringer off the floats either spans from header to header by itself, or the boards across it hang it on its
neighbours. Cross members are cut bay by bay, so they carry the deck only where the boards lie along the section.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from estimating.engine.frame_result import MemberCheck
from estimating.engine.reasons import Amount, Sentence, Step

from .factors import Service, repetitive_factor
from .fasteners import END_GRAIN_LATERAL, WET_CONNECTION, screw_shear_lb
from .rows import Asked, check_row, step
from .sections import Framed, Rest, Stock, carried_width_in, idle
from .stringers import SimpleSpan, simple_rows, strength_of, stringer_strength
from .values import is_wood

# IRC Table R507.7, boards square to their supports: least true thickness, most spacing, inches.
BOARD_SPACING_IN = ((1.4, 24.0), (0.9, 16.0))
BOARD_RATIO = 180.0
SCREW_GAUGE, SCREW_LENGTH_IN = 10, 3.0


def board_most_in(board: Stock, own_in: float | None) -> float | None:
    """The most between board supports, inches: the item's own figure, else the table's; None where neither says.

    Source: IRC_R507_7.

    >>> board_most_in(Stock("2x6", 1.5, 5.5, "southern pine", ""), None)
    24.0
    """
    if own_in is not None or not is_wood(board.species):
        return own_in
    return next((most for least, most in BOARD_SPACING_IN if board.thickness_in >= least), None)


def board_checks(framed: Framed) -> list[MemberCheck]:
    """Spacing against the board's table."""
    rows = []
    most = board_most_in(framed.board, framed.board_most_in)
    if most is not None:
        where = Sentence("supports as drawn")
        asked = Asked("board_span", "Deck boards, support spacing", where, framed.board_spacing_in, most, "in", True)
        rows.append(check_row(asked, "Supports no further apart than the board's table.", "IRC_R507_7", ()))
    return rows


def idle_checks(framed: Framed, held: Sequence[Rest]) -> list[MemberCheck]:
    """Stringers off the floats: by themselves from header to header, or hung on the boards."""
    numbers = idle(framed, held)
    if not numbers or not held:
        return []
    alone = _alone(framed, numbers)
    boards_hang_them = not framed.along and is_wood(framed.board.species)
    if boards_hang_them and any(row.utilisation > 1 for row in alone):
        return _hung(framed, held)
    return alone


def _alone(framed: Framed, numbers: Sequence[int]) -> list[MemberCheck]:
    width = max(carried_width_in(framed, number) for number in numbers)
    span = framed.length_in - framed.header.thickness_in
    simple = SimpleSpan(span, framed.dead_psf * width / 144, framed.live_psf * width / 144)
    named = ("idle", "Stringers off the floats, header to header")
    return simple_rows(framed, simple, stringer_strength(framed), named)


def _hung(framed: Framed, held: Sequence[Rest]) -> list[MemberCheck]:
    """Boards over the widest gap between stringers that float, or past the last of them."""
    at = [framed.centres_in[rest.number] for rest in held]
    between = max((there - here for here, there in pairwise(at)), default=0.0)
    past = max(at[0], framed.width_in - at[-1]) + framed.overhang_in
    board = framed.board
    service = Service(board.treatment, repetitive=repetitive_factor(count=3, spacing_in=board.depth_in), flat=True)
    strength = strength_of(board, service)
    load = (framed.dead_psf + framed.live_psf) * board.depth_in / 144
    moment = max(load * between**2 / 8, load * past**2 / 2)
    modulus = board.depth_in * board.thickness_in**2 / 6
    stiff = strength.own.e_psi * board.depth_in * board.thickness_in**3 / 12
    live = framed.live_psf * board.depth_in / 144
    sag = max((5 * live * between**4 / (384 * stiff), between), (live * past**4 / (8 * stiff), past))
    steps = (
        step("Between stringers that rest on floats", between, "in"),
        step("Past the last of them", past, "in"),
        *strength.steps,
    )
    where = Sentence("people on all of it")
    name = "Deck boards over stringers off the floats"
    bent = Asked("board_bending", f"{name}, bending", where, moment / modulus, strength.own.fb_psi, "psi")
    sagged = Asked("board_deflection", f"{name}, sag", where, sag[0], sag[1] / BOARD_RATIO, "in", True)
    rule = "The boards hang these stringers on those that float: boards laid flat, as simple beams."
    return [check_row(bent, rule, "NDS_FACTORS", steps), check_row(sagged, rule, "COMMON_PRACTICE", steps)]


def cross_checks(framed: Framed, screws: int) -> list[MemberCheck]:
    """Cross members under boards along: bending, shear, sag, and the screws in their ends."""
    if not framed.along:
        return []
    spans = [b - a for a, b in pairwise(framed.lines_in)]
    width = max(((a + b) / 2 for a, b in pairwise(spans)), default=framed.board_spacing_in)
    stock = framed.cross
    together = repetitive_factor(count=len(framed.lines_in), spacing_in=max(spans))
    strength = strength_of(stock, Service(stock.treatment, repetitive=together))
    simple = SimpleSpan(
        framed.spacing_in, framed.dead_psf * width / 144, framed.live_psf * width / 144, framed.heavy_lb
    )
    # A cross member is checked as a stringer of its own lumber.
    rows = simple_rows(replace(framed, stringer=stock), simple, strength, ("cross", "Cross members"), soft=False)
    end = _screwed(framed, simple, screws)
    return [*rows, end] if end is not None else rows


def _screwed(framed: Framed, simple: SimpleSpan, screws: int) -> MemberCheck | None:
    if not screws:
        return None
    gravity = strength_of(framed.cross, Service()).gravity
    one = screw_shear_lb(
        gravity=gravity, gauge=SCREW_GAUGE, length_in=SCREW_LENGTH_IN, side_in=framed.stringer.thickness_in
    )
    if one <= 0:
        return None
    steps = (
        Step(
            Sentence("One screw, taken as No. {0} × {1}", (str(SCREW_GAUGE), Amount(SCREW_LENGTH_IN, "in"))),
            Amount(round(one), "lb"),
        ),
        Step(Sentence("× in wet wood"), Amount(WET_CONNECTION, "")),
        Step(Sentence("× in end grain"), Amount(END_GRAIN_LATERAL, "")),
        Step(Sentence("Screws in an end"), Amount(screws, "count")),
    )
    holds = one * screws * WET_CONNECTION * END_GRAIN_LATERAL
    # The heavy point seldom stands at an end: half of it is the screws'.
    asked = max(simple.load_lb_per_in * simple.span_in / 2, framed.heavy_lb / 2)
    row = Asked("cross_end", "Screws in the ends of cross members", Sentence("people on all of it"), asked, holds, "lb")
    return check_row(row, "Screws in single shear, in wet end grain, against the load at the end.", "NDS_YIELD", steps)
