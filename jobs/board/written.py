"""The home page in HTML. A line is written once for as long as it says the same."""

from collections.abc import Callable, Iterable
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from jobs.board.facts import Board, Row
from jobs.board.standings import Note

LINE, NOTE, PAGE = "jobs/records/hold.html", "jobs/board/note.html", "jobs/board/inner.html"


def written(board: Board, facts: dict[str, Any], *, may_act: bool) -> str:
    """The page inside its frame."""
    groups = [(group, _lines(group.rows, may_act)) for group in board.groups]
    notes = mark_safe("".join(_note(note) for note in board.notes))
    return render_to_string(PAGE, {**facts, "board": board, "groups": groups, "notes": notes, "money_visible": may_act})


def _lines(rows: Iterable[Row], may_act: bool) -> SafeString:
    return mark_safe("".join(_line(row, may_act) for row in rows))


def _line(row: Row, may_act: bool) -> str:
    facts = {"standing": row.standing, "days": row.days, "may_act": may_act}
    return _once(row.stood.pages, (may_act, row.days, row.shown), lambda: render_to_string(LINE, facts))


def _note(note: Note) -> str:
    return _once(note.pages, NOTE, lambda: render_to_string(NOTE, {"one": note.words}))


def _once(pages: dict[Any, str], key: object, write: Callable[[], str]) -> str:
    if key not in pages:
        pages[key] = write()
    return pages[key]
