"""The cut list: what to cut from each stick, in order, sticks cut alike once, what goes back to the yard."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import groupby
from typing import Any

from django.template.loader import render_to_string

from contractor.company.current import firm
from contractor.pdf import render_pdf
from estimating.engine.cutting import Alike, CutPlan, Piece

TEMPLATE = "print/cut_list.html"
STYLES = ("css/print.css", "css/cut-list.css")


@dataclass(frozen=True, slots=True)
class Length:
    """So many of one length."""

    length_in: float
    count: int


@dataclass(frozen=True, slots=True)
class Cut:
    """So many pieces of one length in a row from each stick, and all the marks they carry over the whole group."""

    length_in: float
    count: int
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """Sticks cut alike: make so many. `left_in` None: nothing worth telling is left."""

    times: int
    stock_in: float
    offcut: bool
    cuts: tuple[Cut, ...]
    left_in: float | None
    kept: bool


@dataclass(frozen=True, slots=True)
class NoStick:
    """A piece that cannot be cut: its length and mark, and the longest stick (None: no stock, or it ran out)."""

    length_in: float
    mark: str
    longest_in: float | None
    ran_out: bool


@dataclass(frozen=True, slots=True)
class CutPage:
    """One lumber item."""

    name: str
    to_buy: tuple[Length, ...]
    from_yard: tuple[Length, ...]
    rows: tuple[Row, ...]
    to_yard: tuple[Length, ...]
    missing: tuple[NoStick, ...]
    pieces: int
    words: str  # how good the plan is
    kinds: int
    fewest: bool
    whole: tuple[Length, ...]  # bought, and not cut


def cut_list(name: str, plan: CutPlan, *, pooled: bool = False, whole: Sequence[tuple[Fraction, int]] = ()) -> CutPage:
    """A plan as the saw reads it; `pooled` puts the job's number before each mark."""
    missing = [
        NoStick(float(one.piece.length_in), _mark(one.piece, pooled), _float(one.longest_in), False)
        for one in plan.too_long
    ]
    missing += [NoStick(float(piece.length_in), _mark(piece, pooled), None, True) for piece in plan.short]
    return CutPage(
        name=name,
        to_buy=_lengths(plan.to_buy),
        from_yard=_lengths(plan.from_yard),
        rows=tuple(_row(group, pooled) for group in plan.groups),
        to_yard=_lengths(plan.to_yard),
        missing=tuple(dict.fromkeys(missing)),
        pieces=sum(len(group.lengths) * group.times for group in plan.groups),
        words=plan.words,
        kinds=len(plan.groups),
        fewest=plan.fewest,
        whole=_lengths(whole),
    )


def _float(length: Fraction | None) -> float | None:
    return None if length is None else float(length)


def _lengths(counted: Sequence[tuple[Fraction, int]]) -> tuple[Length, ...]:
    return tuple(Length(float(length), count) for length, count in counted)


def _row(group: Alike, pooled: bool) -> Row:
    cuts, place = [], 0
    for length, run in groupby(group.lengths):
        count = len(list(run))
        pieces = [piece for stick in group.sticks for piece in stick.pieces[place : place + count]]
        cuts.append(Cut(float(length), count, marks_said(pieces, pooled)))
        place += count
    left = float(group.left_in)
    return Row(group.times, float(group.stock.length_in), group.stock.offcut, tuple(cuts), left or None, group.kept)


def marks_said(pieces: Sequence[Piece], pooled: bool) -> tuple[str, ...]:
    """The marks of pieces cut alike, each with how many; `pooled` names the job once: '26-001: 2 × A c', '2 × B c'."""
    counted = Counter((piece.job, _mark(piece)) for piece in pieces)
    said, last = [], ""
    for (job, mark), count in counted.items():
        said.append(f"{job}: {count} × {mark}" if pooled and job != last else f"{count} × {mark}")
        last = job
    return tuple(said)


def _mark(piece: Piece, pooled: bool = False) -> str:
    words = (piece.job if pooled else "", piece.section, piece.mark)
    return " ".join(word for word in words if word)


@dataclass(frozen=True, slots=True)
class Head:
    """What stands above the list: the jobs, the letters of their specs, whether all are signed, when, and the kerf."""

    jobs: tuple[Any, ...]
    letter: str
    sold: bool
    at: datetime
    kerf_in: float


def cut_list_pdf(pages: Sequence[CutPage], head: Head) -> bytes:
    """The paper for the saw."""
    named = firm()
    html = render_to_string(TEMPLATE, {"pages": pages, "head": head, "firm": named})
    return render_pdf(html, stylesheets=STYLES, page_size=named.paper if named else "letter")
