"""One stage's sheet as facts: what the paper prints and the tests read."""

import datetime
from dataclasses import dataclass
from typing import Any

from estimating.engine.drawing.board_layout import board_layout
from estimating.engine.drawing.dock_plan import dock_plan
from estimating.engine.drawing.float_map import float_map
from estimating.engine.drawing.frame_plan import frame_plan
from estimating.engine.drawing.joint_card import JointCard, joint_cards, pairs_of_mates
from estimating.engine.drawing.paper_scale import lying
from estimating.engine.result import Design
from estimating.engine.spec import Section

from . import tables
from .blanks import Blank, blanks_of
from .facts import STAGE_WORDS, STAGES, Work, crew_sheet, level, marks_said, number_of
from .steps import safety_of, steps_of, tools_of

CAUTION = "Check on site. Not a substitute for an engineer where one is required."
SPINE = tuple(stage for stage in STAGES if stage != "launch")
FRAME_CARDS = (
    "outer_corner",
    "inner_corner",
    "tee",
    "cross_end",
    "hinged_joint",
    "rigid_joint",
    "ramp_dock_end",
    "ramp_shore_end",
)
CARDS = {"framing": FRAME_CARDS, "anchoring": ("chain_retainer",)}


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with its heading, and the rows that belong to it."""

    title: str
    svg: str
    words: str = ""
    floats: tuple[tables.FloatRow, ...] = ()
    heads: tuple[str, str] = ("", "")

    @property
    def alike(self) -> str:
        """What all its floats are, in words; empty where they differ."""
        said = {(row.name, row.lies, row.lags) for row in self.floats}
        if len(said) != 1:
            return ""
        name, lies, lags = said.pop()
        return ", ".join(part for part in (f"All: {name}", lies, f"{lags} lags each" if lags else "") if part)

    @property
    def float_columns(self) -> tuple[tuple[tables.FloatRow, ...], ...]:
        return tuple(filter(None, _halves(self.floats)))


@dataclass(frozen=True, slots=True)
class Card:
    """A joint card as it is printed."""

    name: str
    marks: str
    svg: str
    parts: tuple[tables.GoodRow, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Mark:
    """One stage on the spine."""

    name: str
    state: str
    line: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on one stage's sheet."""

    number: str
    job_number: str
    stage: str
    name: str
    client: str
    place: str
    letter: str
    sold: bool
    planned: str
    printed_at: datetime.datetime
    spine: tuple[Mark, ...]
    safety: tuple[str, ...]
    before: tuple[str, ...]
    figures: tuple[Figure, ...]
    pieces: tuple[tables.PieceRow, ...]  # with their sticks, where they are cut
    marked: tuple[tables.PieceRow, ...]  # by their letters, where they are set out
    goods: tuple[tables.GoodRow, ...]
    cards: tuple[Card, ...]
    boards: tuple[tables.BoardRow, ...]
    anchors: tuple[tables.AnchorRow, ...]
    level_said: str
    weights: tuple[str, ...]
    steps: tuple[str, ...]
    tools: str
    mates: tuple[tuple[str, str], ...]
    blanks: tuple[Blank, ...]
    caution: str
    code: str = ""  # the square code of its page, as SVG

    @property
    def one_card(self) -> Card | None:
        """The card of a stage that has one only: the goods stand beside it."""
        return self.cards[0] if len(self.cards) == 1 else None

    @property
    def good_columns(self) -> tuple[tuple[tables.GoodRow, ...], ...]:
        """What to take, in two columns."""
        return _halves(self.goods)

    @property
    def rows(self) -> tuple[tuple[Blank, ...], ...]:
        """The blanks as they stand on paper: what to tell in words three beside each other, the rest one to a row."""
        found: list[tuple[Blank, ...]] = []
        for blank in self.blanks:
            told = blank.kind == "words" and blank.place == ""
            if told and found and found[-1][0].kind == "words" and found[-1][0].place == "":
                found[-1] = (*found[-1], blank)
            else:
                found.append((blank,))
        return tuple(found)

    @property
    def marked_columns(self) -> tuple[tuple[tables.PieceRow, ...], ...]:
        return _halves(self.marked)

    @property
    def step_columns(self) -> tuple[tuple[str, ...], ...]:
        """The steps, down the left column and then down the right."""
        return _halves(self.steps)


