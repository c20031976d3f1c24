"""The dock over the whole range of its water: ramp and bottom at each level, and on a day somebody asks about."""

import datetime
from dataclasses import dataclass

from contractor.company.current import firm
from contractor.company.days import DayNotUnderstood, parse_day
from contractor.company.models import DateStyle
from estimating.engine.gangway import Access, accessible_route
from estimating.engine.parts import RangeRules
from estimating.engine.result import Design
from estimating.engine.slope import RampRange, Slope, ramp_range
from estimating.engine.water.grounding import SLIM_IN, Grounding, Sounding, grounding
from jobs.records.models.saying import day_said

MARKS = {"does not reach": "stop", "too steep": "stop", "steep": "check", "a little steep": "check"}


@dataclass(frozen=True, slots=True)
class AskedDay:
    """The day in the box, and what the water stands at then; a fault where it is no day."""

    typed: str = ""
    day: datetime.date | None = None
    level_in: float | None = None
    words: str = ""
    fault: str = ""


@dataclass(frozen=True, slots=True)
class LevelRow:
    """One level: the ramp at it, and the least water under the floats, with the verdict in a word."""

    name: str
    level_in: float
    slope: Slope | None
    verdict: str
    mark: str  # stop, check or empty
    under_in: float | None
    aground: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DepthRow:
    sounding: Sounding
    mark: str
    word: str


@dataclass(frozen=True, slots=True)
class Ranging:
    """What the page says of the range; every part is empty where its facts are unknown."""

    rows: tuple[LevelRow, ...]
    ramp: RampRange | None
    rules: RangeRules
    access: Access | None
    depths: tuple[DepthRow, ...]
    at_low: Grounding | None
    clearance_in: float
    clearance_by: str
    asked: AskedDay

    @property
    def on_day(self) -> LevelRow | None:
        return self.rows[-1] if self.asked.level_in is not None else None


def asked_day(typed: str, *, today: datetime.date) -> AskedDay:
    """The day in the box, the next to come where no year is typed. Its level is not known yet."""
    if not typed.strip():
        return AskedDay()
    named = firm()
    style = named.date_style if named else DateStyle.DAY_FIRST
    try:
        day = parse_day(typed, style=style, today=today)
        if day < today and str(day.year) not in typed:
            day = parse_day(f"{typed} {day.year + 1}", style=style, today=today)
    except DayNotUnderstood as refused:
        return AskedDay(typed, fault=str(refused))
    return AskedDay(typed, day)


def ranging(design: Design, rules: RangeRules, asked: AskedDay, clearance: tuple[float, str]) -> Ranging:
    """The dock at low, normal, high and storm water and on the day asked.

    `clearance` is the strictest rule for the water under the floats, with whose it is.
    """
    known = _levels(design)
    days = [(day_said(asked.day), asked.level_in)] if asked.level_in is not None else []
    ramp = ramp_range(design, rules, days=days)
    at_low = grounding(design, level="low", level_in=design.spec.place.water.low_in)
    least_in, by = clearance
    look = _Look(design, rules, ramp, least_in)
    return Ranging(
        rows=tuple(look.row(place, name, level_in) for place, (name, level_in) in enumerate([*known, *days])),
        ramp=ramp,
        rules=rules,
        access=_access(design, ramp),
        depths=tuple(_depth_row(sounding, least_in) for sounding in at_low.soundings) if at_low else (),
        at_low=at_low,
        clearance_in=least_in,
        clearance_by=by,
        asked=asked,
    )


@dataclass(frozen=True, slots=True)
class _Look:
    design: Design
    rules: RangeRules
    ramp: RampRange | None
    least_in: float

    def row(self, place: int, name: str, level_in: float) -> LevelRow:
        slope = self.ramp.slopes[place] if self.ramp else None
        verdict = self.ramp.verdict(slope, self.rules) if self.ramp and slope else ""
        floats = grounding(self.design, level=name, level_in=level_in)
        under = floats.least.under_in if floats and floats.least else None
        mark = MARKS.get(verdict, "")
        if mark != "stop" and under is not None and under < self.least_in - SLIM_IN:
            mark = "check"
        return LevelRow(name, level_in, slope, verdict, mark, under, floats.aground if floats else ())


def _levels(design: Design) -> list[tuple[str, float]]:
    water = design.spec.place.water
    named = (("low", water.low_in), ("normal", water.normal_in), ("high", water.high_in), ("storm", water.storm_in))
    return [(name, level) for name, level in named if level is not None]


def _depth_row(sounding: Sounding, least_in: float) -> DepthRow:
    under = sounding.under_in
    if under is None:
        return DepthRow(sounding, "", "no dock here")
    if under < -SLIM_IN:
        return DepthRow(sounding, "check", "on the bottom")
    return DepthRow(sounding, "check", "close") if under < least_in - SLIM_IN else DepthRow(sounding, "", "clear")


def _access(design: Design, ramp: RampRange | None) -> Access | None:
    asked = design.spec.ramp
    if ramp is None or asked is None or not asked.accessible:
        return None
    return accessible_route(ramp.slopes, length_in=ramp.length_in, slips=asked.slips)
