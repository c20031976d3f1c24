"""What the customer steps on at each of the water's usual levels: deck, ramp, depth under the outer floats."""

from dataclasses import dataclass

from contractor.company import current
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from estimating.engine.slope import Slope, ramp_slope

from .speech import speak
from .worked import WorkedQuote

EASY, STEEP, FLAT = 6.0, 4.0, 15.0


@dataclass(frozen=True, slots=True)
class LevelColumn:
    """One water level: its name, deck height, ramp slope and depth under the outer floats, in words."""

    name: str
    level: str
    deck: str
    ramp: str
    under: str


def level_columns(worked: WorkedQuote) -> list[LevelColumn]:
    """The water's usual levels, low to high; empty when none is known."""
    design = worked.estimate.design
    return [_column(design, name, level_in) for name, level_in in worked.facts.level_rows]


def _column(design: Design, name: str, level_in: float) -> LevelColumn:
    return LevelColumn(
        name=name,
        level=speak(Amount(level_in, "ft_level")),
        deck=_deck_words(design),
        ramp=_ramp_words(design, level_in),
        under=_depth_words(design, level_in),
    )


def _deck_words(design: Design) -> str:
    """Above the water, to the whole inch or the whole centimetre; it floats, so every level has the same."""
    per_unit, unit = (2.54, "cm") if current.units() == "metric" else (1.0, "in")
    boards = sorted({round(level.freeboard_wet_in * per_unit) for level in design.level})
    least, most = boards[0], boards[-1]
    return f"{least}\u00a0{unit}" if least == most else f"{least} to {most}\u00a0{unit}"


def _ramp_words(design: Design, level_in: float) -> str:
    asked = design.spec.ramp
    if design.ramp is None or asked is None or asked.hinge_level_in is None:
        return ""
    freeboard = next(level.freeboard_wet_in for level in design.level if design.ramp.section in level.sections)
    slope = ramp_slope(
        level="", hinge_in=asked.hinge_level_in, deck_in=level_in + freeboard, length_in=design.ramp.length_in
    )
    return _steepness(slope)


def _steepness(slope: Slope) -> str:
    if slope.out_in is None:
        return "does not reach"
    if slope.one_in > FLAT:
        return "nearly flat"
    how = "easy" if slope.one_in >= EASY else "moderate" if slope.one_in >= STEEP else "steep"
    return f"{how}, 1\u00a0in\u00a0{slope.one_in:.1f}"


def _depth_words(design: Design, level_in: float) -> str:
    water, depths = design.spec.place.water, design.spec.place.depths
    if water.normal_in is None or not depths:
        return ""
    outer = max(depths, key=lambda point: point.distance_in)
    under = outer.depth_in + level_in - water.normal_in - max(level.draft_wet_in for level in design.level)
    return speak(Amount(under, "ft_level")) if under > 0 else "on the bottom"