def _halves(rows: tuple[Any, ...]) -> tuple[tuple[Any, ...], ...]:
    half = -(-len(rows) // 2)
    return rows[:half], rows[half:]


def make_sheet(work: Work, *, printed_at: datetime.datetime, code: str = "") -> Sheet:
    """The sheet of one stage."""
    stage, design = work.stage, work.estimate.design
    return Sheet(
        number=number_of(work.job_number, stage),
        job_number=work.job_number,
        stage=stage,
        name=STAGE_WORDS[stage].capitalize(),
        client=work.client,
        place=work.place,
        letter=work.letter,
        sold=work.sold,
        planned=_planned(work),
        printed_at=printed_at,
        spine=tuple(_mark(work, one) for one in SPINE),
        safety=tuple(line for line in safety_of(work) if line),
        before=work.before,
        figures=tuple(FIGURES[stage](work)),
        pieces=tables.piece_rows(work) if stage == "framing" else (),
        marked=tables.piece_rows(work) if stage == "layout" else (),
        goods=tables.good_rows(work),
        cards=_cards(work),
        boards=tables.board_rows(work) if stage == "decking" else (),
        anchors=tables.anchor_table_rows(work) if stage == "anchoring" else (),
        level_said=_level(work) if stage in ("launch", "anchoring", "handover") else "",
        weights=tables.weights_said(work) if stage in ("flotation", "launch") else (),
        steps=steps_of(work),
        tools=tools_of(work),
        mates=pairs_of_mates(design) if stage in ("layout", "framing", "launch") else (),
        blanks=blanks_of(work),
        caution=CAUTION if stage in ("flotation", "launch", "anchoring", "handover") else "",
        code=code,
    )


def _planned(work: Work) -> str:
    day = work.day_words or "Day not planned"
    crew = ", ".join(person.short for person in work.people) if work.crew else ""
    return ". ".join(part for part in (day, crew, f"{work.hours:.2f} h") if part)


def _mark(work: Work, stage: str) -> Mark:
    now = stage == work.stage or (stage == "flotation" and work.stage == "launch")
    state = "now" if now else "done" if stage in work.done else ""
    line = "this sheet" if now else work.done.get(stage, "")
    return Mark(STAGE_WORDS[stage], state, line)


def _level(work: Work) -> str:
    if work.level_in is None:
        return "The level for the day is not known. Depths are at normal level."
    known = work.level_words or level(work.level_in)
    return f"Water that day: {known}{'' if known.endswith('.') else '.'}"


def _cards(work: Work) -> tuple[Card, ...]:
    wanted = CARDS.get(work.stage, ())
    if not wanted:
        return ()
    cards = joint_cards(work.estimate.design, work.catalogue, crew_sheet("joint"))
    return tuple(_card(work, card) for card in cards if card.place in wanted)


def _card(work: Work, card: JointCard) -> Card:
    parts = tables.together((work.short_name(code), f"{count:g}") for code, count in card.parts)
    words = "" if not card.bolts or card.high == 2 else "Bolts stand one to a place."
    many = len(card.marks)
    marks = card.marks[0] if many == 1 else f"{many} of them"
    if card.place in ("outer_corner", "chain_retainer"):
        marks = ", ".join(card.marks)
    return Card(card.name, marks, card.svg, parts, words)


def _frames(work: Work, *, plates: bool) -> list[Figure]:
    figures, design = [], work.estimate.design
    for number, marks in enumerate(alike_sections(design)):
        plan = frame_plan(design, marks[0], crew_sheet(f"frame-{number}", height_px=430), plates=plates)
        words = plan.read_words
        if len(marks) > 1:
            words += f" The marks are {marks[0]}’s: read the section’s own letter."
        figures.append(Figure(f"{marks_said(marks)}. {plan.scale_words.capitalize()}", plan.svg, words))
    return figures


def alike_sections(design: Design) -> list[list[str]]:
    """Sections whose frames are the same piece for piece and mark for mark, by the first of them."""
    groups: dict[tuple, list[str]] = {}
    for section in design.spec.sections:
        groups.setdefault(_shape(design, section), []).append(section.mark)
    return list(groups.values())


def _shape(design: Design, section: Section) -> tuple:
    pieces = sorted(
        (
            p.mark,
            *(round(v, 3) for v in lying(section, p.x0_in, p.y0_in)),
            *(round(v, 3) for v in lying(section, p.x1_in, p.y1_in)),
        )
        for p in design.pieces
        if p.section == section.mark
    )
    corners = sorted(
        (j.mark.removeprefix(section.mark), *(round(v, 3) for v in lying(section, j.x_in, j.y_in)))
        for j in design.joints
        if j.place == "outer_corner" and j.sections == (section.mark,)
    )
    return section.length_in, section.width_in, section.turned, tuple(pieces), tuple(corners)


def _float_maps(work: Work) -> list[Figure]:
    design = work.estimate.design
    return [
        Figure(
            f"Section {section.mark}",
            float_map(design, section.mark, crew_sheet(f"floats-{number}", height_px=380)),
            floats=tables.float_rows(work, section.mark),
            heads=tables.float_heads(work, section.mark),
        )
        for number, section in enumerate(design.spec.sections)
    ]


def _boards(work: Work) -> list[Figure]:
    design = work.estimate.design
    marks = [run.section for run in design.boards if run.section != "ramp"]
    return [
        Figure(f"Section {mark}", board_layout(design, mark, crew_sheet(f"boards-{n}", height_px=330)))
        for n, mark in enumerate(marks)
    ]


def _whole(work: Work) -> list[Figure]:
    anchors = work.stage in ("anchoring", "handover")
    svg = dock_plan(work.estimate.design, crew_sheet("dock", height_px=330), anchors=anchors)
    return [Figure("The dock from above", svg)]


FIGURES = {
    "layout": lambda work: _frames(work, plates=False),
    "framing": lambda work: _frames(work, plates=True),
    "flotation": _float_maps,
    "launch": _whole,
    "decking": _boards,
    "anchoring": _whole,
    "handover": _whole,
}
